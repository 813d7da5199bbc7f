package parse

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"shothand/advisor/bar"
	"shothand/bot/chat"
)

func num(x float64) Number     { return Number{X: x, Said: true} }
func roughly(x float64) Number { return Number{X: x, Said: true, Rough: true} }

// dyt is a shot of dose, yield and time, changed by more.
func dyt(dose, yield, time float64, more ...func(*Shot)) Shot {
	s := Shot{Dose: num(dose), Yield: num(yield), Time: num(time)}
	return s.with(more...)
}

func (s Shot) with(more ...func(*Shot)) Shot {
	for _, f := range more {
		f(&s)
	}
	return s
}

func says(terms ...string) func(*Shot) {
	return func(s *Shot) {
		for _, t := range terms {
			s.Words = append(s.Words, bar.Word{Term: t, Degree: 1})
		}
	}
}

func word(w bar.Word) func(*Shot)   { return func(s *Shot) { s.Words = append(s.Words, w) } }
func marks(m bar.Marks) func(*Shot) { return func(s *Shot) { s.Marks = m } }
func at(x float64, text string) func(*Shot) {
	return func(s *Shot) { s.Grind = Grind{X: x, Said: true, Text: text} }
}

func odd(text string) func(*Shot) {
	return func(s *Shot) { s.Grind = Grind{Said: true, Odd: true, Text: text} }
}

func steps(x float64, text string) func(*Shot) {
	return func(s *Shot) { s.Grind = Grind{X: x, Said: true, Relative: true, Text: text} }
}

func amid(x float64, text string) func(*Shot) {
	return func(s *Shot) { s.Grind = Grind{X: x, Said: true, Rough: true, Text: text} }
}
func of(c bar.CoffeeID) func(*Shot)      { return func(s *Shot) { s.Coffee = c } }
func on(g bar.GrinderID) func(*Shot)     { return func(s *Shot) { s.Grinder = g } }
func unread(words ...string) func(*Shot) { return func(s *Shot) { s.Unread = words } }
func better(d, y, t float64) func(*Shot) {
	return func(s *Shot) { s.Swapped, s.Better = true, Trio{num(d), num(y), num(t)} }
}

func aside(texts ...string) func(*Shot) { return func(s *Shot) { s.Aside = texts } }
func doubt(texts ...string) func(*Shot) { return func(s *Shot) { s.Doubt = texts } }
func strangerOf(name string, near bar.CoffeeID) func(*Shot) {
	return func(s *Shot) { s.Stranger, s.Near = name, near }
}

func tasted(terms ...string) []bar.Word { return Shot{}.with(says(terms...)).Words }

type example struct {
	text string
	want Meaning
}

func checkExamples(t *testing.T, v Vocab, examples []example) {
	t.Helper()
	for _, e := range examples {
		got, err := Shorthand(e.text, v)
		if err != nil {
			t.Errorf("%q: %v", e.text, err)
		} else if diff := cmp.Diff(e.want, got, cmpopts.EquateEmpty(), cmpopts.EquateApprox(0, 1e-9)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", e.text, diff)
		}
	}
}

func TestTheExamplesOfTheManual(t *testing.T) {
	checkExamples(t, theBar(), []example{
		{"18 36 28 sour", dyt(18, 36, 28, says("sour"))},
		{"18/36/28 balanced", dyt(18, 36, 28, says("balanced"))},
		{"18,2 > 36,5 in 27s   bitter, dry", dyt(18.2, 36.5, 27, says("bitter", "dry"))},
		{"harbour 18.1 36.4 24 sour thin", dyt(18.1, 36.4, 24, of(1), says("sour", "thin"))},
		{"18 in, 36 out, 24 s, grind 5.2, purged, very sour", dyt(18, 36, 24, at(5.2, "5.2"), marks(bar.Purged), word(bar.Word{Term: "sour", Degree: 1.5}))},
		{"18,36,21 thin", dyt(18, 36, 21, says("thin"))},
		{"18-36-21", dyt(18, 36, 21)},
		{"1:2 in 28 sweet", Shot{Ratio: num(2), Time: num(28), Words: tasted("sweet")}},
		{"tds 9.4  93C  first drip 8", Shot{TDS: num(9.4), Water: num(93), Drip: num(8)}},
		{"choked", Shot{Marks: bar.Choked}},
		{"18 4 45 choked", dyt(18, 4, 45, marks(bar.Choked))},
		{"28s still sour", Shot{Time: num(28), Words: tasted("sour")}},
		{"same, 27, sweeter", Shot{Same: true, Time: num(27), Words: []bar.Word{{Term: "sweet", Degree: 1, Than: true}}}},
		{"36-37 out", Shot{Yield: roughly(36.5), Weight: true}},
		{"sour and thin", Words{Words: tasted("sour", "thin")}},
		{"that was decaf", Correction{Coffee: 3}},
		{"still 5.2", Correction{Grind: Grind{X: 5.2, Said: true, Text: "5.2"}, Still: true}},
		{"new bag", Happened{Event: bar.NewBag}},
		{"18.1 36.4 24 sour thin", dyt(18.1, 36.4, 24, says("sour", "thin"))},
	})
}

