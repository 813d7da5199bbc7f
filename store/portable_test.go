package store

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor"
	"shothand/advisor/bar"
)

func exported(t testing.TB, s *Store, here bar.ID) []Line {
	t.Helper()
	var lines []Line
	view(t, s, func(tx *Tx) error {
		return tx.Export(here, func(l Line) error {
			lines = append(lines, l)
			return nil
		})
	})
	return lines
}

// busy is a bar with something of every kind.
func busy(t testing.TB, s *Store) counter {
	t.Helper()
	c := harbourLane(t, s)
	first := add(t, s, c.bar, entry("m1", morning().Add(time.Hour), shot(c.harbour, c.left)))
	words := bar.Words{Shot: first.ID, Words: []bar.Word{{Term: "bitter", Degree: 1}}}
	add(t, s, c.bar, entry("m2", morning(), words)) // by a clock that went back
	add(t, s, c.bar, entry("", morning(), bar.Dialled{Coffee: c.harbour, Shot: first.ID}))
	add(t, s, c.bar, entry("m3", morning(), bar.Told{Event: bar.NewBag, Coffee: c.harbour}))
	add(t, s, c.bar, entry("m4", morning(), bar.Setting{Coffee: bar.Coffee{ID: c.tide, Name: "Tide", Recipe: bar.House()}}))
	add(t, s, c.bar, entry("m5", morning(), bar.Held{}))
	posted := add(t, s, c.bar, entry("m8", morning(), shot(c.harbour, c.left)))
	joined := shot(c.harbour, c.left)
	joined.Posted = posted.ID // a later entry: it was typed first, and posted then
	first.What = joined
	gone := add(t, s, c.bar, entry("m6", morning(), shot(c.tide, c.left)))
	gone.Deleted = true
	update(t, s, func(tx *Tx) error {
		return errors.Join(
			tx.PutEntry(c.bar, gone),
			tx.PutEntry(c.bar, first),
			tx.PutAdvice(c.bar, Said{Entry: first.ID, Coffee: c.harbour, Grinder: c.left, At: morning(), Lever: bar.Grind, From: 5.2, To: 4.9, Unit: advisor.DialUnit, Sure: 0.5}),
			tx.PutReply(c.bar, Reply{Cause: "m1", Entry: first.ID, Kind: "advice", State: Sent, Post: "p1", At: morning()}),
			tx.PutReply(c.bar, Reply{Cause: "m3", Kind: "recorded", At: morning()}),
			tx.MarkSeen(c.bar, "m7", morning()),
			tx.TellOnce(c.bar, "call 1", morning()),
			tx.PutDeed(c.bar, "2026-03-02", Deed{Name: "card", State: Done, Post: "p2", At: morning()}),
		)
	})
	return c
}

// A bar carried to another file is the same there, and goes on counting.
func TestCarryBar(t *testing.T) {
	from, to := openTest(t), openTest(t)
	update(t, to, func(tx *Tx) error {
		_, err := tx.AddBar("another", bar.Bar{})
		return err
	})
	c := busy(t, from)
	lines := exported(t, from, c.bar)
	var here bar.ID
	update(t, to, func(tx *Tx) (err error) {
		here, err = tx.Import("", lines)
		return err
	})
	if diff := cmp.Diff(lines, exported(t, to, here)); diff != "" {
		t.Errorf("carried (-was +is):\n%s", diff)
	}
	if diff := cmp.Diff(history(t, from, c.bar, c.harbour, morning()), history(t, to, here, c.harbour, morning())); diff != "" {
		t.Errorf("history (-was +is):\n%s", diff)
	}
	one := add(t, from, c.bar, entry("new", morning(), shot(c.harbour, c.left)))
	other := add(t, to, here, entry("new", morning(), shot(c.harbour, c.left)))
	if one.ID != other.ID {
		t.Errorf("the next entry is %d, want %d", other.ID, one.ID)
	}
	if err := to.Update(func(tx *Tx) error { _, err := tx.Import("", lines); return err }); !errors.Is(err, ErrTwice) {
		t.Errorf("carried twice: %v", err)
	}
	update(t, to, func(tx *Tx) error { _, err := tx.Import("third", lines); return err })
}

