package store

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
	"shothand/store/file"
)

var updateGolden = flag.Bool("update", false, "rewrite testdata/store")

// What the first version, the one before and the present one wrote.
const (
	version1 = "../testdata/store/v1.txt"
	version3 = "../testdata/store/v3.txt"
	version4 = "../testdata/store/v4.txt"
	version5 = "../testdata/store/v5.txt"
)

// dump writes all that a file holds: a line for each bucket and key, indented
// by depth.
func dump(w io.Writer, tx *bbolt.Tx) error {
	return tx.ForEach(func(name []byte, b *bbolt.Bucket) error { return dumpBucket(w, "", name, b) })
}

func dumpBucket(w io.Writer, indent string, name []byte, b *bbolt.Bucket) error {
	if _, err := fmt.Fprintf(w, "%s%s %d {\n", indent, strconv.QuoteToASCII(string(name)), b.Sequence()); err != nil {
		return err
	}
	err := b.ForEach(func(key, value []byte) error {
		if inner := b.Bucket(key); inner != nil {
			return dumpBucket(w, indent+"\t", key, inner)
		}
		quoted := strconv.QuoteToASCII(string(value))
		if strconv.CanBackquote(string(value)) {
			quoted = "`" + string(value) + "`"
		}
		_, err := fmt.Fprintf(w, "%s\t%s = %s\n", indent, strconv.QuoteToASCII(string(key)), quoted)
		return err
	})
	_, err2 := fmt.Fprintf(w, "%s}\n", indent)
	return errors.Join(err, err2)
}

// load puts what dump wrote into an empty file.
func load(tx *bbolt.Tx, text string) error {
	within := []interface {
		CreateBucket([]byte) (*bbolt.Bucket, error)
	}{tx}
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "}" {
			within = within[:len(within)-1]
			continue
		}
		quoted, err := strconv.QuotedPrefix(line)
		if err != nil {
			return fmt.Errorf("%s: %w", line, err)
		}
		key, err := strconv.Unquote(quoted)
		if err != nil {
			return err
		}
		rest := strings.TrimSpace(line[len(quoted):])
		if sequence, isBucket := strings.CutSuffix(rest, " {"); isBucket {
			b, err := within[len(within)-1].CreateBucket([]byte(key))
			if err != nil {
				return err
			}
			n, err := strconv.ParseUint(sequence, 10, 64)
			if err := errors.Join(err, b.SetSequence(n)); err != nil {
				return err
			}
			within = append(within, b)
			continue
		}
		value, err := strconv.Unquote(strings.TrimPrefix(rest, "= "))
		if err != nil {
			return fmt.Errorf("%s: %w", line, err)
		}
		if err := within[len(within)-1].(*bbolt.Bucket).Put([]byte(key), []byte(value)); err != nil {
			return err
		}
	}
	return nil
}

