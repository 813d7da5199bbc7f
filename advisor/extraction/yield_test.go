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
		}
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
