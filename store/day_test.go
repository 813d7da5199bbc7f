package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
)

// A deed of a day replaces the one of its name; other days and other bars have
// their own.
func TestDeeds(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	intended := Deed{Name: "card", Kind: "info", At: morning()}
	done := intended
	done.State, done.Post, done.Shown = Done, "p1", "d"
	passed := Deed{Name: "reminder", State: Passed, At: morning()}
	update(t, s, func(tx *Tx) error {
		for _, d := range []Deed{intended, passed, done} {
			if err := tx.PutDeed(c.bar, "2026-03-02", d); err != nil {
				return err
			}
		}
		return nil
	})
	view(t, s, func(tx *Tx) error {
		for day, want := range map[bar.Day][]Deed{"2026-03-02": {done, passed}, "2026-03-03": nil} {
			got, err := tx.Deeds(c.bar, day)
			if err != nil {
				return err
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s (-want +got):\n%s", day, diff)
			}
		}
		return nil
	})
}
