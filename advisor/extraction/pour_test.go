package extraction

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// anyBrew draws an espresso, and now and then something odd.
func anyBrew() *rapid.Generator[Brew] {
	return rapid.Custom(func(t *rapid.T) Brew {
		dose := rapid.Float64Range(6, 40).Draw(t, "dose")
		b := Brew{
			Dose:  dose,
			Yield: dose * rapid.Float64Range(0.2, 8).Draw(t, "ratio"),
			Time:  rapid.Float64Range(3, 120).Draw(t, "time"),
		}
		if rapid.Bool().Draw(t, "first drip told") {
			b.FirstDrip = b.Time * rapid.Float64Range(0.01, 0.9).Draw(t, "first drip")
		}
		if rapid.Bool().Draw(t, "water told") {
			b.Water = rapid.Float64Range(60, 100).Draw(t, "water")
		}
		return b
	})
}

// drawn is Pour of a drawn brew.
func drawn(t *rapid.T, p Params, b Brew) Curve {
	c, err := p.Pour(b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The cups of any split are the whole shot again.
func TestCutsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBrew().Draw(t, "brew")
		c := drawn(t, Default(), b)
		var all Cup
		from := 0.0
		for from < b.Yield {
			to := from + rapid.Float64Range(b.Yield/50, b.Yield).Draw(t, "cut")
			cup := c.Cup(from, to)
			all = Cup{Mass: all.Mass + cup.Mass, Solids: all.Solids + cup.Solids, EY: all.EY + cup.EY}
			from = to
		}
		all.TDS = 100 * all.Solids / all.Mass
		whole := c.Whole()
		for _, x := range [][2]float64{{all.Mass, whole.Mass}, {all.Solids, whole.Solids}, {all.TDS, whole.TDS}, {all.EY, whole.EY}} {
			if !(math.Abs(x[0]-x[1]) <= 1e-9*x[1]) {
				t.Fatalf("cups hold %+v together, the whole %+v", all, whole)
			}
		}
	})
}

// What is not in the cup is still in the bed, whatever the step.
func TestSolidsAreConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, dose := Default(), rapid.Float64Range(6, 40).Draw(t, "dose")
		bed := p.newBed(dose)
		bed.wet(p, rapid.Float64Range(0.1, 60).Draw(t, "wetting"), 1)
		out := 0.0
		for range 50 {
			r := p.releaseIn(rapid.Float64Range(0, 100).Draw(t, "seconds"), 1)
			grams := rapid.Float64Range(0, 100).Draw(t, "grams")
			c := bed.pass(bed.n, r, grams)
			out += c * grams
			if !(0 <= c && c <= p.Saturation) {
				t.Fatalf("%g leaves the bed", c)
			}
		}
		left := 0.0
		for _, x := range bed.cells[:bed.n] {
			if !(x.fast >= 0 && x.slow >= 0) {
				t.Fatalf("a pool is below nothing: %+v", x)
			}
			left += x.c*bed.between + x.fast + x.slow
		}
		if all := dose * (p.Fast + p.Slow); !(math.Abs(out+left-all) < 1e-9*all) {
			t.Fatalf("%g g out and %g g left of %g g", out, left, all)
		}
	})
}

// More yield of the same shot is more extraction, and never more than the pools
// hold; from half the dose on it is less strength. Before, a fast shot may gain:
// the published stream stays at its top for a while too (Waszkiewicz 2025).
func TestMoreYieldIsMoreAndWeaker(t *testing.T) {
	p := Default()
	rapid.Check(t, func(t *rapid.T) {
		b := anyBrew().Draw(t, "brew")
		c := drawn(t, p, b)
		less := rapid.Float64Range(0.05, 0.98).Draw(t, "less") * b.Yield
		part, whole := c.Cup(0, less), c.Whole()
		if !(part.EY <= whole.EY && whole.EY <= 100*(p.Fast+p.Slow)+1e-9) {
			t.Fatalf("%g g: %+v, whole: %+v", less, part, whole)
		}
		if b.Time >= 10 && less > b.Dose/2 && !(part.TDS >= whole.TDS) {
			t.Fatalf("%g g: %+v, whole: %+v", less, part, whole)
		}
	})
}

// A slower shot of the same dose and yield extracts more, and each doubling
// less than the one before, above 8 s.
func TestSlowerIsMoreWithDiminishingReturn(t *testing.T) {
	for _, yield := range []float64{27, 36, 45} {
		ey := func(seconds float64) float64 {
			return pour(t, Default(), Brew{Dose: 18, Yield: yield, Time: seconds}).Whole().EY
		}
		first, second, third := ey(16)-ey(8), ey(32)-ey(16), ey(64)-ey(32)
		if !(0 < third && third < second && second < first) {
			t.Errorf("18 to %g g: doublings from 8 s are worth %.2f, %.2f, %.2f points", yield, first, second, third)
		}
	}
}

