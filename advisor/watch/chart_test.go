package watch

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// limitOf returns how far from its target the average of many values with that sd
// lies, in so many of its own sds (NIST/SEMATECH e-Handbook, 6.3.2.4).
func limitOf(e EWMA, sd, width float64) float64 {
	return width * sd * math.Sqrt(e.Lambda/(2-e.Lambda))
}

// rows reads a table of numbers from testdata.
func rows(t *testing.T, file string) [][3]float64 {
	t.Helper()
	text, err := os.ReadFile("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	var all [][3]float64
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		var r [3]float64
		if n, err := fmt.Sscan(line, &r[0], &r[1], &r[2]); n < 2 {
			t.Fatalf("%s: %q: %v", file, line, err)
		}
		all = append(all, r)
	}
	return all
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4.
func TestEWMAOfNIST(t *testing.T) {
	e := EWMA{Lambda: 0.3, Mean: 50}
	for i, r := range rows(t, "nist_ewma.txt") {
		if e.Add(r[0]); math.Abs(e.Mean-r[1]) > 0.0051 {
			t.Errorf("value %d: %.4f, printed %.2f", i+1, e.Mean, r[1])
		}
	}
	limit := limitOf(e, 2.0539, 3)
	if math.Abs(50+limit-52.5884) > 1e-4 || math.Abs(50-limit-47.4115) > 1e-4 {
		t.Errorf("limits 50 ± %.5f, printed 52.5884 and 47.4115", limit)
	}
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3. The table was
// written down from memory; its columns agree with its data.
func TestCUSUMOfNIST(t *testing.T) {
	c := CUSUM{Slack: 0.3175, Height: 4.1959}
	first := 0
	for i, r := range rows(t, "nist_cusum.txt") {
		if c.Add(r[0]-325) != 0 && first == 0 {
			first = i + 1
		}
		if math.Abs(c.High-r[1]) > 0.0051 || math.Abs(c.Low-r[2]) > 0.0051 {
			t.Errorf("group %d: %.3f and %.3f, printed %.2f and %.2f", i+1, c.High, c.Low, r[1], r[2])
		}
	}
	if first != 14 {
		t.Errorf("first signal at group %d, want 14", first)
	}
}

// Montgomery and Runger, example 16-6: no signal.
func TestCUSUMOfAChemicalConcentration(t *testing.T) {
	c := CUSUM{Slack: 1, Height: 10}
	most := 0.0
	for _, x := range []float64{
		102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, 101.3, 98.7, 101.1, 98.4, 97.0, 96.7, 100.3, 101.4, 97.2, 101.0,
	} {
		if c.Add(x-99) != 0 {
			t.Error("a signal")
		}
		most = max(most, c.Low)
	}
	if math.Abs(c.High-1.0) > 1e-9 || math.Abs(most-3.2) > 1e-9 {
		t.Errorf("last high sum %.2f, largest low %.2f; want 1.0 and 3.2", c.High, most)
	}
}

// arl returns the mean run length until alarm is true, and its standard error.
func arl(runs int, start func() func(dice *rand.Rand) bool) (mean, se float64) {
	dice := rand.New(rand.NewPCG(1, 2))
	var sum, square float64
	for range runs {
		step, n := start(), 1.0
		for !step(dice) {
			n++
		}
		sum += n
		square += n * n
	}
	k := float64(runs)
	mean = sum / k
	return mean, math.Sqrt((square/k - mean*mean) / k)
}

// Published run lengths: Lucas and Crosier 1982, two-sided, slack 0.5, height
// 4; the two others computed by the method of Brook and Evans 1972.
func TestCUSUMRunLengths(t *testing.T) {
	for _, test := range []struct{ height, shift, want float64 }{
		{4, 0, 168},
		{4, 0.5, 26.6},
		{4, 1, 8.38},
		{4, 2, 3.34},
		{4, 3, 2.19},
		{5, 0, 465.44},
		{5.7574, 1, 11.89},
	} {
		got, se := arl(8000, func() func(*rand.Rand) bool {
			c := CUSUM{Slack: 0.5, Height: test.height}
			return func(dice *rand.Rand) bool { return c.Add(dice.NormFloat64()+test.shift) != 0 }
		})
		if math.Abs(got-test.want) > 3.5*se+0.005*test.want {
			t.Errorf("height %g, shift %g: %.2f ± %.2f, published %g", test.height, test.shift, got, se, test.want)
		}
	}
}

// Published run lengths: Lucas and Saccucci 1990, table 3.
func TestEWMARunLengths(t *testing.T) {
	for _, test := range []struct{ lambda, width, shift, want float64 }{
		{0.5, 3.071, 0, 500}, {0.5, 3.071, 1, 17.5}, {0.5, 3.071, 2, 3.63}, {0.03, 2.437, 1, 12.6},
	} {
		got, se := arl(8000, func() func(*rand.Rand) bool {
			e := EWMA{Lambda: test.lambda}
			limit := limitOf(e, 1, test.width)
			return func(dice *rand.Rand) bool {
				e.Add(dice.NormFloat64() + test.shift)
				return math.Abs(e.Mean) > limit
			}
		})
		if math.Abs(got-test.want) > 3.5*se+0.005*test.want {
			t.Errorf("lambda %g, shift %g: %.2f ± %.2f, published %g", test.lambda, test.shift, got, se, test.want)
		}
	}
}

// A mean that is learnt as the series goes on raises as few false alarms as one
// that is known (Lombard and Hawkins 2019, arXiv 1904.00340); one frozen after
// three shots raises many more.
func TestLearntMeanRaisesNoMoreAlarms(t *testing.T) {
	const noise, runs = 0.05, 2000
	begin := func(dice *rand.Rand) (m float64) {
		for range 3 {
			m += noise * dice.NormFloat64() / 3
		}
		return m
	}
	learnt, se := arl(runs, func() func(*rand.Rand) bool {
		var s Series
		n := 0
		return func(dice *rand.Rand) bool {
			if n++; n == 1 {
				s = Begin(begin(dice), noise*noise/3)
			}
			s.Add(n, noise*dice.NormFloat64(), noise*noise)
			_, moved := s.Moved()
			return moved
		}
	})
	// 1,000 at this height with all known (computed); clipping makes it longer.
	if learnt < 1000-4*se {
		t.Errorf("a false alarm every %.0f ± %.0f shots, want 1,000 or more", learnt, se)
	}
	frozen, _ := arl(runs, func() func(*rand.Rand) bool {
		c, mean, n := CUSUM{Slack: slack, Height: height}, 0.0, 0
		return func(dice *rand.Rand) bool {
			if n++; n == 1 {
				mean = begin(dice)
			}
			return c.Add(dice.NormFloat64()-mean/noise) != 0
		}
	})
	if frozen > learnt/3 {
		t.Errorf("frozen after three shots %.0f, learnt %.0f", frozen, learnt)
	}
}