// fillSample writes one of everything.
func fillSample(tx *Tx) error {
	c, err := addHarbourLane(tx)
	if err != nil {
		return err
	}
	at := func(minute int) time.Time { return morning().Add(time.Duration(minute) * time.Minute) }
	words := []bar.Word{{Term: "sour", Degree: 1.5, Than: true}, {Term: "finish", Degree: 1, Not: true}}
	first := shot(c.harbour, c.left)
	first.TDS, first.Water, first.FirstDrip, first.Unread = 9.4, 93, 8, []string{"zingy"}
	scale := bar.Device{Name: "scale", Hook: "17", Secret: "ab12", Clock: bar.PumpStart, Lag: 1.5, Settles: 2, NoDose: true}
	if err := tx.PutDevice(c.bar, &scale); err != nil {
		return err
	}
	posted := shot(c.harbour, c.left)
	posted.Device, posted.Posted, posted.TimeSD = scale.ID, 1, 0.4
	deleted := entry("m3", at(2), shot(c.tide, c.left))
	deleted.Deleted = true
	for _, e := range []bar.Entry{
		entry("m1", at(0), first),
		entry("m2", at(1).In(time.FixedZone("", 3600)), bar.Words{Shot: 1, Words: words}),
		deleted,
		entry("m4", at(3), bar.Told{Event: bar.NewBag, Coffee: c.harbour}),
		entry("m5", at(4), bar.Told{Event: bar.Cleaned, Grinder: c.left}),
		entry("m6", at(5), bar.Dialled{Coffee: c.harbour, Shot: 1}),
		entry("m7", at(7), bar.Held{}),
		entry("", at(6), bar.Setting{
			Bar:    bar.Bar{ID: c.bar, Name: "Harbour", Order: bar.DoseTimeYield},
			Coffee: bar.Coffee{ID: c.tide, Name: "Tide"}, Grinder: bar.Grinder{ID: c.right, Name: "right"}, Added: true,
		}),
		entry("m8", at(8), posted),
		entry("m9", at(9), bar.Held{Device: scale.ID}),
	} {
		if _, err := tx.AddEntry(c.bar, e); err != nil {
			return err
		}
	}
	return errors.Join(
		tx.MarkSeen(c.bar, "press 1", at(1)),
		tx.TellOnce(c.bar, "call 1", at(1)),
		tx.PutAdvice(c.bar, Said{
			Entry: 1, Coffee: c.harbour, Grinder: c.left, Person: c.mara, At: at(0), Model: "1",
			Lever: bar.Grind, From: 5.2, To: 4.9, Unit: advisor.DialUnit, Purge: true,
			Expect: advisor.Expect{Time: 27.5, Low: 25, High: 30.1, Level: 0.8}, Sure: 0.62,
			Reasons: []why.Reason{why.UnderExtracted},
		}),
		tx.PutReply(c.bar, Reply{Cause: "m1", Entry: 1, Kind: "advice", State: Sent, Post: "p1", At: at(0)}),
		tx.PutReply(c.bar, Reply{Cause: "m2", Entry: 2, Kind: "recorded", At: at(1)}),
		tx.PutDeed(c.bar, "2026-03-02", Deed{Name: "card", State: Done, Kind: "reminder", Post: "p2", Shown: "d1", At: at(0)}),
		tx.PutDeed(c.bar, "2026-03-02", Deed{Name: "closing", At: at(600)}),
	)
}