// Each gram that leaves is weaker than the one before, once two are out.
func TestTheStreamThins(t *testing.T) {
	c := pour(t, Default(), Brew{Dose: 18, Yield: 54, Time: 35})
	before := math.Inf(1)
	for m := 0.0; m < 54; m++ {
		tds := c.Cup(m, m+1).TDS
		if m >= 2 && !(tds < before) {
			t.Errorf("gram %g has %.2f %%, the one before %.2f %%", m+1, tds, before)
		}
		before = tds
	}
}

// Steps are small enough: four times as many move nothing that anybody could
// measure.
func TestStepsAreFine(t *testing.T) {
	for _, b := range []Brew{{Dose: 18, Yield: 36, Time: 28}, {Dose: 7, Yield: 30, Time: 25}, {Dose: 20, Yield: 15, Time: 40}, {Dose: 18, Yield: 100, Time: 12}} {
		p := Default()
		flow := p.flowOf(b)
		bed := p.newBed(b.Dose)
		bed.wet(p, flow.firstDrip, 1)
		steps := int(4 * stepsPerRatio * b.Yield / b.Dose)
		grams, out := b.Yield/float64(steps), 0.0
		for i := range steps {
			out += grams * bed.pass(bed.n, p.releaseIn(grams/flow.rate((float64(i)+0.5)*grams), 1), grams)
		}
		fine, got := 100*out/b.Dose, pour(t, p, b).Whole().EY
		if !(math.Abs(fine-got) < 0.1) {
			t.Errorf("%+v: EY %.3f, with fine steps %.3f", b, got, fine)
		}
	}
}

// With all solids in the liquid of one cell and nothing to dissolve, what washes
// out is exact: c·exp(-m/L) leaves a mixed vessel (derived by hand).
func TestOneCellIsAMixedVessel(t *testing.T) {
	p := Default()
	p.Cells, p.Between, p.FastRate, p.Slow, p.SlowRate = 1, 1, 1e6, 0, 0
	p.Fast, p.Saturation = 0.1, 1
	c := pour(t, p, Brew{Dose: 20, Yield: 40, Time: 30, FirstDrip: 1e-3})
	// The fast pool, at once in the liquid: its full part 1-c/saturation is left
	// to dissolve for a step, so a little comes late.
	for _, m := range []float64{10, 20, 40} {
		want := 2 * -math.Expm1(-m/20)
		if got := c.Cup(0, m).Solids; !(math.Abs(got-want) < 0.05*want) {
			t.Errorf("%g g hold %.4f g, want %.4f", m, got, want)
		}
	}
}

// A shot at one temperature is the same without it, if that is the reference.
func TestTheReferenceNeedsNotBeTold(t *testing.T) {
	b := Brew{Dose: 18, Yield: 36, Time: 28}
	silent := pour(t, Default(), b).Whole()
	b.Water = Default().Reference
	if told := pour(t, Default(), b).Whole(); told != silent {
		t.Errorf("told %+v, not told %+v", told, silent)
	}
}

// Viscosity of water at 88, 90, 93 and 96 °C: IAPWS R12-08. Within 2 %, and
// within 1 % from 88 to 96, which is what is used of it.
func TestViscosity(t *testing.T) {
	published := []struct{ celsius, viscosity float64 }{{88, 0.3215}, {90, 0.3142}, {93, 0.3037}, {96, 0.2939}}
	for _, c := range published {
		got := viscosity(c.celsius + 273.15)
		if !(math.Abs(got/c.viscosity-1) < 0.02) {
			t.Errorf("at %g °C %.4f mPa·s, want %.4f", c.celsius, got, c.viscosity)
		}
		ratio := got / viscosity(88+273.15)
		if want := c.viscosity / published[0].viscosity; !(math.Abs(ratio/want-1) < 0.01) {
			t.Errorf("at %g °C %.4f of that at 88 °C, want %.4f", c.celsius, ratio, want)
		}
	}
}

