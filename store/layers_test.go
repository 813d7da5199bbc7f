package store

import (
	"path/filepath"
	"testing"
	"time"

	"shothand/advisor/bar"
)

// A tasting cup by cup and what was said of its cups are found again after a
// restart; what was deleted is not, and none of it is in what the advisor reads.
func TestLayers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shothand.db")
	s := reopen(t, path)
	c := harbourLane(t, s)
	at := func(minutes int) time.Time { return morning().Add(time.Duration(minutes) * time.Minute) }
	tasting := add(t, s, c.bar, entry("m1", at(0), bar.Layers{Coffee: c.harbour, Split: 1, Tasters: 2}))
	add(t, s, c.bar, entry("m2", at(1), bar.Layers{Coffee: c.tide, Split: 1}))
	said := bar.Sips{Layers: tasting.ID, Split: 1, Sips: []bar.Note{{Of: bar.Early, Words: []bar.Word{{Term: "sour", Degree: 1}}}}}
	add(t, s, c.bar, entry("m3", at(2), said))
	gone := add(t, s, c.bar, entry("m4", at(3), said))
	gone.Deleted = true
	update(t, s, func(tx *Tx) error { return tx.PutEntry(c.bar, gone) })
	closeChecked(t, s)

	s = reopen(t, path)
	view(t, s, func(tx *Tx) error {
		all, err := tx.LayersOf(c.bar, c.harbour)
		if err != nil {
			return err
		}
		sips, err := tx.SipsOf(c.bar, tasting.ID)
		if len(all) != 1 || all[0].ID != tasting.ID || len(sips) != 1 || sips[0].Message != "m3" {
			t.Errorf("%+v, %+v", all, sips)
		}
		return err
	})
	if h := history(t, s, c.bar, c.harbour, at(60)); len(h) != 0 {
		t.Errorf("the advisor reads %+v", h)
	}
	edited := tasting
	edited.What = shot(c.harbour, c.left)
	update(t, s, func(tx *Tx) error { return tx.PutEntry(c.bar, edited) })
	if h := history(t, s, c.bar, c.harbour, at(60)); len(h) != 1 {
		t.Errorf("of a tasting that became a shot the advisor reads %+v", h)
	}
	if err := s.Update(func(tx *Tx) error {
		_, err := tx.AddEntry(c.bar, entry("m5", at(4), bar.Sips{Layers: 99}))
		return err
	}); err == nil {
		t.Error("sips of no tasting were recorded")
	}
}