func TestSeparators(t *testing.T) {
	for _, text := range []string{
		"18 36 28", "18/36/28", "18 / 36 / 28", "18,36,28", "18, 36, 28", "18-36-28", "18 - 36 - 28", "18.36.28", "18>36>28",
		"18->36->28", "18 → 36 in 28", "18 36 28s", "18g 36g 28s", "18G 36G 28S", "18 g, 36 g, 28 sec", "18 in 36 out 28 s",
		"18g in 36g out 28 seconds", "in 18 out 36 time 28", "dose 18 yield 36 time 28", "18\n36\n28", "  18   36   28  ", "🙂 18 36 28 ☕",
		"18 36 0:28", "18 36 28\"", "18 36 28!", "**18 36 28**", "shot: 18 36 28", "#3 18 36 28", "18 → 36 → 28", "(18 36 28)",
		"18.0 36.0 28", "18,0/36,0/28", "18-36 in 28", "18g/36g/28s", "28s 18g 36g", "18 to 36 in 28", "18g to 36g in 28 s",
		"1) 18 36 28", "shot 2: 18 36 28",
	} {
		checkExamples(t, theBar(), []example{{text, dyt(18, 36, 28)}})
	}
	checkExamples(t, theBar(), []example{
		{"18.2,36.5,27", dyt(18.2, 36.5, 27)},
		{"18,2,36,5,27", dyt(18.2, 36.5, 27)},
		{"18,2/36,5/27", dyt(18.2, 36.5, 27)},
		{"18,2 36,5 27", dyt(18.2, 36.5, 27)},
	})
}

func TestRoughNumbers(t *testing.T) {
	for _, text := range []string{
		"18 ~36 28", "18 about 36 28", "18 c. 36 28", "18 36ish 28", "18 36-ish 28", "18 36g ish 28", "18 around 36 28", "18 36 or so, 28",
		"18 36ml 28", "18 g 36 ml 28 s", "18 36 by eye 28",
	} {
		checkExamples(t, theBar(), []example{{text, Shot{Dose: num(18), Yield: roughly(36), Time: num(28), Volume: strings.Contains(text, "ml")}}})
	}
	checkExamples(t, theBar(), []example{
		{"18 35-37 28", Shot{Dose: num(18), Yield: roughly(36), Time: num(28)}},
		{"18 36 27–29 s", Shot{Dose: num(18), Yield: num(36), Time: roughly(28)}},
	})
}

// The factors are exact by definition: NIST Handbook 44, appendix C: an
// avoirdupois ounce is 28.349523125 g, a US fluid ounce 29.5735295625 ml;
// t/°C = (t/°F − 32)/1.8 (NIST SP 811, appendix B).
func TestUnits(t *testing.T) {
	checkExamples(t, theBar(), []example{
		{"0.6oz in, 36 out, 28s", dyt(0.6*28.349523125, 36, 28)},
		{"18 g in, 1 oz out, 28s", Shot{Dose: num(18), Yield: roughly(29.5735295625), Time: num(28), Volume: true}},
		{"18 g 1.2 fl oz 28s", Shot{Dose: num(18), Yield: roughly(1.2 * 29.5735295625), Time: num(28), Volume: true}},
		{"18 g 1.2 fl. oz 28s", Shot{Dose: num(18), Yield: roughly(1.2 * 29.5735295625), Time: num(28), Volume: true}},
		{"18 36 28 199.4F", dyt(18, 36, 28, func(s *Shot) { s.Water = num(93) })},
		{"18 36 28 200 °F", dyt(18, 36, 28, func(s *Shot) { s.Water = num(93 + 1.0/3) })},
		{"18 36 28, 93 °C", dyt(18, 36, 28, func(s *Shot) { s.Water = num(93) })},
		{"18 36 28 at 93c", dyt(18, 36, 28, func(s *Shot) { s.Water = num(93) })},
		{"18 36 28 93 degrees", dyt(18, 36, 28, func(s *Shot) { s.Water = num(93) })},
		{"18 36 28 9.4% tds", dyt(18, 36, 28, func(s *Shot) { s.TDS = num(9.4) })},
		{"18 36 28 tds: 9,4 %", dyt(18, 36, 28, func(s *Shot) { s.TDS = num(9.4) })},
		{"18 36 28 drip at 8", dyt(18, 36, 28, func(s *Shot) { s.Drip = num(8) })},
		{"18 36 28 first drops at 8 s", dyt(18, 36, 28, func(s *Shot) { s.Drip = num(8) })},
		{"18 36 28 at 9 bar", dyt(18, 36, 28)},
		{"18 36 28 ey 20%", dyt(18, 36, 28)},
		{"18 36 1:05 min", dyt(18, 36, 65)},
		{"1:05 min sour", Shot{Time: num(65), Words: tasted("sour")}},
		{"28''", Shot{Time: num(28)}},
		{"0:28", Shot{Time: num(28)}},
		{"1 : 2.2 in 27 sour", Shot{Ratio: num(2.2), Time: num(27), Words: tasted("sour")}},
	})
}

