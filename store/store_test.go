package store

import (
	"errors"
	"fmt"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	berrors "go.etcd.io/bbolt/errors"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// openTest opens a new file and checks it when the test ends.
func openTest(t testing.TB) *Store {
	t.Helper()
	return reopen(t, filepath.Join(t.TempDir(), "shothand.db"))
}

func reopen(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { closeChecked(t, s) })
	return s
}

// closeChecked checks and closes s, unless it is closed already.
func closeChecked(t testing.TB, s *Store) {
	t.Helper()
	err := s.Check()
	if errors.Is(err, berrors.ErrDatabaseNotOpen) {
		return
	}
	if err != nil {
		t.Errorf("check: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Errorf("close: %v", err)
	}
}

func update(t testing.TB, s *Store, change func(*Tx) error) {
	t.Helper()
	if err := s.Update(change); err != nil {
		t.Fatal(err)
	}
}

func view(t testing.TB, s *Store, read func(*Tx) error) {
	t.Helper()
	if err := s.View(read); err != nil {
		t.Fatal(err)
	}
}

// morning is half past six at Harbour Lane.
func morning() time.Time { return time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC) }

// A counter is a bar with two coffees on one grinder and one on another.
type counter struct {
	bar                 bar.ID
	harbour, tide, deca bar.CoffeeID
	left, right         bar.GrinderID
	mara                bar.PersonID
}

// harbourLane adds our invented bar to s.
func harbourLane(t testing.TB, s *Store) counter {
	t.Helper()
	var c counter
	update(t, s, func(tx *Tx) (err error) {
		c, err = addHarbourLane(tx)
		return err
	})
	return c
}

func addHarbourLane(tx *Tx) (counter, error) {
	here, err := tx.AddBar("harbour-lane", bar.Bar{Name: "Harbour Lane"})
	if err != nil {
		return counter{}, err
	}
	left := bar.Grinder{Name: "left", Step: 0.1, Finer: bar.Lower, Max: 10}
	right := bar.Grinder{Name: "right", Step: 1, Finer: bar.Higher, Max: 100, Worth: 1.3}
	if err := errors.Join(tx.PutGrinder(here.ID, &left), tx.PutGrinder(here.ID, &right)); err != nil {
		return counter{}, err
	}
	harbour := bar.Coffee{Name: "Harbour", Grinder: left.ID, Recipe: bar.House(), Roasted: "2026-02-20"}
	tide := bar.Coffee{Name: "Tide", Grinder: left.ID, Recipe: bar.House()}
	decaf := bar.Coffee{Name: "decaf", Grinder: right.ID, Recipe: bar.House(), Retired: true}
	if err := errors.Join(tx.PutCoffee(here.ID, &harbour), tx.PutCoffee(here.ID, &tide), tx.PutCoffee(here.ID, &decaf)); err != nil {
		return counter{}, err
	}
	mara, err := tx.PersonOf(here.ID, "1001", "mara")
	return counter{here.ID, harbour.ID, tide.ID, decaf.ID, left.ID, right.ID, mara.ID}, err
}

// shot is an ordinary shot of a coffee.
func shot(c bar.CoffeeID, g bar.GrinderID) bar.Shot {
	return bar.Shot{
		Coffee: c, Grinder: g,
		Grind: bar.Value[bar.Dial]{X: 5.2, From: bar.Said},
		Dose:  bar.Value[bar.Grams]{X: 18.1, From: bar.Said},
		Yield: bar.Value[bar.Grams]{X: 36.4, From: bar.Said},
		Time:  bar.Value[bar.Seconds]{X: 24, From: bar.Said, Rough: true},
		Marks: bar.Purged | bar.Single,
		Words: []bar.Word{{Term: "sour", Degree: 1}, {Term: "thin", Degree: 0.5}},
	}
}

func entry(message string, at time.Time, what bar.What) bar.Entry {
	return bar.Entry{Message: message, Person: 1, At: at, Day: bar.DayOf(at), Raw: message, What: what}
}

// add adds e and returns it as it is stored.
func add(t testing.TB, s *Store, here bar.ID, e bar.Entry) bar.Entry {
	t.Helper()
	update(t, s, func(tx *Tx) error {
		id, err := tx.AddEntry(here, e)
		if err == nil {
			e.ID = id
		}
		return err
	})
	return e
}

func history(t testing.TB, s *Store, here bar.ID, c bar.CoffeeID, now time.Time) []bar.Entry {
	t.Helper()
	var h bar.History
	view(t, s, func(tx *Tx) (err error) {
		h, err = tx.History(here, c, now)
		return err
	})
	return h.Entries
}

// What is written is there after a restart.
func TestRestart(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shothand.db")
	s := reopen(t, path)
	c := harbourLane(t, s)
	want := add(t, s, c.bar, entry("m1", morning(), shot(c.harbour, c.left)))
	closeChecked(t, s)
	s = reopen(t, path)
	view(t, s, func(tx *Tx) error {
		got, found, err := tx.EntryOf(c.bar, "m1")
		if diff := cmp.Diff(want, got); diff != "" || !found {
			t.Errorf("entry after restart (-want +got):\n%s", diff)
		}
		return err
	})
}