// In an old export what was told once is a message seen, and an entry does not
// name the message it came with.
func TestCarryOldBar(t *testing.T) {
	from, to := openTest(t), openTest(t)
	c := busy(t, from)
	lines := exported(t, from, c.bar)
	for i := range lines {
		if lines[i].Kind == "once" {
			lines[i].Kind = "seen"
		}
	}
	told := `{"kind":"told","at":"2026-03-02T07:29:59.998Z","raw":"cleaned","person":1,"told":{"event":"cleaned","grinder":1}}`
	lines = append(lines, Line{Kind: "entry", ID: 99, Record: json.RawMessage(told)})
	update(t, to, func(tx *Tx) error {
		here, err := tx.Import("", lines)
		if err != nil {
			return err
		}
		e, err := tx.Entry(here, 99)
		if e.With != "m1" {
			t.Errorf("it came with %q", e.With)
		}
		if tx.Seen(here, "call 1") || !tx.ToldOnce(here, "call 1") {
			t.Error("what was told once is a message seen")
		}
		return err
	})
}

// Lines that do not hold together leave the file as it was.
func TestImportRefuses(t *testing.T) {
	from := openTest(t)
	good := exported(t, from, busy(t, from).bar)
	at := func(kind string) int { return slices.IndexFunc(good, func(l Line) bool { return l.Kind == kind }) }
	for name, spoil := range map[string]func([]Line) []Line{
		"nothing":    func([]Line) []Line { return nil },
		"no bar":     func(l []Line) []Line { return l[1:] },
		"no coffees": func(l []Line) []Line { return slices.DeleteFunc(l, func(l Line) bool { return l.Kind == "coffee" }) },
		"nothing posted": func(l []Line) []Line {
			return slices.DeleteFunc(l, func(l Line) bool { return strings.Contains(string(l.Record), `"message":"m8"`) })
		},
		"unknown kind":   func(l []Line) []Line { l[1].Kind = "recipe"; return l },
		"no id":          func(l []Line) []Line { l[1].ID = 0; return l },
		"twice":          func(l []Line) []Line { return append(l, l[at("entry")]) },
		"person twice":   func(l []Line) []Line { return append(l, l[at("person")]) },
		"no JSON":        func(l []Line) []Line { l[at("entry")].Record = json.RawMessage(`{"kind":`); return l },
		"unknown choice": func(l []Line) []Line { l[at("entry")].Record = json.RawMessage(`{"kind":"shout"}`); return l },
		"advice on nothing": func(l []Line) []Line {
			i := at("advice")
			l[i].Record = json.RawMessage(strings.Replace(string(l[i].Record), `"coffee":1`, `"coffee":9`, 1))
			return l
		},
	} {
		t.Run(name, func(t *testing.T) {
			to := openTest(t)
			err := to.Update(func(tx *Tx) error {
				_, err := tx.Import("", spoil(slices.Clone(good)))
				return err
			})
			if err == nil {
				t.Error("taken")
			}
			view(t, to, func(tx *Tx) error {
				if bars, err := tx.Bars(); err != nil || len(bars) > 0 {
					t.Errorf("left behind: %v, %v", bars, err)
				}
				return nil
			})
		})
	}
}

// Every bucket is carried, or follows from what is.
func TestEveryBucketIsCarried(t *testing.T) {
	var carried []string
	for _, p := range portables() {
		carried = append(carried, p.bucket)
	}
	follows := []string{
		bucketAccounts, bucketEntries, bucketMessages, bucketByCoffee, bucketByGrinder, bucketByShot,
		bucketAdviceByCoffee, bucketPending, bucketPosts, bucketSeenByTime, bucketOnceByTime,
	}
	for _, bucket := range barBuckets() {
		if !slices.Contains(carried, bucket) && !slices.Contains(follows, bucket) {
			t.Errorf("%s is not carried", bucket)
		}
	}
}

// No line, whatever it says, does harm.
func FuzzImport(f *testing.F) {
	from := openTest(f)
	here := busy(f, from).bar
	for _, l := range exported(f, from, here) {
		text, err := json.Marshal(l)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	good := exported(f, from, here)
	to := openTest(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		var l Line
		if json.Unmarshal(text, &l) != nil {
			return
		}
		errUndo := errors.New("undo")
		err := to.Update(func(tx *Tx) error {
			id, err := tx.Import("", append(slices.Clone(good), l))
			if err != nil {
				return err
			}
			return errors.Join(errUndo, tx.checkBar(id))
		})
		if err == nil || err.Error() != errUndo.Error() && errors.Is(err, errUndo) {
			t.Error(err)
		}
	})
}
