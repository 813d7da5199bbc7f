package parse

import (
	"errors"
	"math"
	"testing"

	"shothand/advisor/bar"
)

// check compares what an option's reader makes of values; a value that maps
// to a kind of mistake is refused.
func check[T comparable](t *testing.T, read func(string) (T, error), good map[string]T, refused map[string]MistakeKind) {
	t.Helper()
	for value, want := range good {
		if got, err := read(value); err != nil || got != want {
			t.Errorf("%q is read as %v, %v; want %v", value, got, err, want)
		}
	}
	for value, want := range refused {
		got, err := read(value)
		if m, ok := errors.AsType[Mistake](err); !ok || m.Kind != want || m.What != value || m.More == "" && m.Would == "" {
			t.Errorf("%q is read as %v, %#v; want a mistake of kind %v", value, got, err, want)
		}
	}
}

func TestGrams(t *testing.T) {
	// 28.349523125 g: NIST Handbook 44, appendix C.
	check(t, Grams, map[string]float64{"18": 18, "18.2": 18.2, "18,2 g": 18.2, "18g": 18, "18 grams": 18, "1 oz": 28.349523125},
		map[string]MistakeKind{"": BadOption, "x": BadOption, "18 s": BadOption, "18 36": BadOption, "0": Impossible, "400": Impossible, "NaN": Impossible})
}

func TestWindow(t *testing.T) {
	read := func(s string) ([2]float64, error) {
		low, high, err := Window(s)
		return [2]float64{low, high}, err
	}
	check(t, read, map[string][2]float64{
		"25-31": {25, 31}, "25–31 s": {25, 31}, "25 - 31": {25, 31}, "25 to 31 s": {25, 31}, "25,5-31": {25.5, 31}, "28": {25, 31}, "28 s": {25, 31},
		"28±3": {25, 31}, "28 ± 2 s": {26, 30}, "28 +- 3": {25, 31}, "20-40": {20, 40},
	}, map[string]MistakeKind{
		"": BadOption, "fast": BadOption, "1-2-3": BadOption, "31-25": Impossible, "0-400": Impossible, "NaN": Impossible, "25-25": Impossible, "28 g": BadOption,
	})
}

func TestDate(t *testing.T) {
	check(t, Date, map[string]bar.Day{
		"2026-03-01": "2026-03-01", "1 March 2026": "2026-03-01", "1 mar 2026": "2026-03-01", "March 1, 2026": "2026-03-01",
		"01.03.2026": "2026-03-01", "1.3.2026": "2026-03-01", "31/12/2025": "2025-12-31", "12/31/2025": "2025-12-31", "3/3/2026": "2026-03-03",
	}, map[string]MistakeKind{
		"": BadOption, "yesterday": BadOption, "2026-02-30": BadOption, "01/03/2026": BadOption, "3 1": BadOption,
	})
}

func TestDirectionOrderStepPosition(t *testing.T) {
	check(t, Direction, map[string]bar.Direction{"lower": bar.Lower, "Higher": bar.Higher, "up": bar.Higher},
		map[string]MistakeKind{"": BadOption, "left": BadOption})
	check(t, Order, map[string]bar.Order{"dose-yield-time": bar.DoseYieldTime, "Dose, time, yield": bar.DoseTimeYield, "dose–time–yield": bar.DoseTimeYield},
		map[string]MistakeKind{"": BadOption, "yield-dose-time": BadOption})
	check(t, Step, map[string]float64{"0.1": 0.1, "0,25": 0.25, "1": 1, "none": 0},
		map[string]MistakeKind{"": BadOption, "-1": BadOption, "1 g": BadOption, "1000": Impossible, "NaN": Impossible})
	check(t, Position, map[string]float64{"5.2": 5.2, "0": 0, "-3": -3, "40": 40},
		map[string]MistakeKind{"": BadOption, "2.3.5": BadOption, "inf": Impossible, "5+": BadOption})
	check(t, Secs, map[string]float64{"28": 28, "2,5 s": 2.5}, map[string]MistakeKind{"": BadOption, "5 g": BadOption, "0": Impossible, "NaN": Impossible})
}

func FuzzOptions(f *testing.F) {
	f.Add("25–31 s")
	f.Add("01/03/2026")
	f.Fuzz(func(t *testing.T, value string) {
		low, high, err := Window(value)
		if err == nil && !(1 <= low && low < high && high <= 180) {
			t.Errorf("%q is the window %v–%v", value, low, high)
		}
		for _, read := range []func(string) (float64, error){Grams, Secs, Step, Position} {
			x, err := read(value)
			if _, ok := errors.AsType[Mistake](err); math.IsNaN(x) || math.IsInf(x, 0) || err != nil && !ok {
				t.Errorf("%q is read as %v, %v", value, x, err)
			}
		}
		if _, err := Date(value); err != nil {
			if _, ok := errors.AsType[Mistake](err); !ok {
				t.Errorf("%q: %v", value, err)
			}
		}
	})
}

// Which way a dial gets finer is said in many ways.
func TestFiner(t *testing.T) {
	for text, want := range map[string]bar.Direction{
		"lower": bar.Lower, "lower is finer": bar.Lower, "the lowest is the finest": bar.Lower, "higher is coarser": bar.Lower,
		"higher": bar.Higher, "the lower the coarser": bar.Higher, "il più basso è più fine": bar.Lower, "più alto è più grosso": bar.Lower,
		"cuanto más bajo, más fino": bar.Lower, "o mais alto é mais fino": bar.Higher, "je niedriger desto feiner": bar.Lower,
		"le plus bas est le plus fin": bar.Lower, "plus haut c'est plus fin": bar.Higher,
		"finer": bar.Unknown, "lower please": bar.Unknown, "lower or higher": bar.Unknown, "": bar.Unknown,
	} {
		if got := Finer(text); got != want {
			t.Errorf("%q: %v, not %v", text, got, want)
		}
	}
}
