package store

import (
	"fmt"
	"testing"
	"time"
)

// A shot on its way to the disk, one at a time.
func BenchmarkAddEntry(b *testing.B) {
	s := openTest(b)
	c := harbourLane(b, s)
	n := 0
	for b.Loop() {
		n++
		add(b, s, c.bar, entry(fmt.Sprint("m", n), morning().Add(time.Duration(n)*time.Second), shot(c.harbour, c.left)))
	}
}

// The 200 shots of a coffee to advise on, among 10,000 of its bar.
func BenchmarkHistory(b *testing.B) {
	s := openTest(b)
	c := harbourLane(b, s)
	update(b, s, func(tx *Tx) error {
		for n := range 10_000 {
			of := shot(c.deca, c.right)
			if n%50 == 0 {
				of = shot(c.harbour, c.left)
			}
			if _, err := tx.AddEntry(c.bar, entry(fmt.Sprint("m", n), morning().Add(time.Duration(n)*time.Minute), of)); err != nil {
				return err
			}
		}
		return nil
	})
	now := morning().Add(10_000 * time.Minute)
	for b.Loop() {
		if h := history(b, s, c.bar, c.harbour, now); len(h) != 200 {
			b.Fatalf("%d entries", len(h))
		}
	}
}

// Opening reads the whole file once; here one with 10,000 shots.
func BenchmarkOpen(b *testing.B) {
	path := b.TempDir() + "/shothand.db"
	s := reopen(b, path)
	c := harbourLane(b, s)
	update(b, s, func(tx *Tx) error {
		for n := range 10_000 {
			e := entry(fmt.Sprint("m", n), morning().Add(time.Duration(n)*time.Minute), shot(c.harbour, c.left))
			if _, err := tx.AddEntry(c.bar, e); err != nil {
				return err
			}
		}
		return nil
	})
	closeChecked(b, s)
	for b.Loop() {
		s, err := Open(path)
		if err != nil {
			b.Fatal(err)
		}
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
	}
}
