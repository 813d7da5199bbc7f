package parse

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
)

func postVocab() Vocab {
	return Vocab{Recipe: bar.House(), Coffees: []Name[bar.CoffeeID]{{"Harbour", 1}, {"Heron", 2}, {"Tide", 3}}}
}

// What a device posts is read as JSON or as shorthand; words of taste, a dial
// and commands of a device count for nothing.
func TestPost(t *testing.T) {
	said := func(x float64) Number { return Number{X: x, Said: true} }
	for text, want := range map[string]Posted{
		`{"time_s": 27.4}`: {Shot: Shot{Time: said(27.4)}},
		"```json\n{\"time_s\": 27.4, \"coffee\": \"tide\"}\n```": {Shot: Shot{Time: said(27.4), Coffee: 3}, Coffee: "tide"},
		`{"time_s": 27, "dose_g": 18, "yield_g": 36.2, "first_drip_s": 6, "coffee": "har", "key": "7", "at": "2026-03-02T07:30:00+01:00"}`: {
			Shot: Shot{Time: said(27), Dose: said(18), Yield: said(36.2), Drip: said(6), Coffee: 1},
			At:   time.Date(2026, 3, 2, 7, 30, 0, 0, time.FixedZone("", 3600)), Key: "7", Coffee: "har",
		},
		`{"time_s": 27, "coffee": "h"}`:    {Shot: Shot{Time: said(27), Stranger: "h"}, Coffee: "h"},
		`{"time_s": 27, "coffee": "Quay"}`: {Shot: Shot{Time: said(27), Stranger: "Quay"}, Coffee: "Quay"},
		"18 36.2 27":                       {Shot: Shot{Dose: said(18), Yield: said(36.2), Time: said(27)}},
		"tide 18 36 27 sour grind 5":       {Shot: Shot{Coffee: 3, Dose: said(18), Yield: said(36), Time: said(27)}},
		"36 g in 27 s":                     {Shot: Shot{Yield: said(36), Time: said(27)}},
	} {
		got, ok, err := Post(text, postVocab())
		if err != nil || !ok {
			t.Errorf("%s: %v, %v", text, ok, err)
		}
		if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) })); diff != "" {
			t.Errorf("%s (-want +got):\n%s", text, diff)
		}
	}
	for _, text := range []string{"", "warming up", "/undo", "/setup device:x", "sour", "new bag", "18", "36 g", "<@17> 18 36", "https://example.org/18/36/27"} {
		if got, ok, err := Post(text, postVocab()); ok || err != nil {
			t.Errorf("%q was read as %+v, %v", text, got, err)
		}
	}
}

// Somebody calls a shot theirs in few words, with a taste or without.
func TestMine(t *testing.T) {
	for text, want := range map[string]string{
		"mine": "", "Mine!": "", "that's mine": "", "mine, sour": "sour", "mine - a bit thin": "a bit thin", "my shot: bitter": "bitter", "that was me.": "",
	} {
		if rest, ok := Mine(text); !ok || rest != want {
			t.Errorf("%q: %q, %v", text, rest, ok)
		}
	}
	for _, text := range []string{"", "mined", "mines", "not mine", "is it mine", "my shots", "min"} {
		if rest, ok := Mine(text); ok {
			t.Errorf("%q is taken for a claim, with %q", text, rest)
		}
	}
}

// Whatever a device sends, what is taken of it is a shot, and nothing more than
// numbers and a coffee.
func FuzzPost(f *testing.F) {
	for _, text := range []string{`{"time_s": 27.4}`, `{"time_s": 1e999, "at": ""}`, "18 36 27", "```{", `{"coffee": "\u0000", "time_s": 27}`, `{"TIME_S": 27}`, "{}"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, ok, err := Post(text, postVocab())
		if ok != (err == nil && p.Shot.Time.Said) {
			t.Fatalf("%q: %+v, %v, %v", text, p, ok, err)
		}
		if ok && (Check(p.Shot) != nil || p.Shot.Grind.Said || len(p.Shot.Words) > 0 || p.Shot.Marks != 0 || len(p.Key) > maxKey) {
			t.Errorf("%q is taken as %+v", text, p)
		}
	})
}
