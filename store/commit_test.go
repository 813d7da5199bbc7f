package store

import (
	"errors"
	"fmt"
	"sync"
	"testing"

	"shothand/advisor/bar"
)

// What comes while a commit is on its way shares the next. One that fails, or
// panics, is undone and told so, alone.
func TestCommitsAreShared(t *testing.T) {
	const many = 60
	s := openTest(t)
	c := harbourLane(t, s)
	commits := func() (id int) {
		view(t, s, func(tx *Tx) error { id = tx.tx.ID(); return nil })
		return id
	}
	before := commits()
	errBad := errors.New("bad")
	begun, wait := make(chan struct{}), make(chan struct{})
	var all sync.WaitGroup
	all.Go(func() { // holds up the others until all are there
		held := sync.OnceFunc(func() { close(begun); <-wait })
		if err := s.Update(func(*Tx) error { held(); return nil }); err != nil {
			t.Error(err)
		}
	})
	<-begun
	errs := make([]error, many)
	for n := range many {
		all.Go(func() {
			errs[n] = s.Update(func(tx *Tx) error {
				_, err := tx.AddEntry(c.bar, entry(fmt.Sprint("m", n), morning(), shot(c.harbour, c.left)))
				switch n % 20 {
				case 7:
					return errBad
				case 8:
					panic("worse")
				}
				return err
			})
		})
	}
	for waiting := 0; waiting < many; {
		s.queue.mu.Lock()
		waiting = len(s.queue.waiting)
		s.queue.mu.Unlock()
	}
	close(wait)
	all.Wait()
	for n, err := range errs {
		kept := false
		view(t, s, func(tx *Tx) error {
			kept = tx.Seen(c.bar, fmt.Sprint("m", n))
			return nil
		})
		switch bad := n%20 == 7 || n%20 == 8; {
		case n%20 == 7 && !errors.Is(err, errBad), n%20 == 8 && (err == nil || errors.Is(err, ErrNotSaved)), !bad && err != nil:
			t.Errorf("%d: %v", n, err)
		case kept == bad:
			t.Errorf("%d: kept: %v", n, kept)
		}
	}
	if n := commits() - before; n > 3 {
		t.Errorf("%d commits for %d updates", n, many+1)
	}
}

// Entries that were found once are found again beside others that were not, in
// whatever order they are asked for.
func TestWordsOfManyShots(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	var shots, with []bar.EntryID
	for n := range 9 {
		e := add(t, s, c.bar, entry(fmt.Sprint("s", n), morning(), shot(c.harbour, c.left)))
		shots = append(shots, e.ID)
		if n%4 == 1 {
			with = append(with, e.ID)
		}
	}
	for _, id := range with {
		for _, who := range []string{"a", "b"} {
			add(t, s, c.bar, entry(fmt.Sprint(who, id), morning(), bar.Words{Shot: id}))
		}
	}
	for _, asked := range [][]bar.EntryID{shots, {shots[8], shots[5], shots[1]}, with, {shots[0]}, nil} {
		want := 0
		for _, id := range asked {
			for _, w := range with {
				if id == w {
					want += 2
				}
			}
		}
		view(t, s, func(tx *Tx) error {
			keys, err := tx.wordsKeys(c.bar, asked, kindWords)
			if len(keys) != want {
				t.Errorf("of %v: %d words, want %d", asked, len(keys), want)
			}
			return err
		})
	}
}
