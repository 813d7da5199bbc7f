package advisor

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// The laws of the advice, held against histories at random. TestAdviceIsSane has
// those of a cup that was complained of or praised.

// rightHere returns how likely the setting just used is right.
func rightHere(s *stage) float64 {
	r, _ := NewMemory(1).replay(s.History, 1, s.now)
	return r.here().right
}

// grindMove reports whether a moves the dial.
func grindMove(a Advice) bool { return a.Lever == bar.Grind && a.To != a.From }

// What happened at one instant may be handed over in any order.
func TestOrderOfAnInstant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyHistory(t)
		last := s.Entries[len(s.Entries)-1]
		said := rapid.SliceOfN(rapid.SampledFrom([]string{"sour", "bitter", "thin", "sweet", "balanced"}), 2, 4).Draw(t, "said")
		tell := func(order []int) *stage {
			told := &stage{History: s.History, now: s.now}
			told.Entries = slices.Clone(s.Entries)
			for _, i := range order {
				words, _ := taste.Default().Read(said[i])
				told.Entries = append(told.Entries, bar.Entry{
					ID: bar.EntryID(len(told.Entries) + 1), Person: bar.PersonID(i + 2), At: last.At, Day: last.Day,
					What: bar.Words{Shot: last.ID, Words: words},
				})
			}
			return told
		}
		order := make([]int, len(said))
		for i := range order {
			order[i] = i
		}
		one, other := tell(order), tell(rapid.Permutation(order).Draw(t, "order"))
		a, _ := Advise(one.History, 1, one.now)
		b, _ := Advise(other.History, 1, other.now)
		if a.Lever != b.Lever || a.To != b.To || math.Abs(a.Sure-b.Sure) > 1e-9 {
			t.Fatalf("%v %g, sure %g; in another order %v %g, sure %g", a.Lever, a.To, a.Sure, b.Lever, b.To, b.Sure)
		}
	})
}

// likelyHistory pulls shots of one bar: a step is worth what it is worth, and times
// scatter as they do.
func likelyHistory(t *rapid.T) (s *stage, time func(bar.Dial) bar.Seconds) {
	s = newStage(lower(), recipe())
	worth := rapid.Float64Range(0.02, 0.12).Draw(t, "worth of a step")
	level := rapid.Float64Range(18, 40).Draw(t, "time at 5")
	time = func(at bar.Dial) bar.Seconds {
		scatter := rapid.Float64Range(-0.08, 0.08).Draw(t, "scatter")
		return bar.Seconds(math.Round(level * math.Exp(10*worth*float64(5-at)+scatter)))
	}
	for range rapid.IntRange(0, 6).Draw(t, "shots") {
		at := bar.Dial(rapid.IntRange(46, 54).Draw(t, "grind")) / 10
		s.silent(at, time(at), rapid.SampledFrom([]string{"", "sour", "bitter", "thin", "strong", "sweet", "a bit sour"}).Draw(t, "words"))
	}
	return s, time
}

// A second cup, the same in all and praised the same, never lowers how sure it is.
func TestSecondPraiseNeverLowers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, time := likelyHistory(t)
		grind := bar.Dial(rapid.IntRange(46, 54).Draw(t, "liked at")) / 10
		seconds := time(grind)
		word := rapid.SampledFrom([]string{"balanced", "sweet", "lovely"}).Draw(t, "praise")
		s.silent(grind, seconds, word)
		once := rightHere(s)
		s.silent(grind, seconds, word)
		if twice := rightHere(s); twice < once-1e-3 {
			t.Fatalf("%.3f after one praise, %.3f after two", once, twice)
		}
	})
}

// A first shot that is further from the aim is never likelier to be kept. The aim is
// a hundredth short of the window's middle, as beds channel the finer they are.
func TestFurtherIsNeverLikelier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := recipe()
		mid := math.Exp(middle(r))
		word := rapid.SampledFrom([]string{"", "balanced", "sweet"}).Draw(t, "words")
		way := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "way")
		near := rapid.Float64Range(0, 0.6).Draw(t, "near")
		far := near + rapid.Float64Range(0.01, 0.4).Draw(t, "further")
		likely := func(off float64) (float64, Advice) {
			s := newStage(lower(), r)
			a := s.pull(5, bar.Seconds(mid*math.Exp(way*off)), word)
			return rightHere(s), a
		}
		p, a := likely(near)
		q, b := likely(far)
		if q > p+0.01 || b.Lever == bar.Keep && a.Lever != bar.Keep {
			t.Fatalf("%q at %.2f off: %.3f, %v; at %.2f: %.3f, %v", word, near, p, a.Lever, far, q, b.Lever)
		}
	})
}

