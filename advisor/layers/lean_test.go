package layers

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/taste"
)

// sips reads what somebody says of the cups in order, and of the whole.
func sips(cups ...string) []bar.Note {
	var all []bar.Note
	for i, text := range cups {
		words, _ := taste.Default().Read(text)
		all = append(all, bar.Note{Of: bar.Layer(i), Words: words})
	}
	return all
}

func TestEnd(t *testing.T) {
	even := Palate{Sour: 1, Bitter: 1}
	masses := map[int][Cups]float64{1: {12, 12, 12}, 2: {12, 12, 12}}
	usualCups := sips("sour, salty", "sweet, flat", "thin, bitter")
	for _, test := range []struct {
		name     string
		palate   Palate
		tastings []Tasting
		want     Verdict
	}{
		{"as every coffee", even, []Tasting{{1, 1, usualCups}}, Verdict{Yield: 36, Stay: 1, Splits: 1}},
		{
			"the late cup is still sweet", even,
			[]Tasting{{1, 1, sips("sour", "sweet", "sweet")}, {2, 1, sips("very sour", "sweet", "a bit sweet")}},
			Verdict{Way: Longer, Yield: 40, Longer: 2, Splits: 1},
		},
		{
			"the early cup dominates", even,
			[]Tasting{{1, 1, sips("very sour, salty", "sour", "thin")}},
			Verdict{Way: Longer, Yield: 42, Longer: 1, Splits: 1},
		},
		{
			"the late cup is harsh", even,
			[]Tasting{{1, 1, sips("sweet", "sweet", "bitter, dry")}, {1, 2, sips("sour", "sweet", "very bitter, dry")}},
			Verdict{Way: Shorter, Yield: 30, Shorter: 1, Splits: 2},
		},
		{
			"harsh, and the whole shot is liked", even,
			[]Tasting{{1, 1, sips("sour", "sweet", "bitter, dry", "sweet, balanced")}},
			Verdict{Yield: 36, Stay: 1, Splits: 1},
		},
		{
			"meant to be bright",
			Palate{Sour: 0.5, Bitter: 1},
			[]Tasting{{1, 1, sips("very sour", "balanced", "thin")}},
			Verdict{Yield: 36, Stay: 1, Splits: 1},
		},
		{
			"tasters lean both ways", even,
			[]Tasting{{1, 1, sips("sour", "sour", "sweet")}, {2, 1, sips("sweet", "sweet", "very bitter, dry")}},
			Verdict{Yield: 36, Longer: 1, Shorter: 1, Splits: 1, Torn: true},
		},
		{
			"splits lean both ways", even,
			[]Tasting{{1, 1, sips("sour", "sour", "sweet")}, {1, 2, sips("sweet", "sweet", "very bitter, dry")}},
			Verdict{Yield: 36, Stay: 1, Splits: 2, Unsteady: true},
		},
		{"one cup is missing", even, []Tasting{{1, 1, sips("sour", "sweet")}}, Verdict{Yield: 36}},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := End(36, masses, test.palate, test.tastings)
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestScore(t *testing.T) {
	for _, test := range []struct {
		said string
		of   bar.Scale
		want float64
	}{
		{"sour", bar.Sour, 3},
		{"very sour", bar.Sour, 4.5},
		{"a bit sour", bar.Sour, 1.5},
		{"not sour", bar.Sour, 0},
		{"salty", bar.Sour, 3},
		{"sour", bar.Bitter, 0},
		{"way too bitter, bitter", bar.Bitter, 5},
		{"dry", bar.Dry, 3},
		{"dry", bar.Bitter, 0},
		{"astringent", bar.Dry, 3},
		{"caramel", bar.Sweet, 3},
		{"balanced", bar.Sweet, 3},
		{"thin", bar.Body, -3},
		{"syrupy", bar.Body, 3},
		{"flat", bar.Sweet, 0},
		{"soapy", bar.Bitter, 0},
		{"harsh", bar.Bitter, 3},
	} {
		words, _ := taste.Default().Read(test.said)
		if got := ScoreOf((bar.Note{Words: words}), test.of); got != test.want {
			t.Errorf("%q has %v of %d, want %v", test.said, got, test.of, test.want)
		}
	}
	if got := ScoreOf((bar.Note{Words: []bar.Word{{Term: "sour", Degree: 1}}, Scores: []bar.Score{{Of: bar.Sour, X: 1}}}), bar.Sour); got != 1 {
		t.Errorf("what was given counts more than the words: %v", got)
	}
}

func TestMix(t *testing.T) {
	masses := [Cups]float64{12, 12.5, 11.5}
	for _, test := range []struct {
		yield float64
		want  [Cups]float64
		ok    bool
	}{{32, [Cups]float64{12, 12.5, 7.5}, true}, {20, [Cups]float64{12, 8, 0}, true}, {36, masses, true}, {40, masses, false}} {
		if got, ok := Mix(masses, test.yield); got != test.want || ok != test.ok {
			t.Errorf("%v g: %v, %v", test.yield, got, ok)
		}
	}
}

// What was said later of a cup stands, and a weight told later keeps the words.
func TestWith(t *testing.T) {
	first := Tasting{1, 1, sips("sour", "sweet")}
	got := first.With(Tasting{1, 1, []bar.Note{{Of: bar.Early, Mass: 12}, {Of: bar.Late, Words: []bar.Word{{Term: "thin", Degree: 1}}}}})
	early, _ := got.Note(bar.Early)
	if !got.Complete() || early.Mass != 12 || len(early.Words) != 1 || first.Complete() {
		t.Errorf("%+v", got)
	}
}

// However a brew is cut, its cups hold the whole: shares come to 100 %, and
// together they are the whole cup.
func TestAnyCutBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := extraction.Brew{
			Dose: rapid.Float64Range(7, 25).Draw(t, "dose"), Time: rapid.Float64Range(15, 60).Draw(t, "time"),
		}
		var masses [Cups]float64
		for i := range masses {
			masses[i] = rapid.Float64Range(3, 25).Draw(t, "mass")
			b.Yield += masses[i]
		}
		got, err := Expect(bar.Espresso, b, masses)
		if err != nil {
			t.Skip(err)
		}
		whole, _, err := At(bar.Espresso, b, b.Yield)
		if err != nil {
			t.Fatal(err)
		}
		share, ey := 0.0, 0.0
		for _, e := range got {
			share, ey = share+e.Share.X, ey+e.EY.X
			if !(e.TDS.Low < e.TDS.X && e.TDS.X < e.TDS.High) {
				t.Errorf("range %+v", e.TDS)
			}
		}
		if !(abs(share-100) < 1e-6) || !(abs(ey-whole.EY) < 1e-6) {
			t.Errorf("shares come to %v, EY to %v of %v", share, ey, whole.EY)
		}
		if b.Yield < b.Dose {
			return // so short that the stream is still full to the end
		}
		const plateau = 1.05 // what leaves first is about as strong for a while
		if !(got[0].TDS.X > got[2].TDS.X && plateau*got[0].TDS.X > got[1].TDS.X && plateau*got[1].TDS.X > got[2].TDS.X) {
			t.Errorf("strength does not fall: %+v", got)
		}
	})
}

func abs(x float64) float64 { return max(x, -x) }

// Turning all words of a tasting from sour to bitter never asks for a longer
// shot than before.
func TestMoreBitterLateNeverLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 5)
		cup := func(l bar.Layer) bar.Note {
			return bar.Note{Of: l, Scores: []bar.Score{{Of: bar.Sour, X: x.Draw(t, "sour")}, {Of: bar.Bitter, X: x.Draw(t, "bitter")}, {Of: bar.Sweet, X: x.Draw(t, "sweet")}}}
		}
		a := Tasting{1, 1, []bar.Note{cup(bar.Early), cup(bar.Middle), cup(bar.Late)}}
		b := a.With(Tasting{})
		b.Sips[2].Scores = []bar.Score{a.Sips[2].Scores[0], {Of: bar.Bitter, X: 5}, a.Sips[2].Scores[2]}
		p := Palate{1, 1}
		if before, after := End(36, nil, p, []Tasting{a}), End(36, nil, p, []Tasting{b}); after.Yield > before.Yield {
			t.Errorf("%+v, then %+v", before, after)
		}
	})
}