func TestDials(t *testing.T) {
	for text, want := range map[string]func(*Shot){
		"grind 5.2": at(5.2, "5.2"), "at 5.2": at(5.2, "5.2"), "@5.2": at(5.2, "5.2"), "@ 5,2": at(5.2, "5,2"), ", g 5.2": at(5.2, "5.2"),
		"5.2 grind": at(5.2, "5.2"), "grind size 5.2": at(5.2, "5.2"), "setting 5.2": at(5.2, "5.2"), "dial 5.2": at(5.2, "5.2"), "grind: 5.2": at(5.2, "5.2"), "grind at 5.2": at(5.2, "5.2"),
		"on 5.2": at(5.2, "5.2"), "grind 5-6": amid(5.5, "5-6"), "grind 1-2": amid(1.5, "1-2"), "between 5 and 6": amid(5.5, "between 5 and 6"),
		"grind between 5 and 6": amid(5.5, "between 5 and 6"), "grind 2.3.5": odd("2.3.5"), "at 2.3.5": odd("2.3.5"),
		"grind 5+": odd("5+"), "grind 3G": odd("3G"), "grind B4": odd("B4"), "2 finer": steps(2, "2 finer"), "grind 2 finer": steps(2, "2 finer"),
		"a touch coarser": steps(-1, "a touch coarser"), "one step coarser": steps(-1, "one step coarser"),
		"half a step finer": steps(0.5, "half a step finer"), "2 steps finer": steps(2, "2 steps finer"),
		"went finer":    steps(1, "finer"),
		"still at 5.2":  func(s *Shot) { at(5.2, "5.2")(s); s.Marks = bar.Stuck },
		"still 5.2":     func(s *Shot) { at(5.2, "5.2")(s); s.Marks = bar.Stuck },
		"same grind":    marks(bar.Stuck),
		"needs 2 finer": func(*Shot) {},
		"much finer":    func(s *Shot) { s.Grind = Grind{Said: true, Relative: true, Odd: true, Text: "much finer"} },
	} {
		checkExamples(t, theBar(), []example{{"18 36 28 " + text, dyt(18, 36, 28, want)}})
	}
}

// Letters are a dial's where the bar has such a dial.
func TestLetteredDials(t *testing.T) {
	v := theBar()
	v.Letters = 11
	checkExamples(t, v, []example{
		{"18 36 28 at 3G", dyt(18, 36, 28, odd("3G"))},
		{"18 36 28 @ 3k", dyt(18, 36, 28, odd("3k"))},
		{"18 36 28 at 93C", dyt(18, 36, 28, func(s *Shot) { s.Water = num(93) })},
		{"was 3G", Correction{Grind: Grind{Said: true, Odd: true, Text: "3G"}}},
		{"still 4A", Correction{Grind: Grind{Said: true, Odd: true, Text: "4A"}, Still: true}},
		{"18 in, 36 out, 28s", dyt(18, 36, 28)},
	})
	checkExamples(t, theBar(), []example{ // and are asked about where it has none
		{"18 36 28 at 3G", dyt(18, 36, 28, odd("3G"))},
		{"18 36 28 at 3L", dyt(18, 36, 28, odd("3L"))},
		{"18 36 at 28s", dyt(18, 36, 28)},
		{"18 in, 36g out at 28s", dyt(18, 36, 28)},
	})
}

func TestMarks(t *testing.T) {
	for text, want := range map[string]bar.Marks{
		"practice": bar.Practice, "training": bar.Practice, "sink": bar.Sink, "single": bar.Single, "first": bar.First,
		"first shot of the day": bar.First, "purged": bar.Purged, "not purged": bar.NotPurged, "no purge": bar.NotPurged,
		"unpurged": bar.NotPurged, "didn’t purge": bar.NotPurged, "stopped early": bar.Stopped,
		"cut at 28": bar.Stopped, "purged, sink": bar.Purged | bar.Sink, "not choked": 0, "didn't choke": 0, // with 36 g in the cup it ran through
	} {
		checkExamples(t, theBar(), []example{{"18 36 28 " + text, dyt(18, 36, 28, marks(want))}})
	}
	checkExamples(t, theBar(), []example{{"18 36 28 choked", dyt(18, 36, 28, func(s *Shot) { s.Over = "choked" })}})
	for _, text := range []string{"spurted", "sprayed", "squirted", "spurtting", "sprurting"} {
		checkExamples(t, theBar(), []example{{"18 36 28 " + text, dyt(18, 36, 28, marks(bar.Spurted), says("spurting"))}})
	}
	checkExamples(t, theBar(), []example{
		{"18 36 28 channelled", dyt(18, 36, 28, marks(bar.Spurted), says("channelled"))},
		{"18 36 28 not spurting", dyt(18, 36, 28, word(bar.Word{Term: "spurting", Degree: 1, Not: true}))},
		{"choked at 45", Shot{Time: num(45), Marks: bar.Choked}},
		{"it choked again", Shot{Marks: bar.Choked, Refers: true}},
		{"18 45 choked", Shot{Dose: num(18), Time: num(45), Marks: bar.Choked}},
		{"18 0 45 choked", dyt(18, 0, 45, marks(bar.Choked))},
		{"gusher", Shot{Gushed: true}},
		{"18 36 12 gushed", dyt(18, 36, 12, func(s *Shot) { s.Gushed = true })},
		{"stopped at 20 s", Shot{Time: num(20), Marks: bar.Stopped}},
		{"cut at 30 g, 22s", Shot{Yield: num(30), Time: num(22), Marks: bar.Stopped}},
		{"purged", Words{Marks: bar.Purged}},
		{"sink", Words{Marks: bar.Sink}},
		{"18 36 28 sweet, dialled in", dyt(18, 36, 28, says("sweet"), func(s *Shot) { s.Dialled = true })},
	})
}