// No advice names a setting that the dial, its step or the basket does not have.
func TestSettingsExist(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom([]float64{0.1, 0.25, 0.5, 1, 2}).Draw(t, "step")
		g := bar.Grinder{Step: step, Finer: rapid.SampledFrom([]bar.Direction{bar.Lower, bar.Higher}).Draw(t, "finer")}
		steps := rapid.IntRange(4, 40).Draw(t, "steps on the dial")
		g.Min, g.Max = 0, bar.Dial(float64(steps)*step)
		s := newStage(g, recipe())
		s.Coffees[0].Basket = bar.Basket{Low: 17.8, High: 18.2}
		for range rapid.IntRange(1, 7).Draw(t, "shots") {
			a := s.pull(
				bar.Dial(float64(rapid.IntRange(0, steps).Draw(t, "at"))*step),
				bar.Seconds(rapid.IntRange(8, 70).Draw(t, "seconds")),
				rapid.SampledFrom([]string{"", "sour", "bitter", "sour, strong", "thin", "strong", "sweet", "sour and bitter"}).Draw(t, "words"),
			)
			between := math.Abs(a.To/step - math.Round(a.To/step))
			switch {
			case grindMove(a) && (a.To < float64(g.Min)-1e-9 || a.To > float64(g.Max)+1e-9 || between > 1e-6):
				t.Fatalf("%g on a dial from 0 to %g in steps of %g", a.To, float64(g.Max), step)
			case a.Lever == bar.Dose && !s.Coffees[0].Basket.Holds(bar.Grams(a.To)):
				t.Fatalf("%g g in a basket of 17.8 to 18.2", a.To)
			}
		}
	})
}

// Names change nothing, nor which way the numbers of a dial go.
func TestNamesAndSignChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyHistory(t)
		const centre = 10 // of the mirror
		s.Grinders[0].Max = centre
		m := newStage(bar.Grinder{Name: "the other", Step: 0.1, Finer: bar.Higher, Max: centre}, s.Coffees[0].Recipe)
		m.Coffees[0].Name, m.now, m.Entries = "Night Owl", s.now, slices.Clone(s.Entries)
		for i := range m.Entries {
			shot := m.Entries[i].What.(bar.Shot)
			shot.Grind.X = centre - shot.Grind.X
			m.Entries[i].What = shot
		}
		a, _ := Advise(s.History, 1, s.now)
		b, _ := Advise(m.History, 1, m.now)
		to := b.To
		if b.Lever == bar.Grind || b.Lever == bar.Keep {
			to = centre - b.To
		}
		if a.Lever != b.Lever || math.Abs(a.To-to) > 1e-6 || math.Abs(a.Sure-b.Sure) > 1e-6 {
			t.Fatalf("%v %g, sure %g; mirrored %v %g, sure %g", a.Lever, a.To, a.Sure, b.Lever, b.To, b.Sure)
		}
	})
}

// A dial that has shown nothing: no first move is expected to end more than three
// seconds outside the window, unless that is nearer than here.
func TestFirstMoveStaysNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newStage(lower(), recipe())
		r, seconds := recipe(), rapid.Float64Range(8, 70).Draw(t, "seconds")
		a := s.pull(5, bar.Seconds(math.Round(seconds)), rapid.SampledFrom([]string{"", "sour", "bitter", "thin", "strong", "very sour"}).Draw(t, "words"))
		over, before := outside(r, float64(a.Expect.Time)), outside(r, math.Round(seconds))
		if grindMove(a) && over > pastWindow+0.5 && over > before {
			t.Fatalf("%g → %g: %.1f s expected after %.0f s", a.From, a.To, float64(a.Expect.Time), seconds)
		}
	})
}

// outside returns by how many seconds a time is out of the window.
func outside(r bar.Recipe, seconds float64) float64 {
	return max(0, float64(r.Low)-seconds, seconds-float64(r.High))
}

