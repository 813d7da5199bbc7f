package parse

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"shothand/advisor/bar"
)

type position = bar.Value[bar.Dial]

func TestPlace(t *testing.T) {
	at := func(x bar.Dial) position { return position{X: x, From: bar.Said} }
	var (
		plainDial = bar.Grinder{Step: 0.1}
		twoParts  = bar.Grinder{Step: 0.2, Small: 5}
		lettered  = bar.Grinder{Step: 1.0 / 11, Small: 11, Letters: true}
		turns     = bar.Grinder{Step: 1, Wraps: 12}
		all       = bar.Grinder{Step: 0.1, Small: 10, Wraps: 8}
		unknown   = bar.Grinder{}
	)
	for _, test := range []struct {
		text string
		g    bar.Grinder
		last position
		want bar.Dial
	}{
		{"5.2", plainDial, position{}, 5.2},
		{"5,2", plainDial, position{}, 5.2},
		{"5+", plainDial, position{}, 5.05},
		{"5-6", plainDial, position{}, 5.5},
		{"between 5 and 6", plainDial, position{}, 5.5},
		{"2.3", twoParts, position{}, 2.6},
		{"2", twoParts, position{}, 2},
		{"2.3+", twoParts, position{}, 2.7},
		{"2.2-2.4", twoParts, position{}, 2.6},
		{"3G", lettered, position{}, 3.545455},
		{"3A", lettered, position{}, 3},
		{"13", turns, position{}, 13},
		{"1.1", turns, position{}, 13},
		{"2", turns, at(11), 14},
		{"11", turns, at(13), 11},
		{"1", turns, position{}, 1},
		{"2.3.5", all, position{}, 19.5},
		{"3.5", all, at(18), 19.5},
	} {
		if got, ok := Place(test.text, test.g, test.last); got != test.want || !ok {
			t.Errorf("%q on %+v after %+v stands at %v, %v; want %v", test.text, test.g, test.last, got, ok, test.want)
		}
	}
	for _, test := range []struct {
		text string
		g    bar.Grinder
	}{
		{"2.3.5", plainDial},
		{"2.3.5", twoParts},
		{"2.5", twoParts},
		{"3G", twoParts},
		{"3L", lettered},
		{"G", lettered},
		{"1.12", turns},
		{"2.9.5", all},
		{"5+", unknown},
		{"NaN", plainDial},
		{"", plainDial},
		{"5-", plainDial},
	} {
		if got, ok := Place(test.text, test.g, position{}); ok {
			t.Errorf("%q on %+v stands at %v; want it asked about", test.text, test.g, got)
		}
	}
}

// What is written stands where it was, on every kind of dial.
func TestWriteIsPlacedAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom([]bar.Grinder{
			{Step: 0.1, Plus: true},
			{Step: 1, Plus: true},
			{Step: 0.2, Small: 5},
			{Step: 1.0 / 11, Small: 11, Letters: true},
			{Step: 1, Wraps: 12},
			{Step: 0.1, Small: 10, Wraps: 8},
			{Step: 0.25, Wraps: 10},
			{Step: 0.125, Small: 8, Letters: true, Wraps: 6},
		}).Draw(t, "grinder")
		x := rapid.IntRange(0, 400).Draw(t, "half steps")
		d := bar.Dial(math.Round(float64(x)*g.Step/2*1e6) / 1e6)
		text := Write(g, d)
		if got, ok := Place(text, g, position{}); !ok || math.Abs(float64(got-d)) > 2e-6 {
			t.Fatalf("%v on %+v is written %q, which stands at %v, %v", d, g, text, got, ok)
		}
	})
}

// No text breaks it, and what it places is a number.
func FuzzPlace(f *testing.F) {
	for _, s := range []string{"5.2", "2.3.5", "5+", "5-6", "between 5 and 6", "3G", "", "+", "-", "a", "1e9", "99999999999"} {
		f.Add(s, 0.1, 5, 12.0, true)
	}
	f.Fuzz(func(t *testing.T, text string, step float64, small int, turn float64, letters bool) {
		if !(0 <= step && step <= 100 && 0 <= small && small <= 26 && 0 <= turn && turn <= 1000) {
			return
		}
		g := bar.Grinder{Step: step, Small: small, Wraps: turn, Letters: letters && small > 0}
		if d, ok := Place(text, g, position{X: 40, From: bar.Said}); ok && !(math.Abs(float64(d)) <= 1e8) {
			t.Errorf("%q on %+v stands at %v", text, g, d)
		}
	})
}
