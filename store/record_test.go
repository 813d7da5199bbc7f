package store

import (
	"encoding/json"
	"fmt"
	"hash/crc32"
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// Every mark has a word of its own, and comes back from it.
func TestMarks(t *testing.T) {
	for _, m := range marks() {
		words, err := (m | bar.Choked).Names()
		got, err2 := bar.MarksOf(words)
		if err != nil || err2 != nil || got != m|bar.Choked {
			t.Errorf("marks %b: %v, %v, %v, %b", m, words, err, err2, got)
		}
	}
	if _, err := bar.Marks(1 << 15).Names(); err == nil {
		t.Error("a mark without a name has a word")
	}
	if _, err := bar.MarksOf([]string{"purged", "spilt"}); err == nil {
		t.Error("a word without a mark has one")
	}
}

func marks() []bar.Marks {
	var all []bar.Marks
	for bit := range 12 {
		all = append(all, 1<<bit)
	}
	return all
}

func anyValue[T ~float64](t *rapid.T, name string) bar.Value[T] {
	return bar.Value[T]{
		X:     T(rapid.Float64().Draw(t, name)),
		From:  rapid.SampledFrom([]bar.Provenance{bar.None, bar.Said, bar.Advised, bar.Last, bar.Assumed}).Draw(t, name+" from"),
		Rough: rapid.Bool().Draw(t, name+" rough"),
	}
}

func anyWord() *rapid.Generator[bar.Word] {
	return rapid.Custom(func(t *rapid.T) bar.Word {
		return bar.Word{
			Term:   rapid.String().Draw(t, "term"),
			Degree: rapid.SampledFrom([]float64{0.5, 1, 1.5, 2}).Draw(t, "degree"),
			Not:    rapid.Bool().Draw(t, "not"), Than: rapid.Bool().Draw(t, "than"),
		}
	})
}

func anyShot(t *rapid.T) bar.Shot {
	s := bar.Shot{
		Coffee: bar.CoffeeID(rapid.Uint64().Draw(t, "coffee")), Grinder: bar.GrinderID(rapid.Uint64().Draw(t, "grinder")),
		Grind: anyValue[bar.Dial](t, "grind"), Dose: anyValue[bar.Grams](t, "dose"),
		Yield: anyValue[bar.Grams](t, "yield"), Time: anyValue[bar.Seconds](t, "time"),
		TDS: bar.Percent(rapid.Float64().Draw(t, "tds")), Water: bar.Celsius(rapid.Float64().Draw(t, "water")),
		FirstDrip: bar.Seconds(rapid.Float64().Draw(t, "drip")),
		Words:     rapid.SliceOf(anyWord()).Draw(t, "words"), Unread: rapid.SliceOf(rapid.String()).Draw(t, "unread"),
		Device: bar.DeviceID(rapid.Uint64().Draw(t, "device")), Posted: bar.EntryID(rapid.Uint64().Draw(t, "posted")),
		TimeSD: bar.Seconds(rapid.Float64().Draw(t, "time sd")), Meant: bar.Grams(rapid.Float64().Draw(t, "meant")),
	}
	for _, m := range rapid.SliceOf(rapid.SampledFrom(marks())).Draw(t, "marks") {
		s.Marks |= m
	}
	return s
}

func anyWhat(t *rapid.T) bar.What {
	switch rapid.IntRange(0, 7).Draw(t, "kind") {
	case 5:
		return anyLayers(t)
	case 6:
		return anySips(t)
	case 0:
		return anyShot(t)
	case 1:
		return bar.Words{Shot: 1, Words: rapid.SliceOf(anyWord()).Draw(t, "words")}
	case 2:
		return bar.Told{
			Event:  rapid.SampledFrom([]bar.Event{bar.NewBag, bar.Cleaned, bar.Rezeroed, bar.NewBurrs, bar.Swapped, bar.OtherGroup, bar.Moved}).Draw(t, "event"),
			Coffee: bar.CoffeeID(rapid.Uint64().Draw(t, "coffee")), Grinder: bar.GrinderID(rapid.Uint64().Draw(t, "grinder")),
			Dial: anyValue[bar.Dial](t, "dial"), Turned: rapid.Float64().Draw(t, "turned"),
			Purged: rapid.Bool().Draw(t, "purged"),
		}
	case 4:
		return bar.Held{Device: bar.DeviceID(rapid.Uint64().Draw(t, "device"))}
	case 3:
		return bar.Dialled{Coffee: bar.CoffeeID(rapid.Uint64().Draw(t, "coffee")), Shot: 3}
	}
	return bar.Setting{
		Bar: bar.Bar{
			ID: 1, Name: rapid.String().Draw(t, "bar"), Zone: "UTC", Order: bar.DoseTimeYield,
			Opens: "07:00", Closes: "18:30", Remind: "06:30",
			Days: bar.Weekdays(rapid.IntRange(0, 127).Draw(t, "days")),
			Crew: bar.Levers(rapid.IntRange(0, 255).Draw(t, "crew")),
		},
		Coffee: bar.Coffee{
			ID: bar.CoffeeID(rapid.Uint64().Draw(t, "coffee")), Recipe: bar.House(), Retired: true,
			Roast: bar.Light, Aim: bar.Rich, For: bar.WithMilk, Milk: bar.House(),
			Basket: bar.Basket{Low: 17, High: 19.5}, PreInfusion: 4,
		},
		Grinder: bar.Grinder{
			ID: 2, Step: rapid.Float64().Draw(t, "step"), Finer: bar.Higher, Min: 1, Max: 10, Worth: 1.3,
			Doser: bar.Timed, Purge: 4, Small: 11, Letters: true, Wraps: 12, Plus: true,
		},
		Added: rapid.Bool().Draw(t, "added"),
		ToBar: bar.Bar{ID: 1, Name: "Quay", Words: bar.OwnWords{"gribbly": "sour", "snorky": ""}}, ToGrinder: bar.Grinder{ID: 2, Name: "left", Step: 0.2},
		Device: bar.Device{ID: 4, Name: "scale", Hook: "17", Clock: bar.DripStart, Lag: 1.5, Settles: 2, NoDose: true, Retired: true},
	}
}

func anyLayers(t *rapid.T) bar.Layers {
	return bar.Layers{
		Coffee: 1, Method: bar.PourOver, Dose: bar.Grams(rapid.Float64().Draw(t, "dose")), Yield: 280, Time: 180,
		Tasters: rapid.IntRange(0, 9).Draw(t, "tasters"), Blind: rapid.Bool().Draw(t, "blind"), Key: rapid.SampledFrom([]string{"", "BAC"}).Draw(t, "key"),
		Split: rapid.IntRange(1, 4).Draw(t, "split"), Shown: rapid.SliceOf(rapid.IntRange(1, 4)).Draw(t, "shown"),
		Struck: rapid.SliceOf(rapid.IntRange(1, 4)).Draw(t, "struck"), Stopped: rapid.Bool().Draw(t, "stopped"),
		Pair: bar.Pair{
			Old: 36, New: bar.Grams(rapid.Float64().Draw(t, "new")), Time: 25,
			First: rapid.Bool().Draw(t, "first"), Shown: rapid.Bool().Draw(t, "shown pair"), Moved: rapid.Bool().Draw(t, "moved"),
		},
	}
}

func anySips(t *rapid.T) bar.Sips {
	sip := rapid.Custom(func(t *rapid.T) bar.Note {
		return bar.Note{
			Of: bar.Layer(rapid.IntRange(0, 3).Draw(t, "cup")), Mass: rapid.Float64().Draw(t, "mass"), TDS: rapid.Float64().Draw(t, "tds"),
			Words: rapid.SliceOf(anyWord()).Draw(t, "words"), Unread: rapid.SliceOf(rapid.String()).Draw(t, "unread"),
			Scores: rapid.SliceOf(rapid.Custom(func(t *rapid.T) bar.Score {
				return bar.Score{Of: bar.Scale(rapid.IntRange(0, 4).Draw(t, "scale")), X: rapid.Float64().Draw(t, "score")}
			})).Draw(t, "scores"),
		}
	})
	return bar.Sips{
		Layers: 3, Split: rapid.IntRange(0, 4).Draw(t, "split"), After: rapid.Bool().Draw(t, "after"),
		Sips: rapid.SliceOf(sip).Draw(t, "sips"), Order: "BCA", Better: rapid.SampledFrom([]string{"", "X", "same"}).Draw(t, "better"),
	}
}

// An entry comes back from its record as it went in.
func TestEntryRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		offset := rapid.IntRange(-86399, 86399).Draw(t, "offset")
		at := time.Unix(0, rapid.Int64Range(-9.1e18, 9.1e18).Draw(t, "at")).In(time.FixedZone("", offset))
		want := bar.Entry{
			ID: 5, Message: rapid.String().Draw(t, "message"), Person: bar.PersonID(rapid.Uint64().Draw(t, "person")),
			At: at, Day: bar.DayOf(at), Raw: rapid.String().Draw(t, "raw"), Deleted: rapid.Bool().Draw(t, "deleted"),
			What: anyWhat(t),
		}
		key := entryKey(instant(at.UnixNano()), want.ID)
		r, err := newEntryRecord(want)
		if err != nil {
			t.Fatal(err)
		}
		value, err := file.Seal(key, r)
		if err != nil {
			t.Fatal(err)
		}
		got, err := readEntry(key, value)
		if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" || err != nil {
			t.Fatalf("round trip: %v (-want +got):\n%s", err, diff)
		}
		if _, o := got.At.Zone(); o != offset {
			t.Errorf("offset %d, want %d", o, offset)
		}
	})
}