// Between a setting that was sour and a finer one that was bitter, the dial stays
// between them.
func TestBetweenRefusedOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sour := rapid.IntRange(50, 60).Draw(t, "sour at")
		bitter := sour - rapid.IntRange(2, 12).Draw(t, "steps finer")
		at := rapid.IntRange(bitter, sour).Draw(t, "last at")
		s := newStage(lower(), recipe())
		dial := func(n int) bar.Dial { return bar.Dial(n) / 10 }
		s.silent(dial(sour), bar.Seconds(rapid.IntRange(20, 29).Draw(t, "sour time")), "sour")
		s.silent(dial(bitter), bar.Seconds(rapid.IntRange(27, 40).Draw(t, "bitter time")), "bitter")
		words := []string{"", "thin", "strong", "sour", "bitter"}
		switch at { // what was said of a setting is not taken back
		case sour:
			words = words[:4]
		case bitter:
			words = append(words[:3], "bitter")
		}
		word := rapid.SampledFrom(words).Draw(t, "last")
		a := s.pull(dial(at), bar.Seconds(rapid.IntRange(22, 36).Draw(t, "last time")), word)
		if grindMove(a) && (a.To >= float64(dial(sour))-1e-9 || a.To <= float64(dial(bitter))+1e-9) {
			t.Fatalf("sour at %v, bitter at %v, and from %v to %g", dial(sour), dial(bitter), dial(at), a.To)
		}
	})
}

// A dose that slipped is put back before anything else.
func TestSlipsGoFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyHistory(t)
		off := rapid.SampledFrom([]bar.Grams{-2, -1.5, -1, 1, 1.5, 2}).Draw(t, "off by")
		a := s.dosed(18+off, bar.Seconds(rapid.IntRange(18, 40).Draw(t, "seconds")), rapid.SampledFrom([]string{"", "sour", "bitter", "thin"}).Draw(t, "words"))
		if a.Lever != bar.Dose || a.To != 18 {
			t.Fatalf("%v g in the basket: %v %g, %v", 18+off, a.Lever, a.To, a.Reasons)
		}
	})
}

// Two shots of one setting that agree on one side of the window, and that nobody
// liked, get a move: one more is no answer twice, nor is care of the puck.
func TestTwoThatAgreeGetAMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]struct {
			low, high int
			word      string
		}{{12, 23, ""}, {12, 23, "sour"}, {12, 23, "thin"}, {34, 50, ""}, {34, 50, "bitter"}}).Draw(t, "kind")
		seconds := bar.Seconds(rapid.IntRange(kind.low, kind.high).Draw(t, "seconds"))
		s := newStage(lower(), recipe())
		s.silent(5, seconds, kind.word)
		again := seconds + bar.Seconds(rapid.SampledFrom([]float64{-0.5, 0, 0.5}).Draw(t, "by"))
		a := s.pull(5, again, kind.word)
		if a.Lever == bar.Repeat || a.Lever == bar.Prep || a.Lever == bar.Keep {
			t.Fatalf("%v and %v s, %q: %v, %v", seconds, again, kind.word, a.Lever, a.Reasons)
		}
	})
}

// A word for a fault of the bag does not switch the clock off.
func TestFaultsLeaveTheClockOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newStage(lower(), recipe())
		word := rapid.SampledFrom([]string{"papery", "stale", "grassy", "green"}).Draw(t, "fault")
		seconds := rapid.SampledFrom([]int{12, 15, 18, 38, 45}).Draw(t, "seconds")
		a := s.pull(5, bar.Seconds(seconds), word)
		finer, coarser := grindMove(a) && a.To < a.From, grindMove(a) && a.To > a.From
		if seconds < 25 && !finer || seconds > 31 && !coarser && word != "grassy" && word != "green" {
			t.Fatalf("%d s and %s: %v %g, %v", seconds, word, a.Lever, a.To, a.Reasons)
		}
	})
}

// Cleaner and soap stop everything, whatever was pulled before.
func TestCleanerStopsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyHistory(t)
		a := s.pull(5, bar.Seconds(rapid.IntRange(8, 70).Draw(t, "last time")), "soapy")
		if diff := cmp.Diff([]any{bar.NoLever, true}, []any{a.Lever, because(a, why.Cleaner)}); diff != "" {
			t.Fatal(fmt.Sprint(a.Reasons), diff)
		}
	})
}
