package layers

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"shothand/advisor/extraction"
	"shothand/advisor/taste"
)

// sips reads what somebody says of the cups in order, and of the whole.
func sips(cups ...string) []Note {
	var all []Note
	for i, text := range cups {
		words, _ := taste.Default().Read(text)
		all = append(all, Note{Of: Layer(i), Words: words})
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
		of   Scale
		want float64
	}{
		{"sour", Sour, 3},
		{"very sour", Sour, 4.5},
		{"a bit sour", Sour, 1.5},
		{"not sour", Sour, 0},
		{"salty", Sour, 3},
		{"sour", Bitter, 0},
		{"way too bitter, bitter", Bitter, 5},
		{"dry", Dry, 3},
		{"dry", Bitter, 0},
		{"astringent", Dry, 3},
		{"caramel", Sweet, 3},
		{"balanced", Sweet, 3},
		{"thin", Body, -3},
		{"syrupy", Body, 3},
		{"flat", Sweet, 0},
		{"soapy", Bitter, 0},
		{"harsh", Bitter, 3},
	} {
		words, _ := taste.Default().Read(test.said)
		if got := (Note{Words: words}).Score(test.of); got != test.want {
			t.Errorf("%q has %v of %d, want %v", test.said, got, test.of, test.want)
		}
	}
	if got := (Note{Words: []taste.Word{{Term: "sour", Degree: 1}}, Scores: []Score{{Sour, 1}}}).Score(Sour); got != 1 {
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
	got := first.With(Tasting{1, 1, []Note{{Of: Early, Mass: 12}, {Of: Late, Words: []taste.Word{{Term: "thin", Degree: 1}}}}})
	early, _ := got.Note(Early)
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
		got, err := Expect(Espresso, b, masses)
		if err != nil {
			t.Skip(err)
		}
		whole, _, err := At(Espresso, b, b.Yield)
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
		cup := func(l Layer) Note {
			return Note{Of: l, Scores: []Score{{Sour, x.Draw(t, "sour")}, {Bitter, x.Draw(t, "bitter")}, {Sweet, x.Draw(t, "sweet")}}}
		}
		a := Tasting{1, 1, []Note{cup(Early), cup(Middle), cup(Late)}}
		b := a.With(Tasting{})
		b.Sips[2].Scores = []Score{a.Sips[2].Scores[0], {Bitter, 5}, a.Sips[2].Scores[2]}
		p := Palate{1, 1}
		if before, after := End(36, nil, p, []Tasting{a}), End(36, nil, p, []Tasting{b}); after.Yield > before.Yield {
			t.Errorf("%+v, then %+v", before, after)
		}
	})
}