// What this program writes is laid out as version 5 always was. When there is
// a version 6, this test moves on to its file, and v5.txt stays as it is.
func TestLayout(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shothand.db")
	s := reopen(t, path)
	update(t, s, fillSample)
	closeChecked(t, s)
	got := contents(t, path)
	if *updateGolden {
		if err := os.WriteFile(version5, []byte(got), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(version5)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("layout (-want +got):\n%s", diff)
	}
}

// oldFile makes a file of what an earlier version wrote.
func oldFile(t *testing.T, version string) string {
	t.Helper()
	text, err := os.ReadFile(version)
	if err != nil {
		t.Fatal(err)
	}
	return boltFile(t, nil, func(tx *bbolt.Tx) error { return load(tx, string(text)) })
}

// A file of an earlier version opens, is sound, and says what it said.
func TestOldVersionsOpen(t *testing.T) {
	for _, version := range []string{version1, version3} {
		t.Run(filepath.Base(version), func(t *testing.T) { checkOld(t, version) })
	}
}

func checkOld(t *testing.T, version string) {
	s := reopen(t, oldFile(t, version))
	view(t, s, func(tx *Tx) error {
		if list, err := tx.Devices(1); err != nil || len(list) > 0 {
			t.Errorf("devices: %v, %v", list, err)
		}
		return tx.check()
	})
	want := []string{"m1", "m2", "m4", "m5", "m6", ""} // without the deleted one
	got := history(t, s, 1, 1, morning())
	if diff := cmp.Diff(want, raws(got)); diff != "" {
		t.Errorf("history (-want +got):\n%s", diff)
	}
	first, ok := got[0].What.(bar.Shot)
	if !ok || first.Grind.X != 5.2 || first.Time.X != 24 || !first.Marks.Has(bar.Purged) || first.Words[0].Term != "sour" {
		t.Errorf("first shot: %+v", got[0])
	}
	c := counter{bar: 1, harbour: 1, left: 1}
	if e := add(t, s, c.bar, entry("m9", morning(), shot(c.harbour, c.left))); e.ID != 9 {
		t.Errorf("next entry is %d, want 9", e.ID)
	}
}

// Migrations run once each, in order, from the version of the file on; and
// one that fails leaves the file as it was.
func TestMigrations(t *testing.T) {
	path := oldFile(t, version1)
	var ran []int
	later := func(version int, err error) file.Migration {
		return file.Migration{Version: version, What: "a bucket more", Do: func(tx *bbolt.Tx) error {
			ran = append(ran, version)
			_, err2 := tx.CreateBucket(fmt.Append(nil, "more ", version))
			return errors.Join(err, err2)
		}}
	}
	openWith := func(more ...file.Migration) error {
		s, err := file.Format{Migrations: append(migrations(), more...), Check: Check}.Open(path)
		if err != nil {
			return err
		}
		return s.Close()
	}
	before := contents(t, path)
	if err := openWith(later(6, nil), later(7, errors.New("spilt"))); err == nil {
		t.Error("a failing migration: opened")
	}
	if after := contents(t, path); after != before {
		t.Error("a failing migration changed the file")
	}
	ran = nil
	for range 2 {
		if err := openWith(later(6, nil), later(7, nil)); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff([]int{6, 7}, ran); diff != "" {
		t.Errorf("migrations run (-want +got):\n%s", diff)
	}
	refused(t, path, file.ErrNewer)
}

// There is a file of every version there ever was. It opens, is sound after
// its upgrade, reads in every bar, and has the same records when it is opened
// again.
func TestEveryVersionOpens(t *testing.T) {
	for _, m := range migrations() {
		text, err := os.ReadFile(fmt.Sprintf("../testdata/store/v%d.txt", m.Version))
		if err != nil {
			t.Fatal(err)
		}
		path := boltFile(t, nil, func(tx *bbolt.Tx) error { return load(tx, string(text)) })
		var before string
		for n := range 2 {
			s := reopen(t, path)
			if err := s.Check(); err != nil {
				t.Errorf("version %d: %v", m.Version, err)
			}
			err := s.View(func(tx *Tx) error {
				bars, err := tx.Bars()
				if len(bars) == 0 {
					t.Errorf("version %d: no bars", m.Version)
				}
				for _, b := range bars {
					entries := 0
					if err := tx.EachEntry(b.ID, func(bar.Entry) error { entries++; return nil }); err != nil {
						return err
					}
					if entries == 0 {
						t.Errorf("version %d: bar %d has no entries", m.Version, b.ID)
					}
				}
				return err
			})
			if err != nil {
				t.Errorf("version %d: %v", m.Version, err)
			}
			if err := s.Close(); err != nil {
				t.Error(err)
			}
			if now := contents(t, path); n == 0 {
				before = now
			} else if now != before {
				t.Errorf("version %d: opening it again changed it", m.Version)
			}
		}
	}
}

// The list of migrations is a list of versions from 1 on.
func TestMigrationsAreInOrder(t *testing.T) {
	for n, m := range migrations() {
		if m.Version != n+1 || m.What == "" {
			t.Errorf("migration %d is %d, %q", n, m.Version, m.What)
		}
	}
}

// load is the inverse of dump, on which the tests above rest.
func TestDumpAndLoad(t *testing.T) {
	text, err := os.ReadFile(version1)
	if err != nil {
		t.Fatal(err)
	}
	if got := contents(t, oldFile(t, version1)); !bytes.Equal([]byte(got), text) {
		t.Errorf("dump of load (-want +got):\n%s", cmp.Diff(string(text), got))
	}
}

// Version 5 names the message of what came with another, and puts what was told
// once apart. Nothing else
// changes.
func TestCompanionsAreNamed(t *testing.T) {
	path := oldFile(t, version4)
	s, err := storeOf(file.Format{Migrations: migrations()[:4], Check: Check}.Open(path))
	if err != nil {
		t.Fatal(err)
	}
	at := func(minute, ms int) time.Time {
		return morning().Add(time.Duration(minute)*time.Minute + time.Duration(ms)*time.Millisecond)
	}
	told := func(e bar.Event, g bar.GrinderID) bar.Told { return bar.Told{Event: e, Grinder: g} }
	by := func(p bar.PersonID, at time.Time, raw string, what bar.What) bar.Entry {
		return bar.Entry{Person: p, At: at, Day: bar.DayOf(at), Raw: raw, What: what}
	}
	of := func(message string, e bar.Entry) bar.Entry { e.Message = message; return e }
	old := []bar.Entry{
		by(1, at(60, -2), "new burrs, 5.2 18 36 24", told(bar.NewBurrs, 1)),
		by(1, at(60, -1), "", told(bar.Rezeroed, 1)),
		of("n1", by(1, at(60, 0), "new burrs, 5.2 18 36 24", shot(1, 1))),
		by(1, at(61, -2), "re-zeroed, 18 36 24", told(bar.Rezeroed, 1)),
		of("n2", by(1, at(61, 0), "re-zeroed, 18 36 24", shot(1, 1))),
		by(1, at(62, -2), "new bag, 18 36 24", bar.Told{Event: bar.NewBag, Coffee: 1}), // of another's message at that instant it is not
		of("n3", by(2, at(62, 0), "18 36 24", shot(1, 1))),
		by(1, at(63, -3), "", told(bar.Rezeroed, 1)),
		by(1, at(63, -2), "sour, went to 4.9", told(bar.Moved, 1)),
		of("n4", by(1, at(63, 0), "sour, went to 4.9", bar.Words{Shot: 1})),
		by(1, at(64, -1), "", told(bar.Rezeroed, 1)), // an undo began the old numbers anew
		of("n5", by(1, at(65, 0), "cleaned", told(bar.Cleaned, 1))),
	}
	update(t, s, func(tx *Tx) error {
		for _, e := range old {
			if _, err := tx.AddEntry(1, e); err != nil {
				return err
			}
		}
		return errors.Join(tx.MarkSeen(1, "told n9 1abc", at(60, 0)), tx.MarkSeen(1, "call 1", at(60, 0)),
			tx.MarkSeen(1, "together 2026-03-02", at(60, 0)), tx.MarkSeen(1, "post 1 mistake 2 dose 2026-03-02", at(60, 0)), tx.MarkSeen(1, "post 1 9f86", at(60, 0)), tx.MarkSeen(1, "together we stand", at(60, 0)))
	})
	var before []bar.Entry
	read := func(tx *Tx) (list []bar.Entry) {
		if err := tx.EachEntry(1, func(e bar.Entry) error { list = append(list, e); return nil }); err != nil {
			t.Error(err)
		}
		return list
	}
	view(t, s, func(tx *Tx) error { before = read(tx); return nil })
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = reopen(t, path)
	want := slices.Clone(before)
	n := len(want) - len(old)
	for i, message := range []string{"n1", "n1", "", "n2", "", "", "", "n4", "n4", "", "", ""} {
		want[n+i].With = message
	}
	for _, i := range []int{1, 7} {
		w := want[n+i].What.(bar.Told)
		w.Shown = true
		want[n+i].What = w
	}
	view(t, s, func(tx *Tx) error {
		if diff := cmp.Diff(want, read(tx)); diff != "" {
			t.Errorf("entries (-want +got):\n%s", diff)
		}
		for _, key := range []string{"told n9 1abc", "call 1", "together 2026-03-02", "post 1 mistake 2 dose 2026-03-02"} {
			if tx.Seen(1, key) || !tx.ToldOnce(1, key) {
				t.Errorf("%s: seen %v, told once %v", key, tx.Seen(1, key), tx.ToldOnce(1, key))
			}
		}
		if !tx.Seen(1, "together we stand") || !tx.Seen(1, "press 1") || !tx.Seen(1, "post 1 9f86") {
			t.Error("a message is not seen any more")
		}
		return tx.check()
	})
}
