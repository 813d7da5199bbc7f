package flow

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// plain is a shot at a grind without old grounds, at the reference.
func plain(grind, seconds float64) Shot {
	var e Effective
	for i := range e {
		e[i] = grind
	}
	return Shot{Grind: e, LogTime: math.Log(seconds)}
}

func seconds(f *Filter, grind float64) float64 { return math.Exp(f.Steady(0, 0).Mean(grind)) }

// Shots at two settings teach what a step is worth.
func TestLearnsTheStep(t *testing.T) {
	f := New(Unknown(28), nil)
	for _, s := range []Shot{plain(0, 20), plain(4, 28), plain(4, 28.5), plain(0, 20.3)} {
		f.Observe(s)
		f.Wait(0)
	}
	want := math.Log(28.2/20.15) / 4
	if got := f.Slopes().Mean(); math.Abs(got/want-1) > 0.15 {
		t.Errorf("a step is worth %.4f, want about %.4f", got, want)
	}
	if got := seconds(f, 2); math.Abs(got-23.8) > 1 {
		t.Errorf("half way: %.2f s, want about 23.8", got)
	}
}

// A suspicious shot is judged again by those that come after it.
func TestOutlierIsJudgedAgain(t *testing.T) {
	f := New(Unknown(28), nil)
	f.Observe(plain(0, 17)) // the first shot: nobody can know that it channelled
	after := seconds(f, 0)
	for range 3 {
		f.Observe(plain(0, 27))
	}
	if got := seconds(f, 0); !(math.Abs(got-27) < 0.8) || !(after < 20) {
		t.Errorf("first %.2f s, then %.2f s, want under 20 and about 27", after, got)
	}
}

// One shot far from the others is no witness; two alike say that the bar has
// changed, and the next is expected where they were.
func TestTwoAlikeAreAChange(t *testing.T) {
	f := New(Unknown(28), nil)
	for range 5 {
		f.Observe(plain(0, 28))
		f.Wait(0)
	}
	f.Observe(plain(0, 18))
	f.Wait(0)
	once := seconds(f, 0)
	f.Observe(plain(0, 18))
	if twice := seconds(f, 0); !(once > 25) || !(twice < 20.5) {
		t.Errorf("%.1f s expected after one shot of 18 s, %.1f after two, want 28 and 18", once, twice)
	}
}

// A shot whose bed is known to have channelled leaves what was learnt of the
// setting where it was, even as the second of its kind.
func TestChannelledTeachesLittle(t *testing.T) {
	after := func(odd float64) float64 {
		f := New(Unknown(28), nil)
		for range 4 {
			f.Observe(plain(0, 37))
			f.Wait(0)
		}
		for range 3 {
			s := plain(0, 27)
			s.Odd = odd
			f.Observe(s)
			f.Wait(0)
		}
		return seconds(f, 0)
	}
	if told, untold := after(0.85), after(0); !(told > 34) || !(untold < 31) {
		t.Errorf("after three channelled shots %.1f s are expected, %.1f if nobody tells, want 37 and 27", told, untold)
	}
}

// A choke moves the belief beyond its bound, and not to any one point there.
func TestChokeIsABound(t *testing.T) {
	f := New(Unknown(28), nil)
	choke := plain(0, 60)
	choke.Beyond = true
	f.Observe(choke)
	steady := f.Steady(0, 0)
	if p := 1 - steady.Below(0, math.Log(55)); p < 0.8 {
		t.Errorf("P(above 55 s) after a choke = %.2f, want most of it", p)
	}
	if p := 1 - steady.Below(0, math.Log(90)); p < 0.05 || p > 0.7 {
		t.Errorf("P(above 90 s) = %.2f: a bound is no point", p)
	}
}

// The moments of a truncated normal: E and Var of z given z > 1 are
// 1.525135 and 0.199094 (from the Mills ratio of the standard normal at 1,
// φ(1)/Φ(-1) = 0.2419707/0.1586553, both from memory).
func TestBeyondKeepsTheMoments(t *testing.T) {
	g := gauss{p: [6]float64{0: 1}}
	logP := g.beyond([3]float64{1, 0, 0}, 1, 0)
	near(t, "mean", g.m[0], 0.2419707/0.1586553, 1e-5)
	near(t, "variance", g.p[0], 1-1.525135*(1.525135-1), 1e-5)
	near(t, "log probability", logP, math.Log(0.1586553), 1e-6)
}