func TestNames(t *testing.T) {
	v := theBar()
	v.Coffees = append(v.Coffees, Name[bar.CoffeeID]{"Harbour Night", 4}, Name[bar.CoffeeID]{"Blend 2", 5}, Name[bar.CoffeeID]{"Sweet Dreams", 6})
	checkExamples(t, v, []example{
		{"harbour 18 36 28", dyt(18, 36, 28, of(1))},
		{"HARBOUR: 18 36 28", dyt(18, 36, 28, of(1))},
		{"harbour night 18 36 28", dyt(18, 36, 28, of(4))},
		{"harbour ni 18 36 28", dyt(18, 36, 28, of(4))},
		{"night 18 36 28", dyt(18, 36, 28, of(4))},
		{"ti 18 36 28", dyt(18, 36, 28, of(2))},
		{"18 36 28 tide sour", dyt(18, 36, 28, of(2), says("sour"))},
		{"blend 2 18 36 28", dyt(18, 36, 28, of(5))},
		{"bl 18 36 28", dyt(18, 36, 28, of(5))},
		{"18 36 28 sweet", dyt(18, 36, 28, says("sweet"))},
		{"sweet dreams 18 36 28", dyt(18, 36, 28, of(6))},
		{"tide on left 18 36 28", dyt(18, 36, 28, of(2), on(1))},
		{"18 36 28 on ri", dyt(18, 36, 28, on(2))},
		{"left 18 36 28", dyt(18, 36, 28, on(1))},
		{"harbour is sour", Words{Words: tasted("sour"), Coffee: 1}},
	})
	checkMistake(t, v, "ha 18 36 28", Mistake{Ambiguous, "ha", "Harbour, Harbour Night", ""})
	checkExamples(t, v, []example{{"ha ha ha", Chatter{}}})
}

func checkMistake(t *testing.T, v Vocab, text string, want Mistake) {
	t.Helper()
	m, err := Message(text, v)
	if got, ok := errors.AsType[Mistake](err); !ok || got != want {
		t.Errorf("%q is read as %+v, %#v; want %#v", text, m, err, want)
	}
}

func TestTheImpossibleIsRefused(t *testing.T) {
	for text, want := range map[string]Mistake{
		"18 36 0":         {Impossible, "time 0 s", "1–180 s", ""},
		"18 36 NaN":       {Impossible, "time NaN", "1–180 s", ""},
		"18 36 inf sour":  {Impossible, "time inf", "1–180 s", ""},
		"18 36 ∞":         {Impossible, "time inf", "1–180 s", ""},
		"18 36 -28":       {Impossible, "time -28 s", "1–180 s", ""},
		"18 400 28":       {Impossible, "yield 400 g", "0.1–120 g", ""},
		"18 0 28":         {Impossible, "yield 0 g", "0.1–120 g", ""},
		"0 36 28":         {Impossible, "dose 0 g", "5–30 g", ""},
		"60 36 28":        {Impossible, "dose 60 g", "5–30 g", ""},
		"18 36 28 tds 50": {Impossible, "TDS 50 %", "1–30 %", ""},
		"18 36 28 120C":   {Impossible, "water 120 °C", "70–100 °C", ""},
		"18 36 200s":      {Impossible, "time 200 s", "1–180 s", ""},
		"36 18 28 6C":     {Impossible, "water 6 °C", "70–100 °C", ""}, // in whatever order the others stand
		"0s sour":         {Impossible, "time 0 s", "1–180 s", ""},
	} {
		checkMistake(t, theBar(), text, want)
	}
}

func TestTheOrderOfTheBar(t *testing.T) {
	v := theBar()
	v.Order = bar.DoseTimeYield
	checkExamples(t, v, []example{
		{"18 28 36 sour", dyt(18, 36, 28, says("sour"))},
		{"18 28 36g", dyt(18, 36, 28)},
		{"18 36 28", dyt(18, 28, 36, better(18, 36, 28))},
		{"18g 36g 28s", dyt(18, 36, 28)},
	})
	checkExamples(t, theBar(), []example{
		{"18 28 36 sour", dyt(18, 28, 36, says("sour"), better(18, 36, 28))},
		{"36 18 28", dyt(36, 18, 28, better(18, 36, 28))},
		{"18 36 45", dyt(18, 36, 45)},
		{"18 36 15", dyt(18, 36, 15)},
		{"18 30 24", dyt(18, 30, 24)},
		{"18 40 36", dyt(18, 40, 36)},
	})
}

