package taste

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"shothand/advisor/bar"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// The scale of things: sizes that the lexicon was set to reach. Invented;
// common practice, no source.
func TestScale(t *testing.T) {
	for _, test := range []struct {
		text                   string
		e, esd, s, ssd, even   float64
		praise                 float64
		wideE, wideS, wideEven float64 // tolerances
	}{
		{"", 0, 0.99, 0, 0.99, 0.93, 0, 0.01, 0.01, 0.001},
		{"sour", -1.0, 0.72, 0.15, 1, 0.93, 0, 0.1, 0.1, 0.001},
		{"sour thin", -1.2, 0.72, -0.7, 0.75, 0.93, 0, 0.1, 0.15, 0.03},
		{"bitter dry", 1.2, 0.7, 0.2, 1, 0.95, 0, 0.1, 0.1, 0.03},
		{"sour strong", -1.0, 0.75, 1.0, 0.75, 0.93, 0, 0.1, 0.1, 0.03},
		{"balanced", 0, 0.64, 0, 0.64, 0.96, 0.6, 0.05, 0.05, 0.02},
		{"sour bitter", 0, 0.8, 0.3, 1, 0.27, 0, 0.1, 0.15, 0.1},
		{"sprayed", 0, 0.99, 0, 0.99, 0.29, 0, 0.01, 0.01, 0.02},
		{"spot on", 0, 0.66, 0, 0.66, 0.96, 1.5, 0.05, 0.05, 0.02},
	} {
		words, _ := Default().Read(test.text)
		r := say(Default(), words...)
		if !(math.Abs(r.Extraction-test.e) <= test.wideE && math.Abs(r.ExtractionSD-test.esd) <= test.wideE &&
			math.Abs(r.Strength-test.s) <= test.wideS && math.Abs(r.StrengthSD-test.ssd) <= test.wideS &&
			math.Abs(r.Even-test.even) <= test.wideEven && math.Abs(r.Praise-test.praise) < 1e-9) {
			t.Errorf("%q: %+v, want about %+v", test.text, r, test)
		}
	}
}

// Sour and bitter of one taster is a contradiction and wide; of two tasters it
// is a difference of opinion.
func TestContradiction(t *testing.T) {
	l := Default()
	sour, bitter := bar.Word{Term: "sour", Degree: 1}, bar.Word{Term: "bitter", Degree: 1}
	one := say(l, sour, bitter)
	two := l.Judge([]Tasting{{Taster: 1, Words: []bar.Word{sour}}, {Taster: 2, Words: []bar.Word{bitter}}}, Measured{})
	split := l.Judge([]Tasting{{Taster: 1, Words: []bar.Word{sour}}, {Taster: 1, Words: []bar.Word{bitter}}}, Measured{})
	if !(one.Even < 0.4 && two.Even > 0.9) {
		t.Errorf("even %v by one taster, %v by two", one.Even, two.Even)
	}
	if diff := cmp.Diff(one, split); diff != "" {
		t.Errorf("two messages of one taster differ from one: %s", diff)
	}
	if agreed := say(l, bitter, bar.Word{Term: "dry", Degree: 1}); !(one.ExtractionSD > agreed.ExtractionSD) {
		t.Errorf("sd %v contradictory, %v agreed", one.ExtractionSD, agreed.ExtractionSD)
	}
}

// The exact posterior of a measurement alone: prior N(0, 1) and likelihood
// N(z, s²) give mean z/(1+s²) and variance s²/(1+s²).
func TestMeasured(t *testing.T) {
	r := Judge(nil, Measured{EY: 22, EYTarget: 20, EYSD: 1, EYStep: 2, TDS: 8.1, TDSTarget: 9, TDSSD: 0.9, TDSStep: 0.9})
	want := Reading{
		Extraction: 1 / 1.25, ExtractionSD: math.Sqrt(0.25 / 1.25),
		Strength: -1. / 2, StrengthSD: math.Sqrt(1. / 2),
		Even: evenPrior,
	}
	if diff := cmp.Diff(want, r, cmpopts.EquateApprox(0, 0.005)); diff != "" {
		t.Error(diff)
	}
	nothing := Judge(nil, Measured{})
	nan, inf := math.NaN(), math.Inf(1)
	for _, m := range []Measured{
		{EY: 22},
		{EY: 22, EYTarget: 20},
		{EY: nan, EYTarget: 20, EYSD: 1},
		{EY: 22, EYTarget: 20, EYSD: nan},
		{TDS: inf, TDSTarget: 9, TDSSD: 1},
		{TDS: 9, TDSTarget: nan, TDSSD: 1},
		{TDS: -1, TDSTarget: 9, TDSSD: 1},
	} {
		if diff := cmp.Diff(nothing, Judge(nil, m)); diff != "" {
			t.Errorf("%+v counted: %s", m, diff)
		}
	}
	far := Judge(nil, Measured{EY: 90, EYTarget: 20, EYSD: 1e-9, EYStep: nan})
	finite(t, far)
	if !(far.Extraction > 2) {
		t.Errorf("far over reads %v", far.Extraction)
	}
}