// Old grounds: after a change without a purge the next dose lies between the
// settings; after a purge it is nearly where it was set.
func TestChute(t *testing.T) {
	_, c := OldGrounds{}.Grind(0, AllKept())
	mixed, _ := c.Grind(10, AllKept())
	purged, _ := c.Grind(10, PurgedBy(5, 18))
	for i := range mixed {
		share := retentionAt(i)
		if math.Abs(mixed[i]-10*(1-share)) > 1e-12 {
			t.Errorf("retention %g: effective %g, want %g", share, mixed[i], 10*(1-share))
		}
		if !(purged[i] >= mixed[i]) {
			t.Errorf("retention %g: a purge leaves %g, no purge %g", share, purged[i], mixed[i])
		}
	}
}

// What one coffee taught of a grinder sharpens the slope of the next.
func TestCarryInforms(t *testing.T) {
	f := New(Unknown(28), nil)
	for i := range 10 {
		g := float64(i % 5)
		f.Observe(plain(g, 20*math.Exp(0.06*g)))
	}
	next := New(Unknown(28), f.Carry().Widened())
	if got := next.Slopes().Mean(); math.Abs(got-0.06) > 0.012 {
		t.Errorf("carried slope %.4f, want about 0.06", got)
	}
	if got := seconds(next, 0); math.Abs(got-28) > 0.5 {
		t.Errorf("the level was carried too: %.2f s, want 28", got)
	}
}

// Whatever comes in, weights stay a distribution and nothing is NaN.
func TestFilterStaysSane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := New(Unknown(28), nil)
		for range rapid.IntRange(1, 12).Draw(t, "shots") {
			s := plain(rapid.Float64Range(-40, 40).Draw(t, "grind"), rapid.Float64Range(1, 180).Draw(t, "seconds"))
			s.Beyond = rapid.Bool().Draw(t, "choked")
			s.LogOut = rapid.Float64Range(-2, 1).Draw(t, "out")
			f.Observe(s)
			f.Wait(rapid.IntRange(0, 12).Draw(t, "nights"))
		}
		mix := f.Next(plain(1, 1))
		total := 0.0
		for _, n := range mix {
			total += n.Weight
		}
		q := mix.Quantile(0.5)
		if !(math.Abs(total-1) < 1e-6) || math.IsNaN(q) || !(mix.Quantile(0.1) <= q) || !(q <= mix.Quantile(0.9)) {
			t.Fatalf("weights sum to %g, median %g", total, q)
		}
	})
}

// The table is as good as it says.
func TestPhi(t *testing.T) {
	for z := -7.0; z < 7; z += 0.00123 {
		if want := 0.5 * math.Erfc(-z/math.Sqrt2); math.Abs(phi(z)-want) > 1e-6 {
			t.Fatalf("phi(%g) = %g, want %g", z, phi(z), want)
		}
	}
}

// A clone learns alone.
func TestCloneSharesNothing(t *testing.T) {
	f := New(Unknown(28), nil)
	f.Observe(plain(0, 22))
	before := seconds(f, 0)
	g := f.Clone()
	g.Observe(plain(0, 40))
	if after := seconds(f, 0); after != before {
		t.Errorf("the original moved from %g to %g", before, after)
	}
}

// The 90 % interval of the next shot holds about nine times in ten on shots of
// the model's own family.
func TestIntervalsHold(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	held, all := 0, 0
	for range 60 {
		f := New(Unknown(28), nil)
		level, b := 28*math.Exp(0.4*r.NormFloat64()), 0.04*math.Exp(0.5*r.NormFloat64())
		for n := range 8 {
			s := plain(float64(r.IntN(9)-4), 1)
			s.LogTime = math.Log(level) + b*s.Grind[0] + 0.05*r.NormFloat64()
			if n > 0 {
				next := f.Next(s)
				all++
				if next.Quantile(0.05) <= s.LogTime && s.LogTime <= next.Quantile(0.95) {
					held++
				}
			}
			f.Observe(s)
			f.Wait(0)
		}
	}
	if share := float64(held) / float64(all); share < 0.86 || share > 0.97 {
		t.Errorf("90 %% intervals held %.3f of %d times", share, all)
	}
}

func BenchmarkObserve(b *testing.B) {
	f := New(Unknown(28), nil)
	for b.Loop() {
		g := f.Clone()
		g.Observe(plain(0, 24))
	}
}

func BenchmarkTwentyShots(b *testing.B) {
	for b.Loop() {
		f := New(Unknown(28), nil)
		for i := range 20 {
			f.Observe(plain(float64(i%5), 24+float64(i%3)))
		}
	}
}