func TestHalfReports(t *testing.T) {
	checkExamples(t, theBar(), []example{
		{"28s", Shot{Time: num(28)}},
		{"28", Chatter{}},
		{"28ish", Chatter{}},
		{"18 36", Shot{Dose: num(18), Yield: num(36), Half: true, Doubt: []string{"18 36"}}},
		{"18 36 sour", Shot{Dose: num(18), Yield: num(36), Words: tasted("sour")}},
		{"18 → 36, purged", Shot{Dose: num(18), Yield: num(36), Marks: bar.Purged}},
		{"36 in 28", Shot{Yield: num(36), Time: num(28)}},
		{"18 in 28s", Shot{Dose: num(18), Time: num(28)}},
		{"36g 28s", Shot{Yield: num(36), Time: num(28)}},
		{"same 30s", Shot{Same: true, Time: num(30)}},
		{"18.5 1:2.2 30 sweet", Shot{Dose: num(18.5), Ratio: num(2.2), Time: num(30), Words: tasted("sweet")}},
		{"1:2.5 ratio 27s", Shot{Ratio: num(2.5), Time: num(27)}},
		{"18½ 36 28", Chatter{}},
		{"18 36 2８", Chatter{}},
		{"that one was 18 in, 36 out", Shot{Dose: num(18), Yield: num(36)}},
	})
}

func TestWordsBeforeAndAfterABareTriple(t *testing.T) {
	v := theBar()
	v.Usual = []string{"doppio"}
	checkExamples(t, v, []example{
		{"doppio 18 36 28", dyt(18, 36, 28)},
		{"tide doppio 18 36 28", dyt(18, 36, 28, of(2))},
		{"sour 18 36 28", dyt(18, 36, 28, says("sour"))},
		{"trippio 18 36 28", dyt(18, 36, 28, strangerOf("trippio", 0))},
		{"the 18 36 28", dyt(18, 36, 28)},
		{"18 36 28 zonk", dyt(18, 36, 28, unread("zonk"))},
		{"18 36 28 zonk blip quux", dyt(18, 36, 28, unread("zonk", "blip", "quux"))},
		{"18 36 28 zonk blip quux frob", dyt(18, 36, 28, unread("zonk", "blip", "quux", "frob"), doubt("zonk", "blip", "quux", "frob"))},
		{"18 36 28 sour zonk", dyt(18, 36, 28, says("sour"), unread("zonk"))},
	})
}

func TestWordsAlone(t *testing.T) {
	checkExamples(t, theBar(), []example{
		{"not sour, sweet", Words{Words: []bar.Word{{Term: "sour", Degree: 1, Not: true}, {Term: "sweet", Degree: 1}}}},
		{"a bit dry", Words{Words: []bar.Word{{Term: "dry", Degree: 0.5}}}},
		{"sour!", Words{Words: tasted("sour")}},
		{"sour, sink", Words{Words: tasted("sour"), Marks: bar.Sink}},
		{"nice", Words{Words: tasted("nice")}},
		{"sour jo", Chatter{}},
	})
}

func TestPuttingItRight(t *testing.T) {
	dial := func(x float64, text string) Correction { return Correction{Grind: Grind{X: x, Said: true, Text: text}} }
	bare := dial(5.1, "5.1")
	bare.Bare = num(5.1)
	checkExamples(t, theBar(), []example{
		{"was 5.1", bare},
		{"sorry, was 5.1", bare},
		{"it was 28s", Correction{Time: num(28)}},
		{"dose was 17.5", Correction{Dose: num(17.5)}},
		{"the yield should be 35", Correction{Yield: num(35)}},
		{"no, 27s", Correction{Time: num(27)}},
		{"*36s", Correction{Time: num(36)}},
		{"typo: 36s", Correction{Time: num(36)}},
		{"I meant 36 s, not 35", Correction{Was: num(35), Time: num(36)}},
		{"was 35 g", Correction{Bare: num(35), Mass: true}},
		{"nein, es waren 26 s", Correction{Time: num(26)}},
		{"no, era 26 s", Correction{Time: num(26)}},
		{"nee, het was 26 s", Correction{Time: num(26)}},
		{"não, eram 26 s", Correction{Time: num(26)}},
		{"no, eran 26 s", Correction{Time: num(26)}},
		{"non, c'était 26 s", Correction{Time: num(26)}},
		{"no, 3", Correction{Grind: Grind{X: 3, Said: true, Text: "3"}, Bare: num(3), Weak: true}},
		{"no 27", Correction{Grind: Grind{X: 27, Said: true, Text: "27"}, Bare: num(27), Weak: true}},
		{"no, 3 of them", Chatter{}},
		{"sorry, 5 min", Chatter{}},
		{"sorry 20 late", Chatter{}},
		{"no, 2 of them", Chatter{}},
	})
	for _, text := range []string{"it was at 5.1", "that was at 5.1", "still at 5.1", "still on 5.1", "grind was 5.1", "Still 5.1!"} {
		want := dial(5.1, "5.1")
		want.Still = strings.HasPrefix(strings.ToLower(text), "still")
		checkExamples(t, theBar(), []example{{text, want}})
	}
	for _, text := range []string{"ignore that", "scrap that", "wrong shot", "ignore that one", "scrap the last one", "forget that shot", "Ignore that!", "delete that please"} {
		spoilt := strings.Contains(text, "gnore") || strings.Contains(text, "scrap") // it was pulled, and the dial stands where it stood
		checkExamples(t, theBar(), []example{{text, Correction{Ignore: true, Spoilt: spoilt}}})
	}
	checkExamples(t, theBar(), []example{
		{"it was tide", Correction{Coffee: 2}},
		{"that was the decaf", Correction{Coffee: 3}},
		{"still 5+", Correction{Grind: Grind{Said: true, Odd: true, Text: "5+"}, Still: true}},
		{"was 2.3.5", Correction{Grind: Grind{Said: true, Odd: true, Text: "2.3.5"}}},
		{"it was 2 finer", Correction{Grind: Grind{X: 2, Said: true, Relative: true, Text: "2 finer"}}},
	})
}