// Time and mass of one curve are each other's inverse, and end where the brew
// does.
func TestTimeAndMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBrew().Draw(t, "brew")
		p := Default()
		p.Quicken = rapid.SampledFrom([]float64{0, 0.5, 3}).Draw(t, "quickening")
		c := drawn(t, p, b)
		m := rapid.Float64Range(0, b.Yield).Draw(t, "mass")
		if got := c.Mass(c.Time(m)); !(math.Abs(got-m) < 1e-6*b.Yield) {
			t.Fatalf("%g g are out at %g s, when %g g are", m, c.Time(m), got)
		}
		if end := c.Time(b.Yield); !(math.Abs(end-b.Time) < 1e-6*b.Time) {
			t.Fatalf("ends at %g s, not %g", end, b.Time)
		}
		if c.Mass(0) != 0 || c.Mass(b.Time*2) != b.Yield {
			t.Fatalf("%g g at the start, %g g after the end", c.Mass(0), c.Mass(b.Time*2))
		}
	})
}

// A shot that runs on is the same shot: what it held at its old yield, it holds.
func TestRunOnKeepsTheShot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := anyBrew().Draw(t, "brew"), Default()
		longer, err := p.RunOn(b, b.Yield*rapid.Float64Range(1, 3).Draw(t, "longer"))
		if err != nil {
			t.Fatal(err)
		}
		got, want := drawn(t, p, longer).Cup(0, b.Yield), drawn(t, p, b).Whole()
		if !(math.Abs(got.EY-want.EY) < 0.03*want.EY) { // steps differ
			t.Fatalf("%+v within the longer shot, %+v alone", got, want)
		}
	})
}

// Whatever is asked, the answer is a number or an error.
func FuzzPour(f *testing.F) {
	f.Add(18.0, 36.0, 28.0, 8.0, 93.0, 12.0, 24.0, 20.0)
	f.Add(0.0, math.NaN(), math.Inf(1), -1.0, 1e300, -5.0, math.NaN(), math.Inf(-1))
	f.Add(1.0, 50.0, 0.5, 0.475, 100.0, 1e-300, 1e300, 3600.0)
	f.Add(1000.0, 10.0, 3600.0, 1e-300, 1e-300, 0.0, 5e-324, 1e308)
	f.Fuzz(func(t *testing.T, dose, yield, seconds, drip, water, from, to, at float64) {
		p := Default()
		b := Brew{Dose: dose, Yield: yield, Time: seconds, FirstDrip: drip, Water: water}
		c, err := p.Pour(b)
		if err != nil && !errors.Is(err, ErrImplausible) {
			t.Fatal(err)
		}
		cup := c.Cup(from, to)
		numbers := []float64{cup.Mass, cup.Solids, cup.TDS, cup.EY, c.Mass(at), c.Time(from)}
		if s, err := p.Slopes(b); err == nil {
			numbers = append(numbers, s.EY.Time, s.EY.Yield, s.EY.Dose, s.TDS.Time, s.TDS.Yield, s.TDS.Dose)
		}
		if r, err := Caffeine(dose, from, to); err == nil {
			numbers = append(numbers, r.Low, r.High)
		}
		if q, err := Fit(p, []Reading{{Brew: b, TDS: from, SD: to}}); err == nil {
			numbers = append(numbers, q.Fast, q.Slow, q.SlowRate)
		}
		for i, x := range numbers {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("number %d of %v for %+v", i, numbers, b)
			}
		}
		if !(cup.Mass >= 0 && cup.Solids >= 0 && cup.TDS <= 100) {
			t.Fatalf("%+v of %+v", cup, b)
		}
	})
}

// What no brew and no model can be is refused.
func TestPourRefuses(t *testing.T) {
	good := Brew{Dose: 18, Yield: 36, Time: 28}
	for _, spoil := range []func(*Params, *Brew, float64){
		func(_ *Params, b *Brew, x float64) { b.Dose = x },
		func(_ *Params, b *Brew, x float64) { b.Yield = x },
		func(_ *Params, b *Brew, x float64) { b.Time = x },
		func(_ *Params, b *Brew, x float64) { b.FirstDrip = x },
		func(_ *Params, b *Brew, x float64) { b.Water = x },
		func(p *Params, _ *Brew, x float64) { p.Fast = x },
		func(p *Params, _ *Brew, x float64) { p.SlowRate = x },
		func(p *Params, _ *Brew, x float64) { p.Saturation = x },
		func(p *Params, _ *Brew, x float64) { p.Between = x },
		func(p *Params, _ *Brew, x float64) { p.Cells = int(max(-1, min(x, 1e6))) },
	} {
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e9} {
			p, b := Default(), good
			spoil(&p, &b, x)
			if _, err := p.Pour(b); !errors.Is(err, ErrImplausible) {
				t.Errorf("%g is let through: %v", x, fmt.Sprintf("%+v %+v", p, b))
			}
		}
	}
}
