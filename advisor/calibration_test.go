package advisor_test

import (
	"math"
	"testing"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/flow"
	"shothand/advisor/simbar"
)

// The shots whose time is foretold; every bar goes on to the last one.
const (
	firstForetold = 2
	lastForetold  = 12
)

// A forecast is how the time of one shot lay in what was believed of it.
type forecast struct {
	pit   float64 // the probability that was given to a shorter time
	crps  float64 // of log time
	score float64 // the interval score of the 80 % interval, in log time
}

// A calibration is the forecasts of rows, by the number of the shot.
type calibration [lastForetold + 1][]forecast

// calibrate plays n bars of each row on to the last shot.
func calibrate(rows []simbar.Row, n int) *calibration {
	var all calibration
	for _, row := range rows {
		bars := make([]calibration, n)
		each(n, func(i int) {
			w := simbar.New(row, i)
			last := runs(w)
			p := &advised{}
			p.onShot = func(number int, e bar.Entry) {
				if p.runs == last && number >= firstForetold {
					bars[i][number] = append(bars[i][number], foretell(p.History, e))
				}
			}
			simbar.PlayOn(w, p, lastForetold)
		})
		for _, bar := range bars {
			for number := range bar {
				all[number] = append(all[number], bar[number]...)
			}
		}
	}
	return &all
}

// foretell scores what h says of the shot e.
func foretell(h bar.History, e bar.Entry) forecast {
	belief := advisor.Foretold(h, e)
	x := math.Log(float64(e.What.(bar.Shot).Time.X))
	return forecast{
		pit:   belief.Below(x),
		crps:  crps(belief, x),
		score: intervalScore(belief.Quantile(0.1), belief.Quantile(0.9), 0.2, x),
	}
}

// covered returns the share of f that lay in the central interval of a level.
func covered(f []forecast, level float64) float64 {
	return shareOf(f, func(f forecast) bool { return math.Abs(f.pit-0.5) <= level/2 })
}

// shareOf returns the share of list that is so.
func shareOf[T any](list []T, is func(T) bool) float64 {
	n := 0
	for _, x := range list {
		if is(x) {
			n++
		}
	}
	return float64(n) / float64(len(list))
}

// meanOf returns the mean of what list holds.
func meanOf[T any](list []T, of func(T) float64) float64 {
	sum := 0.0
	for _, x := range list {
		sum += of(x)
	}
	return sum / float64(len(list))
}

// crps returns the continuous ranked probability score of m where x came out:
// the integral of (F(y) - 1{y ≥ x})².
func crps(m flow.Mixture, x float64) float64 {
	low, high := x, x
	for _, n := range m {
		low, high = min(low, n.Mean-6*n.SD), max(high, n.Mean+6*n.SD)
	}
	below := integral(low, x, func(y float64) float64 { f := m.Below(y); return f * f })
	above := integral(x, high, func(y float64) float64 { f := 1 - m.Below(y); return f * f })
	return below + above
}

// integral returns the integral of f by Simpson's rule.
func integral(from, to float64, f func(float64) float64) float64 {
	const pieces = 60
	h := (to - from) / pieces
	sum := f(from) + f(to)
	for i := 1; i < pieces; i++ {
		sum += float64(2+2*(i%2)) * f(from+float64(i)*h)
	}
	return sum * h / 3
}

// intervalScore returns the score of a central interval of level 1-alpha where
// x came out: its width, and 2/alpha for each unit by which x missed it.
func intervalScore(low, high, alpha, x float64) float64 {
	return high - low + 2/alpha*(max(0, low-x)+max(0, x-high))
}

// The CRPS of a standard normal: at -3 as in the tests of the R package
// scoringRules (test-crps_norm.R); at 0 it is (√2-1)/√π; at 1 and 2 by the
// closed form z(2Φ(z)-1) + 2φ(z) - 1/√π. It scales with the sd.
func TestCRPS(t *testing.T) {
	for _, test := range []struct{ x, want float64 }{
		{-3, 2.43657473}, {0, 0.2336949773}, {1, 0.6024413576}, {2, 1.4527918217},
	} {
		if got := crps(flow.Mixture{{Weight: 1, SD: 1}}, test.x); math.Abs(got-test.want) > 2e-5 {
			t.Errorf("at %g: %.7f, want %.7f", test.x, got, test.want)
		}
		if got := crps(flow.Mixture{{Weight: 1, Mean: 7, SD: 5}}, 7+5*test.x); math.Abs(got-5*test.want) > 1e-4 {
			t.Errorf("sd 5, at %g: %.7f, want %.7f", test.x, got, 5*test.want)
		}
	}
}

// The interval score by the formula of Gneiting and Raftery 2007, §6.2, worked
// by hand.
func TestIntervalScore(t *testing.T) {
	for _, test := range []struct{ x, want float64 }{{28, 6}, {24, 26}, {32, 26}, {25, 6}} {
		if got := intervalScore(25, 31, 0.1, test.x); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("at %g: %g, want %g", test.x, got, test.want)
		}
	}
}