func TestWhatHappenedToTheBar(t *testing.T) {
	checkExamples(t, theBar(), []example{
		{"new bag of harbour", Happened{Event: bar.NewBag, Coffee: 1}},
		{"opened a new bag", Happened{Event: bar.NewBag}},
		{"tide: new bag", Happened{Event: bar.NewBag, Coffee: 2}},
		{"cleaned the grinder", Happened{Event: bar.Cleaned}},
		{"cleaned the left grinder", Happened{Event: bar.Cleaned, Grinder: 1}},
		{"re-zeroed", Happened{Event: bar.Rezeroed}},
		{"rezeroed left", Happened{Event: bar.Rezeroed, Grinder: 1}},
		{"New burrs!", Happened{Event: bar.NewBurrs}},
		{"new burrs on right", Happened{Event: bar.NewBurrs, Grinder: 2}},
		{"fresh bag", Happened{Event: bar.NewBag}},
		{"hopper is low", Happened{Event: bar.HopperLow}},
		{"left hopper nearly empty", Happened{Event: bar.HopperLow, Grinder: 1}},
		{"topped up the hopper", Happened{Event: bar.HopperFilled}},
		{"refilled the right hopper", Happened{Event: bar.HopperFilled, Grinder: 2}},
		{"swapped to decaf", Happened{Event: bar.Swapped, Coffee: 3}},
		{"tide is in the left hopper now", Happened{Event: bar.Swapped, Coffee: 2, Grinder: 1}},
		{"swapped hoppers", Happened{Event: bar.Swapped}},
		{"new water filter", Happened{Event: bar.NewFilter}},
		{"filter changed", Happened{Event: bar.NewFilter}},
		{"descaled the machine", Happened{Event: bar.Descaled}},
		{"new basket for tide", Happened{Event: bar.OtherBasket, Coffee: 2}},
		{"moved to the other group", Happened{Event: bar.OtherGroup}},
		{"harbour on the other group", Happened{Event: bar.OtherGroup, Coffee: 1}},
		{"it's in the bag", Chatter{}},
		{"topped up", Chatter{}},
		{"put the beans in the hopper", Chatter{}},
		{"swapped with sam", Chatter{}},
		{"the filter coffee is new", Chatter{}},
		{"dialled in", CallIt{}},
		{"dialed in", CallIt{}},
		{"harbour dialled", CallIt{Coffee: 1}},
		{"harbour is dialled in", CallIt{Coffee: 1}},
		{"that's it, dialled", CallIt{}},
		{"not dialled in", CallIt{Not: true}},
	})
}

func TestForMilk(t *testing.T) {
	milk := marks(bar.InMilk)
	checkExamples(t, theBar(), []example{
		{"18 30 28 for milk, thin", dyt(18, 30, 28, milk, says("thin"))},
		{"for milk 18 30 28", dyt(18, 30, 28, milk)},
		{"18 30 28 milk, sweet", dyt(18, 30, 28, milk, says("sweet"))},
		{"18 30 28 in a flat white", dyt(18, 30, 28, milk)},
		{"18 30 28 lost in milk", dyt(18, 30, 28, says("lost in milk"))},
		{"milk 18 30 28", dyt(18, 30, 28, milk)},
		{"in milk, thin", Words{Words: tasted("thin"), Marks: bar.InMilk}},
		{"2 flat whites, 3 lattes", Chatter{}},
	})
}

// Which grinder it was can be put right.
func TestWrongGrinder(t *testing.T) {
	checkExamples(t, theBar(), []example{
		{"wrong grinder", Correction{Other: true}},
		{"wrong grinder, it was right", Correction{Grinder: 2}},
		{"that was on right", Correction{Grinder: 2}},
		{"that was tide on right", Correction{Coffee: 2, Grinder: 2}},
	})
}

