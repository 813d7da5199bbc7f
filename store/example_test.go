package store_test

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"shothand/advisor/bar"
	"shothand/store"
)

// A shot is recorded, and read back as part of its coffee's history.
func Example() {
	dir, err := os.MkdirTemp("", "shothand")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer func() { _ = os.RemoveAll(dir) }()
	s, err := store.Open(filepath.Join(dir, "shothand.db"))
	if err != nil {
		fmt.Println(err)
		return
	}
	defer func() { _ = s.Close() }()

	at := time.Date(2026, 3, 2, 6, 33, 0, 0, time.UTC)
	var here bar.Bar
	var harbour bar.Coffee
	err = s.Update(func(tx *store.Tx) (err error) {
		if here, err = tx.AddBar("harbour-lane", bar.Bar{Name: "Harbour Lane"}); err != nil {
			return err
		}
		harbour = bar.Coffee{Name: "Harbour", Recipe: bar.House()}
		if err := tx.PutCoffee(here.ID, &harbour); err != nil {
			return err
		}
		_, err = tx.AddEntry(here.ID, bar.Entry{
			Message: "1", At: at, Day: bar.DayOf(at), Raw: "18.1 36.4 24 sour thin",
			What: bar.Shot{Coffee: harbour.ID, Time: bar.Value[bar.Seconds]{X: 24, From: bar.Said}},
		})
		return err
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	err = s.View(func(tx *store.Tx) error {
		h, err := tx.History(here.ID, harbour.ID, at)
		for _, e := range h.Entries {
			fmt.Println(h.Bar.Name, e.Day, e.Raw)
		}
		return err
	})
	if err != nil {
		fmt.Println(err)
	}
	// Output: Harbour Lane 2026-03-02 18.1 36.4 24 sour thin
}
