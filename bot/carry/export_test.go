package carry

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/store"
)

// Where nobody said how a dial stood that has no numbers, the table says nothing.
func TestCountedDialIsNotExported(t *testing.T) {
	s, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	var out strings.Builder
	err = s.Update(func(tx *store.Tx) error {
		here, err := tx.AddBar("bar", bar.Bar{Name: "Harbour Lane"})
		if err != nil {
			return err
		}
		g := bar.Grinder{Name: "left"}
		if err := tx.PutGrinder(here.ID, &g); err != nil {
			return err
		}
		c := bar.Coffee{Name: "Tide", Grinder: g.ID}
		if err := tx.PutCoffee(here.ID, &c); err != nil {
			return err
		}
		at := time.Date(2026, 3, 2, 6, 20, 0, 0, time.UTC)
		for _, from := range []bar.Provenance{bar.Last, bar.Said} {
			shot := bar.Shot{Coffee: c.ID, Grinder: g.ID, Grind: bar.Value[bar.Dial]{From: from}, Dose: bar.Value[bar.Grams]{X: 18, From: bar.Said}}
			if _, err := tx.AddEntry(here.ID, bar.Entry{At: at, Day: bar.DayOf(at), What: shot}); err != nil {
				return err
			}
		}
		return Export(tx, here.ID, CSV, &out)
	})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != 3 || !strings.Contains(lines[1], ",left,,,,18") || strings.Contains(lines[1], "grind_dial") || !strings.Contains(lines[2], ",left,,0,,18") {
		t.Errorf("exported\n%s", out.String())
	}
}