// What happened may stand beside a shot.
func TestAnEventAndAShot(t *testing.T) {
	told := func(e bar.Event) func(*Shot) { return func(s *Shot) { s.Event = e } }
	checkExamples(t, theBar(), []example{
		{"new bag, 18 36 24 sour", dyt(18, 36, 24, told(bar.NewBag), says("sour"))},
		{"new bag 18 36 24 sour", dyt(18, 36, 24, told(bar.NewBag), says("sour"))},
		{"harbour 18 36 24 sour, new bag", dyt(18, 36, 24, of(1), told(bar.NewBag), says("sour"))},
		{"opened a new bag: 18 36 24", dyt(18, 36, 24, told(bar.NewBag))},
		{"topped up the hopper, 18 36 24", dyt(18, 36, 24, told(bar.HopperFilled))},
		{"18 36 24 hopper is low", dyt(18, 36, 24, told(bar.HopperLow))},
		{"swapped to tide, 18 36 24", dyt(18, 36, 24, of(2), told(bar.Swapped))},
		{"re-zeroed, 18 36 24 grind 3", dyt(18, 36, 24, at(3, "3"), told(bar.Rezeroed))},
		{"new filter. 18 36 24 sour", dyt(18, 36, 24, told(bar.NewFilter), says("sour"))},
		{"descaled, 18 36 24", dyt(18, 36, 24, told(bar.Descaled))},
		{"18 36 24 new basket", dyt(18, 36, 24, told(bar.OtherBasket))},
		{"18 36 24 other group", dyt(18, 36, 24, told(bar.OtherGroup))},
		{"18 36 24 on group 2 sour", dyt(18, 36, 24, says("sour"))},
	})
}

// What is too long is refused if it began as a shot, and left alone if not.
func TestLongMessages(t *testing.T) {
	noise := strings.Repeat("so we went to the lake and ", 120)
	checkMistake(t, theBar(), "18 36 28 sour "+noise, Mistake{TooLong, "18 36 28 sour so", "2000 characters", ""})
	checkExamples(t, theBar(), []example{{noise, Chatter{}}, {strings.Repeat("☕", 3000), Chatter{}}, {noise[:1990], Chatter{}}})
}

func FuzzMessage(f *testing.F) {
	for _, seed := range []string{"18 36 28 sour", "18,2,36,5,27", "same, 27, sweeter", "/coffee add name:\"x\" dose:18", "18 36 NaN", "1:2 in 28", "36 18 28", "18\xd425!6,1C36!5,\x1b7", "still 5+", "½ 18 ١٢", "not gribbly, a bit snorky"} {
		f.Add(seed)
	}
	taught := theBar()
	taught.Words = []bar.Own{{Word: "gribbly", Means: "sour"}, {Word: "snorky"}}
	taught.Answer = true
	f.Fuzz(func(t *testing.T, text string) {
		if m, err := Message(text, taught); (m == nil) == (err == nil) {
			t.Fatalf("%q, in answer: %v and %v", text, m, err)
		}
		m, err := Message(text, theBar())
		if _, ok := errors.AsType[Mistake](err); err != nil && !ok {
			t.Fatalf("%q: %v is no mistake", text, err)
		}
		if (m == nil) == (err == nil) {
			t.Fatalf("%q: %v and %v", text, m, err)
		}
		s, ok := m.(Shot)
		if !ok {
			return
		}
		if s.Swapped {
			s.Dose, s.Yield, s.Time = s.Better.Dose, s.Better.Yield, s.Better.Time
		}
		if err := Check(s); err != nil {
			t.Errorf("%q: %v", text, err)
		}
		for _, n := range []Number{s.Dose, s.Yield, s.Time, s.Ratio, s.TDS, s.Water, s.Drip} {
			if math.IsNaN(n.X) || math.IsInf(n.X, 0) {
				t.Errorf("%q: %v", text, n)
			}
		}
	})
}

// Reading takes time in proportion to the text, whatever it is.
func BenchmarkMessage(b *testing.B) {
	for _, piece := range []string{"zonk ", "18 ", "18,", "18;", "harbour 5 and ", "18:", "<@", "a half a ", "harbour ", "-", "\"", "c. ", "☕"} {
		for _, n := range []int{1500, 1999} {
			text := strings.Repeat(piece, n/len([]rune(piece)))
			b.Run(fmt.Sprintf("%q/%d", piece, n), func(b *testing.B) {
				for b.Loop() {
					_, _ = Message(text, theBar())
				}
			})
		}
	}
	text := strings.Repeat("zonk 18 ", 375)
	b.Run("3000 characters", func(b *testing.B) {
		for b.Loop() {
			_, _ = Message(text, theBar())
		}
	})
}