// Where the words are all somebody had to say, what was left unsaid counts: who
// says only "sour" did not find it thin, and "ok" is nearer the middle.
func TestWhatIsLeftUnsaid(t *testing.T) {
	for _, test := range []string{"sour", "ok", "thin", "balanced"} {
		words, _ := Default().Read(test)
		some := Judge([]Tasting{{Taster: 1, Words: words}}, Measured{})
		all := Judge([]Tasting{{Taster: 1, Words: words, Whole: true}}, Measured{})
		if !(all.StrengthSD < some.StrengthSD) || !(all.ExtractionSD < some.ExtractionSD) {
			t.Errorf("%s: extraction ±%.2f, strength ±%.2f; all there was to say: ±%.2f, ±%.2f",
				test, some.ExtractionSD, some.StrengthSD, all.ExtractionSD, all.StrengthSD)
		}
	}
	spurted := []bar.Word{{Term: "spurted", Degree: 1}}
	if r := Judge([]Tasting{{Taster: 1, Words: spurted, Whole: true}}, Measured{}); r.Tasted {
		t.Error("what was only seen was taken for a tasting")
	}
}

func TestFaults(t *testing.T) {
	l := Default()
	r := l.Judge([]Tasting{
		{Taster: 1, Words: []bar.Word{{Term: "papery", Degree: 1}, {Term: "grassy", Degree: 1, Not: true}}},
		{Taster: 2, Words: []bar.Word{{Term: "soapy", Degree: 1}, {Term: "stale", Degree: 1}}},
	}, Measured{})
	if diff := cmp.Diff([]Fault{Cleaner, Stale}, r.Faults); diff != "" {
		t.Error(diff)
	}
}

func TestUnknownTermsArePassedOver(t *testing.T) {
	r := say(Default(), bar.Word{Term: "zork", Degree: 1})
	if diff := cmp.Diff(Judge(nil, Measured{}), r); diff != "" {
		t.Error(diff)
	}
}

// Praise is the mean over tasters who liked or disliked.
func TestPraise(t *testing.T) {
	lovely, bad := bar.Word{Term: "lovely", Degree: 1}, bar.Word{Term: "bad", Degree: 1}
	sour := bar.Word{Term: "sour", Degree: 1}
	r := Default().Judge([]Tasting{{Taster: 1, Words: []bar.Word{lovely}}, {Taster: 2, Words: []bar.Word{bad}}, {Taster: 3, Words: []bar.Word{sour}}}, Measured{})
	if want := (1.2 - 1) / 2; math.Abs(r.Praise-want) > 1e-9 {
		t.Errorf("praise %v, want %v", r.Praise, want)
	}
}

func TestOrderOfWordsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(anyWord(), 0, 40).Draw(t, "words")
		other := rapid.Permutation(words).Draw(t, "other")
		if diff := cmp.Diff(say(Default(), words...), say(Default(), other...)); diff != "" {
			t.Error(diff)
		}
	})
}

func TestReadingsAreFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tastings := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Tasting {
			return Tasting{
				Taster: rapid.Uint64Range(0, 3).Draw(t, "taster"),
				Words:  rapid.SliceOfN(anyWord(), 0, 60).Draw(t, "words"),
			}
		}), 0, 5).Draw(t, "tastings")
		for i := range tastings {
			for j := range tastings[i].Words {
				tastings[i].Words[j].Degree = rapid.Float64().Draw(t, "degree")
			}
		}
		finite(t, Default().Judge(tastings, Measured{}))
	})
}

// A second taster who says the same never widens the reading, if what is said
// is no contradiction.
func TestAgreementNeverWidens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := oneSided(rapid.SliceOfN(anyWord(), 1, 4).Draw(t, "words"))
		one := Default().Judge([]Tasting{{Taster: 1, Words: words}}, Measured{})
		two := Default().Judge([]Tasting{{Taster: 1, Words: words}, {Taster: 2, Words: words}}, Measured{})
		const rounding = 1e-9
		if two.ExtractionSD > one.ExtractionSD+rounding || two.StrengthSD > one.StrengthSD+rounding {
			t.Errorf("%+v\none %+v\ntwo %+v", words, one, two)
		}
	})
}

