package store

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
)

func raws(entries []bar.Entry) []string {
	var all []string
	for _, e := range entries {
		all = append(all, e.Raw)
	}
	return all
}

// History holds what bears on a coffee, oldest first, and nothing else.
func TestHistoryOfACoffee(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	at := func(minute int) time.Time { return morning().Add(time.Duration(minute) * time.Minute) }
	late := add(t, s, c.bar, entry("harbour late", at(9), shot(c.harbour, c.left)))
	early := add(t, s, c.bar, entry("harbour early", at(1), shot(c.harbour, c.left)))
	add(t, s, c.bar, entry("tide", at(2), shot(c.tide, c.left)))
	other := add(t, s, c.bar, entry("decaf", at(3), shot(c.deca, c.right)))
	gone := add(t, s, c.bar, entry("deleted", at(4), shot(c.harbour, c.left)))
	words := []bar.Word{{Term: "bitter", Degree: 1}}
	add(t, s, c.bar, entry("words on late", at(10), bar.Words{Shot: late.ID, Words: words}))
	add(t, s, c.bar, entry("words on deleted", at(5), bar.Words{Shot: gone.ID, Words: words}))
	add(t, s, c.bar, entry("words on decaf", at(6), bar.Words{Shot: other.ID, Words: words}))
	add(t, s, c.bar, entry("new bag of tide", at(7), bar.Told{Event: bar.NewBag, Coffee: c.tide}))
	add(t, s, c.bar, entry("left cleaned", at(8), bar.Told{Event: bar.Cleaned, Grinder: c.left}))
	add(t, s, c.bar, entry("right cleaned", at(8), bar.Told{Event: bar.Cleaned, Grinder: c.right}))
	add(t, s, c.bar, entry("bar set", at(0), bar.Setting{Bar: bar.Bar{ID: c.bar, Name: "Harbour Lane"}}))
	add(t, s, c.bar, entry("both", at(11), bar.Told{Event: bar.NewBag, Coffee: c.harbour, Grinder: c.left}))
	add(t, s, c.bar, entry("dialled", at(12), bar.Dialled{Coffee: c.harbour, Shot: early.ID}))
	gone.Deleted = true
	update(t, s, func(tx *Tx) error { return tx.PutEntry(c.bar, gone) })

	want := []string{
		"bar set", "harbour early", "tide", "new bag of tide", "left cleaned", "harbour late", "words on late",
		"both", "dialled",
	}
	if diff := cmp.Diff(want, raws(history(t, s, c.bar, c.harbour, at(20)))); diff != "" {
		t.Errorf("history (-want +got):\n%s", diff)
	}
	var recent []bar.Entry
	view(t, s, func(tx *Tx) (err error) {
		recent, err = tx.Recent(c.bar, at(9))
		return err
	})
	if diff := cmp.Diff([]string{"harbour late", "words on late", "both", "dialled"}, raws(recent)); diff != "" {
		t.Errorf("recent (-want +got):\n%s", diff)
	}
}

// A shot that was of another coffee takes its words along.
func TestEditMovesShotAndItsWords(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	e := add(t, s, c.bar, entry("shot", morning(), shot(c.harbour, c.left)))
	add(t, s, c.bar, entry("words", morning().Add(time.Minute), bar.Words{Shot: e.ID}))
	e.What = shot(c.deca, c.right)
	update(t, s, func(tx *Tx) error { return tx.PutEntry(c.bar, e) })
	if got := raws(history(t, s, c.bar, c.harbour, morning())); got != nil {
		t.Errorf("harbour: %v, want nothing", got)
	}
	want := []string{"shot", "words"}
	if diff := cmp.Diff(want, raws(history(t, s, c.bar, c.deca, morning()))); diff != "" {
		t.Errorf("decaf (-want +got):\n%s", diff)
	}
}