// The dial may stand where no label says so: behind the time of a choke, or
// last of four numbers of a shot that was tasted.
func TestDialWithoutALabel(t *testing.T) {
	t.Parallel()
	choked := marks(bar.Choked)
	checkExamples(t, Vocab{}, []example{
		{"18 4 45 choked at 5", dyt(18, 4, 45, choked, at(5, "5"))},
		{"18 4 45 choked at 5.2", dyt(18, 4, 45, choked, at(5.2, "5.2"))},
		{"18 4 45 choked at 60", dyt(18, 4, 45, choked, at(60, "60"))},
		{"18->4 45s choked at 5", dyt(18, 4, 45, choked, at(5, "5"))},
		{"choked at 5", Shot{}.with(choked, at(5, "5"))},
		{"choked at 45", Shot{Time: num(45)}.with(choked)},
		{"choked at 12 s", Shot{Time: num(12)}.with(choked)},
		{"18 4 choked at 45", dyt(18, 4, 45, choked)},
		{"18 4 45 5.0 choked", dyt(18, 4, 45, choked, at(5, "5.0"))},
		{"18 36 28 5.0 sour", dyt(18, 36, 28, says("sour"), at(5, "5.0"))},
		{"18 36 28 sour 5.0", dyt(18, 36, 28, says("sour"), at(5, "5.0"))},
		{"18/36/28 sour, 5.2", dyt(18, 36, 28, says("sour"), at(5.2, "5.2"))},
		{"18 36 28 sour, 5 on the dial", dyt(18, 36, 28, says("sour"), at(5, "5"))},
		{"18 36 28 sour grind 4.x", dyt(18, 36, 28, says("sour"), odd("4.x"))},
		{"18 36 28 5", dyt(18, 36, 28, at(5, "5"))},
		{"18 36 24 12 cups of sour", dyt(18, 36, 24, says("sour"), aside("12 cups"), doubt("12 cups"))},
		{"1 2 3 4 sour", Chatter{}},
	})
}

// A message with the numbers of a shot is recorded, asked about or refused,
// whatever else it says.
func TestNoShotIsLost(t *testing.T) {
	t.Parallel()
	v := theBar()
	v.Coffees = v.Coffees[:2]
	checkExamples(t, v, []example{
		{"harbor 18 36 24 sour", dyt(18, 36, 24, says("sour"), of(1))},
		{"habor 18 36 24 sour", dyt(18, 36, 24, says("sour"), strangerOf("habor", 1))},
		{"18 36 24 sour habor", dyt(18, 36, 24, says("sour"), strangerOf("habor", 1))},
		{"mocca 18 36 29 sour", dyt(18, 36, 29, says("sour"), strangerOf("mocca", 0))},
		{"decaf 18 36 29", dyt(18, 36, 29, strangerOf("decaf", 0))},
		{"harbour 18 36 24sour", dyt(18, 36, 24, of(1), says("sour"))},
		{"18/36/29/5.2", dyt(18, 36, 29, at(5.2, "5.2"))},
		{"d18 y36 t25", dyt(18, 36, 25)},
		{"D18.5 Y36 T25 sour", dyt(18.5, 36, 25, says("sour"))},
		{"d: 18, y: 36, t: 25", dyt(18, 36, 25)},
		{"just pulled 18 36 25 tastes bitter on harbour", dyt(18, 36, 25, of(1), says("bitter"))},
		{"18 36 33 sweet, preinfusion 8", dyt(18, 36, 33, says("sweet"), aside("preinfusion 8"))},
		{"18 36 33 8s pre-infusion", dyt(18, 36, 33, aside("8s pre-infusion"))},
		{"18 36 30 dropped at 7 s", dyt(18, 36, 30, func(s *Shot) { s.Drip = num(7) })},
		{"18 36 28 for table 4", dyt(18, 36, 28, aside("table 4"))},
		{"18 36 28 sour at 7:30", dyt(18, 36, 28, says("sour"), aside("7:30"))},
		{"18 36 28 grind -1", dyt(18, 36, 28, at(-1, "-1"))},
		{"18 30 22 for milk sour", dyt(18, 30, 22, marks(bar.InMilk), says("sour"))},
		{"18 30 22 sour for milk", dyt(18, 30, 22, marks(bar.InMilk), says("sour"))},
		{"18 30 26 2 flat whites", dyt(18, 30, 26, marks(bar.InMilk))},
		{"18 18 36 28", dyt(18, 36, 28, aside("18"), doubt("18"))},
		{"no new bag, 18 36 24", dyt(18, 36, 24, unread("new"))},
		{"18g in, 36g out, 28 s, 9 bar, 93C, table 4, at 7:30", dyt(18, 36, 28, aside("table 4", "7:30"), func(s *Shot) { s.Water = num(93) })},
		{"18in 36out sour table 4", Shot{Dose: num(18), Yield: num(36), Aside: []string{"table 4"}}.with(says("sour"))},
		{"harbour 18 36", Shot{Coffee: 1, Dose: num(18), Yield: num(36)}},
		{"2 flat whites", Chatter{}},
		{"won 18 36 24 in the lotto", Chatter{}},
		{"try 18 36 28", Chatter{}},
		{"recipe for harbour is 18 36 28", Call{Command: chat.Command{Name: "coffee edit", Options: []chat.Option{{Name: "name", Value: "Harbour"}, {Name: "dose", Value: "18"}, {Name: "yield", Value: "36"}, {Name: "time", Value: "26-30"}}}}},
		{"18 20 22 24 26 28", Chatter{}},
	})
	checkMistake(t, v, "18 36 28 sour, 18 36 25 sweet", Mistake{Several, "18 36 28", "18 36 25", ""})
	checkMistake(t, v, "18 36 28 out 40", Mistake{Kind: Unclear, What: "18 36 28 out 40"})
}