// oneSided keeps of words those plainly said that agree with all kept before.
func oneSided(words []bar.Word) []bar.Word {
	var kept []bar.Word
	for _, w := range words {
		if !w.Not && !w.Than && !slices.ContainsFunc(kept, func(k bar.Word) bool { return apart(k, w) }) {
			kept = append(kept, w)
		}
	}
	return kept
}

// apart reports whether two words speak of different cups.
func apart(v, w bar.Word) bool {
	a, _ := Default().Entry(v.Term)
	b, _ := Default().Entry(w.Term)
	return a.Extraction*b.Extraction < 0 || a.Strength*b.Strength < 0 ||
		a.Centre > 0 && b.Centre == 0 || a.Centre == 0 && b.Centre > 0 ||
		a.Even < 0 || b.Even < 0
}

// A denied word moves the reading the other way, or not at all, and less.
func TestDenialMovesTheOtherWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWord().Draw(t, "word")
		w.Not, w.Than = false, false
		said := say(Default(), w)
		w.Not = true
		denied := say(Default(), w)
		const nothing = 1e-9
		for _, x := range [][2]float64{
			{said.Extraction, denied.Extraction},
			{said.Strength, denied.Strength},
			{said.Praise, denied.Praise},
			{said.Even - evenPrior, denied.Even - evenPrior},
		} {
			if x[0]*x[1] > nothing {
				t.Errorf("%+v: said %+.3f, denied %+.3f", w, x[0], x[1])
			}
		}
	})
}

// The more of a word of one side, the further out the reading.
func TestDegreesAreMonotone(t *testing.T) {
	for _, e := range Default().Entries() {
		if e.Centre > 0 || e.Extraction == 0 && e.Strength == 0 {
			continue
		}
		last := 0.0
		for d := 0.25; d <= 3; d += 0.25 {
			r := say(Default(), bar.Word{Term: e.Term, Degree: d})
			out := r.Extraction*e.Extraction + r.Strength*e.Strength
			if !(out > last) {
				t.Errorf("%s at degree %g reads no further out than at less", e.Term, d)
			}
			last = out
		}
	}
}

// A comparison with the cup before counts less than the plain word.
func TestComparisonsCountLess(t *testing.T) {
	for _, e := range Default().Entries() {
		if e.Centre > 0 || e.Extraction == 0 {
			continue
		}
		plain := say(Default(), bar.Word{Term: e.Term, Degree: 1})
		than := say(Default(), bar.Word{Term: e.Term, Degree: 1, Than: true})
		if !(math.Abs(than.Extraction) < math.Abs(plain.Extraction) && than.Extraction*plain.Extraction > 0) {
			t.Errorf("%s: plain %v, compared %v", e.Term, plain.Extraction, than.Extraction)
		}
	}
}

// Better than the cup before, however much, is not yet plain praise.
func TestBetterIsNotPraise(t *testing.T) {
	for _, degree := range []float64{0.5, 1, 1.5} {
		plain := say(Default(), bar.Word{Term: "nice", Degree: degree})
		than := say(Default(), bar.Word{Term: "nice", Degree: degree, Than: true})
		if !(0 < than.Praise && than.Praise < plain.Praise/2 && than.Praise < plainLiking) {
			t.Errorf("degree %v: plain %v, compared %v", degree, plain.Praise, than.Praise)
		}
	}
}

// Cups and words drawn from the model itself. A prototype with other invented
// loadings had the side of extraction right in 80.6 % of the cups with
// |E| > 0.5 by one taster and in 88.1 % by two; with the loadings here, steeper
// and on these eight words, it is about 84 % and 92 %. Held: no worse than the
// prototype less three binomial standard errors (n = 2000: 0.9 and 0.7 points),
// and below 90 % and 96 %, which would mean words sharper than tongues. 80 %
// intervals cover about 84 %: the belief in an uneven bed widens them, and
// silence, which is drawn here, does not count. Held to 78 to 88 %.
func TestSideOfExtraction(t *testing.T) {
	const n = 2000
	r := rand.New(rand.NewPCG(1, 2))
	one, two, covered, all := 0, 0, 0, 0
	for far := 0; far < n; {
		e, s := r.NormFloat64(), r.NormFloat64()
		first, second := drawTasting(r, 1, e, s), drawTasting(r, 2, e, s)
		reading := Judge([]Tasting{first}, Measured{})
		all++
		if math.Abs(reading.Extraction-e) < 1.2816*reading.ExtractionSD { // Φ⁻¹(0.9)
			covered++
		}
		if math.Abs(e) <= 0.5 {
			continue
		}
		far++
		if reading.Extraction*e > 0 {
			one++
		}
		if Judge([]Tasting{first, second}, Measured{}).Extraction*e > 0 {
			two++
		}
	}
	share := func(k, n int) float64 { return float64(k) / float64(n) }
	t.Logf("right side %.3f by one taster, %.3f by two; 80 %% intervals cover %.3f",
		share(one, n), share(two, n), share(covered, all))
	if !(0.78 <= share(one, n) && share(one, n) <= 0.90) {
		t.Errorf("one taster: right side %.3f", share(one, n))
	}
	if !(0.86 <= share(two, n) && share(two, n) <= 0.96) {
		t.Errorf("two tasters: right side %.3f", share(two, n))
	}
	if !(0.78 <= share(covered, all) && share(covered, all) <= 0.88) {
		t.Errorf("80 %% intervals cover %.3f", share(covered, all))
	}
}