// Each coffee is followed back over 200 shots and 90 days, whichever is less.
func TestHistoryIsBounded(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	update(t, s, func(tx *Tx) error {
		for n := range 230 {
			e := entry(fmt.Sprint("h", n), morning().Add(time.Duration(n)*time.Hour), shot(c.harbour, c.left))
			if _, err := tx.AddEntry(c.bar, e); err != nil {
				return err
			}
		}
		for n := range 100 {
			e := entry(fmt.Sprint("d", n), morning().Add(time.Duration(n)*24*time.Hour), shot(c.deca, c.right))
			if _, err := tx.AddEntry(c.bar, e); err != nil {
				return err
			}
		}
		return nil
	})
	got := history(t, s, c.bar, c.harbour, morning().Add(230*time.Hour))
	if len(got) != 164 || got[0].Raw != "h66" || got[163].Raw != "h229" { // half past midnight, as a week begins
		t.Errorf("harbour: %d entries from %q, want 164 from h66", len(got), got[0].Raw)
	}
	got = history(t, s, c.bar, c.deca, morning().Add(99*24*time.Hour))
	if len(got) != 91 || got[0].Raw != "d9" {
		t.Errorf("decaf: %d entries from %q, want 91 from d9", len(got), got[0].Raw)
	}
}

// After a winter in which nothing was pulled, a coffee still has its last 40
// shots, and a new one what makes 40 on its grinder, with what happened to that.
func TestHistoryAfterALongPause(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	autumn, spring := morning(), morning().AddDate(0, 6, 0)
	var fresh bar.CoffeeID
	update(t, s, func(tx *Tx) error {
		for n := range 60 {
			at := autumn.Add(time.Duration(n) * time.Hour)
			for i, what := range []bar.Shot{shot(c.harbour, c.left), shot(c.tide, c.left), shot(c.deca, c.right)} {
				if _, err := tx.AddEntry(c.bar, entry(fmt.Sprint("htd"[i:i+1], n), at, what)); err != nil {
					return err
				}
			}
		}
		for n, at := range []int{1, 50} {
			e := entry(fmt.Sprint("cleaned ", n), autumn.Add(time.Duration(at)*time.Hour+time.Minute), bar.Told{Event: bar.Cleaned, Grinder: c.left})
			if _, err := tx.AddEntry(c.bar, e); err != nil {
				return err
			}
		}
		guest := bar.Coffee{Name: "Guest", Grinder: c.left, Recipe: bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}}
		if err := tx.PutCoffee(c.bar, &guest); err != nil {
			return err
		}
		fresh = guest.ID
		_, err := tx.AddEntry(c.bar, entry("g0", spring, shot(fresh, c.left)))
		return err
	})
	counted := func(of bar.CoffeeID) map[byte]int {
		counts := map[byte]int{}
		for _, raw := range raws(history(t, s, c.bar, of, spring)) {
			counts[raw[0]]++
		}
		return counts
	}
	for _, test := range []struct {
		name string
		of   bar.CoffeeID
		want map[byte]int
	}{
		{"its own", c.harbour, map[byte]int{'h': 40, 'g': 1, 'c': 1}},
		{"the grinder's", fresh, map[byte]int{'g': 1, 't': 20, 'h': 19, 'c': 1}},
		{"another grinder's", c.deca, map[byte]int{'d': 40}},
	} {
		if diff := cmp.Diff(test.want, counted(test.of)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// Before holds the last shot of each coffee, and what happened to its grinder
// since.
func TestBefore(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	at := func(hour int) time.Time { return morning().Add(time.Duration(hour) * time.Hour) }
	rezeroed := func(g bar.GrinderID) bar.Told { return bar.Told{Event: bar.Rezeroed, Grinder: g} }
	add(t, s, c.bar, entry("left, long ago", at(1), rezeroed(c.left)))
	add(t, s, c.bar, entry("harbour, early", at(2), shot(c.harbour, c.left)))
	last := add(t, s, c.bar, entry("harbour", at(3), shot(c.harbour, c.left)))
	add(t, s, c.bar, entry("words", at(3), bar.Words{Shot: last.ID}))
	add(t, s, c.bar, entry("decaf", at(4), shot(c.deca, c.right)))
	add(t, s, c.bar, entry("left", at(5), rezeroed(c.left)))
	add(t, s, c.bar, entry("tide", at(6), shot(c.tide, c.left)))
	add(t, s, c.bar, entry("right, later", at(7), rezeroed(c.right)))
	view(t, s, func(tx *Tx) error {
		got, err := tx.Before(c.bar, at(6))
		if diff := cmp.Diff([]string{"harbour", "decaf", "left"}, raws(got)); diff != "" {
			t.Errorf("before tide (-want +got):\n%s", diff)
		}
		return err
	})
}

// Beyond the bound the beginning stays where it is for many shots, so that what
// was replayed of them stands; and there are always enough.
func TestHistoryMovesInLeaps(t *testing.T) {
	for name, every := range map[string]time.Duration{"a few a day": 90 * time.Minute, "one a minute": time.Minute} {
		t.Run(name, func(t *testing.T) {
			s := openTest(t)
			c := harbourLane(t, s)
			starts := map[string]bool{}
			update(t, s, func(tx *Tx) error {
				for n := range 420 {
					at := morning().Add(time.Duration(n) * every)
					if _, err := tx.AddEntry(c.bar, entry(fmt.Sprint("h", n), at, shot(c.harbour, c.left))); err != nil {
						return err
					}
					h, err := tx.History(c.bar, c.harbour, at)
					if got := len(h.Entries); err != nil || n >= fewest && (got < fewest || got > maxShots) {
						return fmt.Errorf("after %d: %d entries, %w", n, got, err)
					}
					starts[h.Entries[0].Raw] = true
				}
				return nil
			})
			if len(starts) > 1+220/10 {
				t.Errorf("the beginning moved %d times in 220 shots", len(starts))
			}
		})
	}
}

// Times come back in the bar's zone, or by the clock they were posted by.
func TestZones(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	odd := time.FixedZone("", 3*3600+1234)
	add(t, s, c.bar, entry("m", morning().In(odd), shot(c.harbour, c.left)))
	for _, test := range []struct{ zone, want string }{
		{"", "2026-03-02 09:50:34 +032034"},
		{"Nowhere/AtAll", "2026-03-02 09:50:34 +032034"},
		{"UTC", "2026-03-02 06:30:00 +000000"},
		{"Europe/Berlin", "2026-03-02 07:30:00 +010000"},
	} {
		update(t, s, func(tx *Tx) error { return tx.PutBar(bar.Bar{ID: c.bar, Zone: test.zone}) })
		got := history(t, s, c.bar, c.harbour, morning())[0].At.Format("2006-01-02 15:04:05 -070000")
		if got != test.want {
			t.Errorf("zone %q: %s, want %s", test.zone, got, test.want)
		}
	}
}

// What an entry is about must be there, and it must be the entry recorded.
func TestRefusedEntries(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	e := add(t, s, c.bar, entry("m", morning(), shot(c.harbour, c.left)))
	for name, what := range map[string]bar.What{
		"no coffee":      shot(0, c.left),
		"unknown coffee": shot(99, c.left),
		"no grinder":     shot(c.harbour, 99),
		"no shot":        bar.Words{Shot: 99},
		"zero shot":      bar.Words{},
		"no event":       bar.Told{Event: 63},
		"NaN":            bar.Shot{Coffee: c.harbour, TDS: bar.Percent(nan())},
		"nothing":        nil,
	} {
		err := s.Update(func(tx *Tx) error { _, err := tx.AddEntry(c.bar, entry("n", morning(), what)); return err })
		if err == nil {
			t.Errorf("%s: added", name)
		}
	}
	for name, change := range map[string]func(*bar.Entry){
		"other id":      func(e *bar.Entry) { e.ID = 99 },
		"other instant": func(e *bar.Entry) { e.At = e.At.Add(1) },
		"other message": func(e *bar.Entry) { e.Message = "n" },
	} {
		changed := e
		change(&changed)
		if err := s.Update(func(tx *Tx) error { return tx.PutEntry(c.bar, changed) }); err == nil {
			t.Errorf("%s: put", name)
		}
	}
	if err := s.View(func(tx *Tx) error { _, err := tx.Bar(99); return err }); !errors.Is(err, ErrNotFound) {
		t.Errorf("bar 99: %v, want ErrNotFound", err)
	}
	if err := s.Update(func(tx *Tx) error {
		_, err := tx.AddEntry(c.bar, entry("n", time.Time{}, shot(c.harbour, 0)))
		return err
	}); !errors.Is(err, errTime) {
		t.Errorf("no time: %v, want errTime", err)
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
