package extraction

import (
	"errors"
	"math"
	"testing"
)

func TestYield(t *testing.T) {
	for _, test := range []struct {
		tds, beverage, dose, want, within float64
	}{
		// Arithmetic.
		{9.75, 40, 20, 19.50, 1e-9},
		{8.18, 50, 20, 20.45, 1e-9},
		{11.86, 30, 20, 17.79, 1e-9},
		{14.79, 20, 20, 14.79, 1e-9},
		// Schmieder 2023, Foods 12:2871, table S3, exp. 7, mean of six shots.
		{14.62, 20, 20, 14.62, 0.01},
		{9.69, 40, 20, 19.38, 0.01},
		{6.98, 60, 20, 20.94, 0.01},
		// Egidi 2024, Chaos Solitons Fractals 188:115625, table 2: 40 g nominal, so
		// that the printed yield is only near. All rows have EY/TDS from 2.007 to
		// 2.073, which at 10.4 % is 20.87 to 21.56.
		{10.4, 40, 20, 20.87, 0.8},
		{10.4, 40, 20, 21.56, 0.8},
	} {
		got, err := Yield(test.tds, test.beverage, test.dose)
		if err != nil || !(math.Abs(got-test.want) <= test.within) {
			t.Errorf("Yield(%g, %g, %g) = %g, %v; want %g", test.tds, test.beverage, test.dose, got, err, test.want)
		}
	}
}

func TestYieldRefuses(t *testing.T) {
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		for i := range 3 {
			x := [3]float64{9.75, 40, 20}
			x[i] = bad
			if got, err := Yield(x[0], x[1], x[2]); !errors.Is(err, ErrImplausible) || got != 0 {
				t.Errorf("Yield%v = %g, %v", x, got, err)
			}
			if got, err := DripYield(x[0], 10*x[1], x[2]); !errors.Is(err, ErrImplausible) || got != 0 {
				t.Errorf("DripYield%v = %g, %v", x, got, err)
			}
		}
	}
	if _, err := DripYield(1.3, 40, 20); !errors.Is(err, ErrImplausible) {
		t.Errorf("40 g of water on 20 g: %v, want an error: the grounds keep it all", err)
	}
}

// Drip, water in: TDS/(1-TDS)·(R-2.1), Guinard 2023. 1.35 % at 16.67 g/g derived
// by hand: 0.0135/0.9865·14.5667 = 19.93 %.
func TestDripYield(t *testing.T) {
	got, err := DripYield(1.35, 300, 18)
	if err != nil || !(math.Abs(got-19.934) < 0.001) {
		t.Errorf("DripYield = %g, %v; want 19.934", got, err)
	}
}

// An immersion's formula, water in, is another: E = TDS/(1-TDS)·R, which at R 15
// and 1.4137 % TDS is 21.51 % (Liang, Chan, Ristenpart 2021, Sci Rep 11:6904,
// eq. 17 and their K and Emax). Yield takes the beverage, and must not give it.
func TestYieldTakesTheBeverage(t *testing.T) {
	const tds, ratio = 1.4137, 15
	immersion := 100 * (tds / 100) / (1 - tds/100) * ratio
	got, err := Yield(tds, ratio*20, 20)
	if err != nil || !(math.Abs(immersion-21.51) < 0.005) || !(math.Abs(got-immersion) > 0.25) {
		t.Errorf("Yield = %g, %v; the immersion's formula gives %g", got, err, immersion)
	}
}

// Errors of 0.1 % TDS, 0.5 g and 0.2 g at 20 g to 40 g and 9.75 % are 0.20, 0.24
// and 0.20 points, together 0.37: arithmetic.
func TestMeasuredYield(t *testing.T) {
	for _, test := range []struct{ tds, beverage, dose, want float64 }{
		{0.1, 0, 0, 0.20}, {0, 0.5, 0, 0.244}, {0, 0, 0.2, 0.195}, {0.1, 0.5, 0.2, 0.37},
	} {
		got, err := MeasuredYield(Measured{9.75, test.tds}, Measured{40, test.beverage}, Measured{20, test.dose})
		if err != nil || got.X != 19.5 || !(math.Abs(got.SD-test.want) < 0.005) {
			t.Errorf("%+v: %+v, %v", test, got, err)
		}
	}
	for _, sd := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := MeasuredYield(Measured{9.75, sd}, Measured{40, 0}, Measured{20, 0}); !errors.Is(err, ErrImplausible) {
			t.Errorf("a deviation of %g is let through", sd)
		}
	}
}
