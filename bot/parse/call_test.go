package parse

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
)

func TestShotOf(t *testing.T) {
	for text, want := range map[string]Shot{
		"/shot 18 36 28 sour":                        dyt(18, 36, 28, says("sour")),
		"/shot 18 36 time:28":                        dyt(18, 36, 28),
		"/shot dose:18 36 28":                        dyt(18, 36, 28),
		"/shot 18 36":                                {Dose: num(18), Yield: num(36)},
		`/shot text:"18 36 28 thin" grind:"2 finer"`: dyt(18, 36, 28, says("thin"), steps(2, "2 finer")),
		`/shot 18 36 28 taste:"sour 40 dose:3"`:      dyt(18, 36, 28, says("sour"), unread("dose")),

		"/shot dose:18 yield:36,5 time:28s taste:sour grind:5.2 coffee:har purged:yes": dyt(
			18, 36.5, 28, of(1), says("sour"), at(5.2, "5.2"), marks(bar.Purged)),
	} {
		c, err := Command(text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := ShotOf(c, theBar())
		if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" || err != nil {
			t.Errorf("%q: %v (-want +got):\n%s", text, err, diff)
		}
	}
}

func TestShotOfRefuses(t *testing.T) {
	for text, want := range map[string]Mistake{
		"/shot":                   {MissingOption, "text", "", ""},
		"/shot dose:x":            {BadOption, "dose:x", "", "grams, as 18 or 18.2 g"},
		"/shot time:5g":           {BadOption, "time:5g", "", "seconds, as 28 or 28 s"},
		"/shot dose:90 time:28":   {Impossible, "dose 90 g", "5–30 g", ""},
		"/shot coffee:zonk 18 36": {BadOption, "zonk", "Harbour, Tide, decaf", ""},
		"/shot 1 2 3 4":           {BadOption, "1 2 3 4", "", "dose, yield and time, each once"},
		"/shot 18 36 28 grind:x":  {BadOption, "grind:x", "", "a position as 5.2, or a move as 2 finer"},
	} {
		c, err := Command(text)
		if err != nil {
			t.Fatal(err)
		}
		if s, err := ShotOf(c, theBar()); !errors.Is(err, want) {
			t.Errorf("%q: %+v, %#v; want %#v", text, s, err, want)
		}
	}
}

// Messages put together from what people say are read as the same shot when
// they are printed, in any order of their parts.
func TestPrintedShotsAreReadAgain(t *testing.T) {
	parts := strings.Split("18|36|28|18.2|36,5|18 36 28|18/28/36|28s|0:28|36g|18g in|~36 out|36-37 out|in 28|1:2|1:2.5|same|harbour|tide|ha|on left|right|"+
		"grind 5.2|at 5+|2 finer|a touch coarser|between 5 and 6|same grind|still at 4|went finer|much coarser|needs 2 finer|tds 9.4|9%|93C|200F|first drip 8|"+
		"choked|choked at 45|gusher|stopped early|cut at 20|sink|practice|single|first|first shot|purged|no purge|not choked|spurted|"+
		"sour|very sour|not bitter|a bit thin|way too dry|sweeter|less sour|no finish|zonk|finer|quux|in|out|at|dose|still|dialled in|,|.|/|\n|☕|?|the|and|2 oz|30 ml|ish|about|by eye|+|-|(|new bag|was|18:30", "|")
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(parts), 1, 8).Draw(t, "parts"), " ")
		m, err := Shorthand(text, theBar())
		want, ok := m.(Shot)
		if !ok || err != nil || len(want.Doubt) > 0 || want.Stranger != "" {
			return
		}
		want.Aside, want.Volume, want.Over = nil, false, ""
		printed := Format(want, theBar())
		got, err := Shorthand(printed, theBar())
		same := []cmp.Option{
			cmpopts.EquateEmpty(), cmpopts.EquateApprox(0, 1e-9), cmpopts.IgnoreFields(bar.Word{}, "Degree"),
			cmpopts.IgnoreFields(Shot{}, "Refers", "Weight"), // which shot is meant stands in no print of it
		}
		if diff := cmp.Diff(Meaning(want), got, same...); diff != "" {
			t.Fatalf("%q printed as %q: %v\n%s", text, printed, err, diff)
		}
	})
}

// A shot that ran through is none that choked, and its print says no more of it.
func TestPrintOfAShotThatRanThrough(t *testing.T) {
	want := Shot{Yield: num(36), Time: num(28)}.with(unread("zonk"))
	typed := want
	typed.Over = "choked"
	checkExamples(t, theBar(), []example{{"36 28s choked zonk", typed}, {Format(want, theBar()), want}})
}
