package extraction

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// readingsOf returns what exact readings of a coffee of p would be.
func readingsOf(t testing.TB, p Params, sd float64, brews ...Brew) []Reading {
	t.Helper()
	var all []Reading
	for _, b := range brews {
		all = append(all, Reading{Brew: b, TDS: pour(t, p, b).Whole().TDS, SD: sd})
	}
	return all
}

var oneTwo = Brew{Dose: 18, Yield: 36, Time: 28}

// Readings that the model already gives change nothing.
func TestFitKeepsWhatFits(t *testing.T) {
	got, err := Fit(Default(), readingsOf(t, Default(), 0, oneTwo, oneTwo.slower(0.7)))
	if err != nil || got != Default() {
		t.Errorf("%+v, %v", got, err)
	}
}

// Many good readings at several times find the coffee; a single one moves most
// of the way and no further, and moves mostly the solubles.
func TestFitFindsTheCoffee(t *testing.T) {
	truth := Default().trimmed(trim{solubles: 0.12, rate: -0.5})
	times := []Brew{oneTwo.slower(0.4), oneTwo.slower(0.7), oneTwo, oneTwo.slower(1.6), {Dose: 18, Yield: 54, Time: 30}}
	many, err := Fit(Default(), readingsOf(t, truth, 0.01, times...))
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range [][2]float64{{many.Fast, truth.Fast}, {many.Slow, truth.Slow}, {many.SlowRate, truth.SlowRate}} {
		if !(math.Abs(math.Log(x[0]/x[1])) < 0.02) {
			t.Errorf("many readings find %+v, the coffee is %+v", many, truth)
		}
	}
	reading := readingsOf(t, truth, 0, oneTwo)
	one, err := Fit(Default(), reading)
	if err != nil {
		t.Fatal(err)
	}
	before := pour(t, Default(), oneTwo).Whole().TDS
	moved := (pour(t, one, oneTwo).Whole().TDS - before) / (reading[0].TDS - before)
	if !(0.8 < moved && moved < 1) {
		t.Errorf("one reading moves the cup by %.2f of what it misses", moved)
	}
}

// Whatever is read, the fit is finite, within four spreads, and nearer to it.
func TestFitImproves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var readings []Reading
		for range rapid.IntRange(1, 4).Draw(t, "readings") {
			readings = append(readings, Reading{Brew: anyBrew().Draw(t, "brew"), TDS: rapid.Float64Range(0.1, 40).Draw(t, "tds")})
		}
		p := Default()
		got, err := Fit(p, readings)
		if err != nil {
			t.Fatal(err)
		}
		moved := trim{solubles: math.Log(got.Fast / p.Fast), rate: math.Log(got.SlowRate / p.SlowRate)}
		if !(math.Abs(moved.solubles) <= 4*solublesSpread+1e-9 && math.Abs(moved.rate) <= 4*rateSpread+1e-9) {
			t.Fatalf("moved by %+v", moved)
		}
		before, _, err1 := p.slope(trim{}, readings)
		after, _, err2 := p.slope(moved, readings)
		if err1 != nil || err2 != nil || !(after <= before+1e-9) {
			t.Fatalf("loss %g before, %g after; %v, %v", before, after, err1, err2)
		}
	})
}

func TestFitRefuses(t *testing.T) {
	for _, readings := range [][]Reading{
		nil,
		{{Brew: oneTwo}},
		{{Brew: oneTwo, TDS: math.NaN()}},
		{{Brew: oneTwo, TDS: 9, SD: -1}},
		{{Brew: Brew{Dose: 18}, TDS: 9}},
	} {
		if _, err := Fit(Default(), readings); !errors.Is(err, ErrImplausible) {
			t.Errorf("%+v: %v", readings, err)
		}
	}
}