// drawTasting draws what a taster says of a cup.
func drawTasting(r *rand.Rand, taster uint64, e, s float64) Tasting {
	tasting := Tasting{Taster: taster}
	bias := biasSD * r.NormFloat64()
	for _, term := range []string{"sour", "sharp", "bitter", "dry", "thin", "strong", "balanced", "sweet"} {
		entry, _ := Default().Entry(term)
		sharp := math.Hypot(entry.Extraction, entry.Strength)
		x := entry.Centre - sharp*entry.From + entry.Extraction*(e+bias) + entry.Strength*s - entry.Centre*(e*e+s*s)
		if r.Float64() < logistic(x) {
			tasting.Words = append(tasting.Words, bar.Word{Term: term, Degree: 1})
		}
	}
	return tasting
}

// The grid's product form of the curve equals the formula of the package
// comment.
func TestCurveIsTheFormula(t *testing.T) {
	for _, e := range Default().Entries() {
		for _, degree := range []float64{0.5, 1, 2} {
			w := said{e, bar.Word{Term: e.Term, Degree: degree}}
			const bias = 0.3
			byE, byS := w.odds(bias, 0, Place{})
			for _, at := range [][2]int{{0, 0}, {20, 20}, {12, 31}, {40, 3}} {
				x, y := coordinate(at[0]), coordinate(at[1])
				sharp := math.Hypot(e.Extraction, e.Strength)
				alpha := e.Centre*degree - sharp*(e.From+degree-1)
				want := logistic(alpha + e.Extraction*(x+bias) + e.Strength*y - e.Centre*degree*(x*x+y*y))
				got := 1 / (1 + byE[at[0]]*byS[at[1]])
				if !(math.Abs(got-want) < 1e-12) {
					t.Errorf("%s at (%g, %g): %v, want %v", e.Term, x, y, got, want)
				}
			}
		}
	}
}

// anyWord draws a word as somebody might say it.
func anyWord() *rapid.Generator[bar.Word] {
	var terms []string
	for _, e := range Default().Entries() {
		terms = append(terms, e.Term)
	}
	return rapid.Custom(func(t *rapid.T) bar.Word {
		return bar.Word{
			Term:   rapid.SampledFrom(terms).Draw(t, "term"),
			Degree: rapid.SampledFrom([]float64{0.5, 1, 1.5, 2}).Draw(t, "degree"),
			Not:    rapid.Bool().Draw(t, "not"),
			Than:   rapid.Bool().Draw(t, "than"),
		}
	})
}

func finite(t interface{ Errorf(string, ...any) }, r Reading) {
	for _, x := range []float64{r.Extraction, r.Strength, r.Praise} {
		if !(math.Abs(x) <= reach) {
			t.Errorf("%v in %+v", x, r)
		}
	}
	if !(0 < r.ExtractionSD && 0 < r.StrengthSD && 0 <= r.Even && r.Even <= 1) {
		t.Errorf("out of bounds: %+v", r)
	}
}

func BenchmarkJudge(b *testing.B) {
	l := Default()
	for _, bench := range []struct {
		name, text string
		words      int
	}{
		{"two", "sour, thin", 2},
		{"six", "sour, thin, a bit sharp, balanced, not bitter, less dry", 6},
	} {
		words, _ := l.Read(bench.text)
		if len(words) != bench.words {
			b.Fatal(words)
		}
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				l.Judge([]Tasting{{Taster: 1, Words: words}}, Measured{})
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Default().Read("way too bitterr, not sour or thin, astringant zork")
	}
}