func readEntry(key, value []byte) (bar.Entry, error) {
	var r entryRecord
	if err := file.Decode(key, value, &r); err != nil {
		return bar.Entry{}, err
	}
	_, id := readEntryKey(key)
	return r.entry(id, nil)
}

// What is no number is refused on its way in.
func TestNoNaN(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		s := shot(1, 1)
		s.Dose.X = bar.Grams(x)
		if _, err := file.Seal(nil, s); err == nil {
			t.Errorf("%g g was recorded", x)
		}
	}
}

// Any bytes are an error or an entry that can be recorded again as it is.
func FuzzRecord(f *testing.F) {
	key := entryKey(0, 1)
	for _, what := range []bar.What{
		shot(1, 1),
		bar.Words{Shot: 1},
		bar.Told{Event: bar.Cleaned},
		bar.Dialled{Coffee: 1},
		bar.Held{},
		bar.Layers{Coffee: 1, Split: 1},
		bar.Sips{Layers: 1, Split: 1, Sips: []bar.Note{{Of: bar.Late, Mass: 12}}},
		bar.Setting{Bar: bar.Bar{ID: 1}},
	} {
		r, err := newEntryRecord(entry("m", morning(), what))
		if err != nil {
			f.Fatal(err)
		}
		data, err := json.Marshal(r)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"kind":"shot","at":"2026-03-02T06:30:00Z","shot":{"coffee":1,"dose_g":{"x":1e999,"from":"said"}}}`))
	f.Add([]byte(`{"kind":"shot","at":"2026-03-02T06:30:00Z","shot":{"coffee":1,"time_s":{"x":24,"from":"guessed"}}}`))
	f.Add([]byte(`{"kind":"shot","at":"2026-03-02T06:30:00Z"}`))
	f.Add([]byte(`{"kind":"told","at":"0001-01-01T00:00:00Z","told":{"event":"new_bag"}}`))
	f.Add([]byte(`null`))
	castagnoli := crc32.MakeTable(crc32.Castagnoli)
	f.Fuzz(func(t *testing.T, data []byte) {
		if _, err := readEntry(key, data); err == nil {
			if _, ok := file.Unseal(key, data); !ok {
				t.Error("read without its sum")
			}
		}
		e, err := readEntry(key, fmt.Appendf(slices.Clip(data), " %08x", crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, data)))
		if err != nil {
			return
		}
		if s, ok := e.What.(bar.Shot); ok {
			for _, x := range []float64{float64(s.Grind.X), float64(s.Dose.X), float64(s.Yield.X), float64(s.Time.X), float64(s.TDS)} {
				if !(math.Abs(x) <= math.MaxFloat64) {
					t.Errorf("%g was let through", x)
				}
			}
		}
		r, err := newEntryRecord(e)
		if err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		value, err := file.Seal(key, r)
		if err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		again, err := readEntry(key, value)
		if diff := cmp.Diff(e, again, cmpopts.EquateEmpty()); diff != "" || err != nil {
			t.Errorf("recorded again: %v (-first +again):\n%s", err, diff)
		}
	})
}

// Each field that is kept has a name of its own in the file, so that it can be
// renamed in the program.
func TestEveryFieldIsNamed(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var look func(reflect.Type)
	look = func(of reflect.Type) {
		for k := of.Kind(); k == reflect.Pointer || k == reflect.Slice; k = of.Kind() {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct || seen[of] || of == reflect.TypeFor[time.Time]() {
			return
		}
		seen[of] = true
		for f := range of.Fields() {
			name := f.Tag.Get("json")
			if name == "" && !f.Anonymous {
				t.Errorf("%s.%s has no name in the file", of, f.Name)
			}
			if name != "-" {
				look(f.Type)
			}
		}
	}
	for _, record := range []any{
		barRecord{}, coffeeRecord{}, bar.Grinder{}, bar.Device{}, bar.Person{}, entryRecord{}, adviceRecord{}, replyRecord{}, dayRecord{},
	} {
		look(reflect.TypeOf(record))
	}
	if len(seen) < 20 {
		t.Errorf("looked at %d types only", len(seen))
	}
}