// A message is recorded once, whether it made an entry or was marked.
func TestMessageOnce(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	e := add(t, s, c.bar, entry("m1", morning(), shot(c.harbour, c.left)))
	update(t, s, func(tx *Tx) error { return tx.MarkSeen(c.bar, "m2", morning()) })
	for _, message := range []string{"m1", "m2"} {
		e.Message = message
		err := s.Update(func(tx *Tx) error { _, err := tx.AddEntry(c.bar, e); return err })
		if !errors.Is(err, ErrSeen) || errors.Is(err, file.ErrNotSaved) {
			t.Errorf("%s again: %v, want ErrSeen", message, err)
		}
	}
	if got := history(t, s, c.bar, c.harbour, morning()); len(got) != 1 {
		t.Errorf("%d entries, want 1", len(got))
	}
}

// Marks older than a week go when later ones come, and only then.
func TestSeenIsPruned(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	mark := func(message string, at time.Time) {
		update(t, s, func(tx *Tx) error {
			return errors.Join(tx.MarkSeen(c.bar, message, at), tx.TellOnce(c.bar, "of "+message, at))
		})
	}
	seen := func(message string) (ok bool) {
		view(t, s, func(tx *Tx) error {
			ok = tx.Seen(c.bar, message)
			if tx.ToldOnce(c.bar, "of "+message) != ok || tx.ToldOnce(c.bar, message) {
				t.Errorf("%s: seen %v, told once otherwise", message, ok)
			}
			return nil
		})
		return ok
	}
	mark("old", morning())
	mark("young", morning().Add(3*24*time.Hour))
	if !seen("old") {
		t.Error("forgotten after three days")
	}
	mark("new", morning().Add(8*24*time.Hour))
	if seen("old") || !seen("young") || !seen("new") {
		t.Error("after eight days the old one should be gone, and it alone")
	}
}

// A panic in a transaction is an error, and undoes what was done.
func TestPanicIsAnError(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	err := s.Update(func(tx *Tx) error {
		if _, err := tx.AddEntry(c.bar, entry("m1", morning(), shot(c.harbour, c.left))); err != nil {
			return err
		}
		panic("spilt")
	})
	if err == nil || errors.Is(err, file.ErrNotSaved) {
		t.Errorf("update: %v, want the panic", err)
	}
	if err := s.View(func(*Tx) error { panic("spilt") }); err == nil {
		t.Error("view: no error")
	}
	if got := history(t, s, c.bar, c.harbour, morning()); len(got) != 0 {
		t.Errorf("%d entries, want none", len(got))
	}
}

// A file that cannot grow is told apart from a change that was refused, and
// what was there before stays.
func TestNotSaved(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	add(t, s, c.bar, entry("m1", morning(), shot(c.harbour, c.left)))
	bolt(t, s).MaxSize = 64 << 10
	e := entry("m2", morning(), shot(c.harbour, c.left))
	e.Raw = string(make([]byte, 100<<10))
	err := s.Update(func(tx *Tx) error { _, err := tx.AddEntry(c.bar, e); return err })
	if !errors.Is(err, file.ErrNotSaved) {
		t.Errorf("update: %v, want ErrNotSaved", err)
	}
	bolt(t, s).MaxSize = 0
	if got := history(t, s, c.bar, c.harbour, morning()); len(got) != 1 {
		t.Errorf("%d entries, want the one before", len(got))
	}
	add(t, s, c.bar, e)
}

// After Close nothing is saved, and it is said.
func TestClosed(t *testing.T) {
	s := openTest(t)
	closeChecked(t, s)
	if err := s.Update(func(*Tx) error { return nil }); !errors.Is(err, file.ErrNotSaved) {
		t.Errorf("update: %v, want ErrNotSaved", err)
	}
}

// Bars that write at once all get what they wrote.
func TestConcurrentUpdates(t *testing.T) {
	const bars, shots = 8, 12
	s := openTest(t)
	var wg sync.WaitGroup
	for n := range bars {
		wg.Go(func() {
			var here bar.Bar
			var coffee bar.Coffee
			err := s.Update(func(tx *Tx) (err error) {
				coffee = bar.Coffee{Name: "house", Recipe: bar.House()}
				if here, err = tx.AddBar(fmt.Sprint("channel ", n), bar.Bar{}); err != nil {
					return err
				}
				return tx.PutCoffee(here.ID, &coffee)
			})
			if err != nil {
				t.Error(err)
				return
			}
			for i := range shots {
				e := entry(fmt.Sprint("m", i), morning().Add(time.Duration(i)*time.Minute), shot(coffee.ID, 0))
				if err := s.Update(func(tx *Tx) error { _, err := tx.AddEntry(here.ID, e); return err }); err != nil {
					t.Error(err)
				}
				if err := s.View(func(tx *Tx) error {
					h, err := tx.History(here.ID, coffee.ID, e.At)
					if len(h.Entries) != i+1 {
						t.Errorf("%d entries, want %d", len(h.Entries), i+1)
					}
					return err
				}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
}
