package extraction

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Which way things go, wherever a shot is one: slower is more of both, more
// yield is more extraction and less strength, more coffee the reverse.
func TestDirections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dose := rapid.Float64Range(14, 22).Draw(t, "dose")
		s, err := Default().Slopes(Brew{
			Dose:  dose,
			Yield: dose * rapid.Float64Range(1, 3).Draw(t, "ratio"),
			Time:  rapid.Float64Range(12, 60).Draw(t, "time"),
		})
		if err != nil {
			t.Fatal(err)
		}
		if !(s.EY.Time > 0 && s.TDS.Time > 0 && s.EY.Yield > 0 && s.TDS.Yield < 0 && s.EY.Dose < 0 && s.TDS.Dose > 0) {
			t.Fatalf("%+v", s)
		}
	})
}

// TDS is EY times dose over yield, so slopes of one follow from the other's.
func TestSlopesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, err := Default().Slopes(anyBrew().Filter(func(b Brew) bool { return b.FirstDrip < 0.8*b.Time }).Draw(t, "brew"))
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range [][2]float64{{s.TDS.Time, s.EY.Time}, {s.TDS.Yield, s.EY.Yield - 1}, {s.TDS.Dose, s.EY.Dose + 1}} {
			if !(math.Abs(x[0]-x[1]) < 1e-6) {
				t.Fatalf("%+v", s)
			}
		}
	})
}

// Near the recipe, slopes tell what a whole pour does.
func TestSlopesPredict(t *testing.T) {
	b := Brew{Dose: 18, Yield: 36, Time: 28}
	s, err := Default().Slopes(b)
	if err != nil {
		t.Fatal(err)
	}
	longer, err := Default().RunOn(b.slower(1.1), 39)
	if err != nil {
		t.Fatal(err)
	}
	got := s.Cup.EY * math.Exp(s.EY.Time*math.Log(1.1)+s.EY.Yield*math.Log(39.0/36))
	if want := pour(t, Default(), longer).Whole().EY; !(math.Abs(got-want) < 0.05) {
		t.Errorf("EY %.2f by slopes, %.2f poured", got, want)
	}
}
