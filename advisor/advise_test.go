package advisor

import (
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
	"shothand/advisor/history"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// A stage is a bar of one coffee on one grinder, for tests.
type stage struct {
	bar.History
	now time.Time
}

func newStage(g bar.Grinder, r bar.Recipe) *stage {
	g.ID = 1
	return &stage{
		History: bar.History{
			Coffees:  []bar.Coffee{{ID: 1, Name: "Harbour", Grinder: 1, Recipe: r}},
			Grinders: []bar.Grinder{g},
		},
		now: time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC),
	}
}

// add puts what happened three minutes after the last thing.
func (s *stage) add(person bar.PersonID, w bar.What) bar.EntryID {
	s.now = s.now.Add(3 * time.Minute)
	e := bar.Entry{ID: bar.EntryID(len(s.Entries) + 1), Person: person, At: s.now, Day: bar.DayOf(s.now), What: w}
	s.Entries = append(s.Entries, e)
	return e.ID
}

// pull reports a shot at the recipe, and returns the advice on it.
func (s *stage) pull(grind bar.Dial, seconds bar.Seconds, words string, marks ...bar.Marks) Advice {
	s.silent(grind, seconds, words, marks...)
	a, _ := Advise(s.History, 1, s.now)
	return a
}

// silent reports a shot at the recipe.
func (s *stage) silent(grind bar.Dial, seconds bar.Seconds, words string, marks ...bar.Marks) {
	r := s.Coffees[0].Recipe
	read, unread := taste.Default().Read(words)
	shot := bar.Shot{
		Coffee: 1, Grinder: 1,
		Grind: bar.Value[bar.Dial]{X: grind, From: bar.Said},
		Dose:  bar.Value[bar.Grams]{X: r.Dose, From: bar.Said},
		Yield: bar.Value[bar.Grams]{X: r.Yield, From: bar.Said},
		Time:  bar.Value[bar.Seconds]{X: seconds, From: bar.Said},
		Words: read, Unread: unread,
	}
	for _, m := range marks {
		shot.Marks |= m
	}
	s.add(1, shot)
}

func (s *stage) report(shot bar.Shot) Advice {
	s.add(1, shot)
	a, _ := Advise(s.History, 1, s.now)
	return a
}

// words returns what a plain taster says of a steady time, aimed at 28 s.
func words(seconds float64) string {
	switch {
	case seconds < 24.5:
		return "sour, thin"
	case seconds > 31.5:
		return "bitter"
	}
	return "sweet, balanced"
}

func recipe() bar.Recipe { return bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31} }

// because reports whether a gives a reason.
func because(a Advice, r why.Reason) bool {
	return slices.Contains(a.Reasons, r)
}

func lower() bar.Grinder { return bar.Grinder{Step: 0.1, Finer: bar.Lower} }

// Each rule and each kind of cup, in a history that calls for it.
func TestRules(t *testing.T) {
	for _, test := range []struct {
		because why.Reason
		shots   func(*stage) Advice
		want    bar.Lever
		way     float64 // sign of To - From, where it matters
	}{
		{why.Cleaner, func(s *stage) Advice { return s.pull(5, 28, "soapy") }, bar.NoLever, 0},
		{why.Stale, func(s *stage) Advice { return s.pull(5, 28, "papery") }, bar.NoLever, 0},
		{why.Practice, func(s *stage) Advice { return s.pull(5, 15, "sour", bar.Practice) }, bar.Repeat, 0},
		{why.Choked, func(s *stage) Advice { return s.pull(5, 45, "", bar.Choked) }, bar.Grind, +1},
		{why.DoseOff, func(s *stage) Advice { return s.dosed(19.2, 34, "bitter") }, bar.Dose, -1},
		{why.PraisedOutside, func(s *stage) Advice { return s.pull(5, 34, "delicious") }, bar.Keep, 0},
		{why.OverExtracted, func(s *stage) Advice { return s.pull(5, 14, "bitter") }, bar.Grind, -1},
		{why.LoneOutlier, func(s *stage) Advice { s.proven(); return s.pull(5, 16, "sour") }, bar.Prep, 0},
		{why.Uneven, func(s *stage) Advice { return s.pull(5, 28, "sour and bitter") }, bar.Prep, 0},
		{why.Uneven, func(s *stage) Advice { return s.pull(5, 28, "sour", bar.Spurted) }, bar.Prep, 0},
		{why.Scattered, func(s *stage) Advice { s.pull(5, 24, ""); s.pull(5, 33, ""); return s.pull(5, 25, "balanced") }, bar.Prep, 0},
		{why.TastersDiffer, func(s *stage) Advice { s.pull(5, 28, "sour"); return s.second("bitter") }, bar.Repeat, 0},
		{why.HalfBelieved, func(s *stage) Advice { return s.pull(5, 28, "very sour", bar.First) }, bar.Repeat, 0},
		{why.Unplaced, func(s *stage) Advice { s.pull(5, 24, "sour"); return s.pull(0, 27, "sour", bar.Unplaced) }, bar.Repeat, 0},
		{why.ForTheLead, func(s *stage) Advice { s.Bar.Crew = bar.Levers(0).With(bar.Yield); return s.pull(5, 21, "sour") }, bar.Grind, -1},
		{why.LostInMilk, func(s *stage) Advice { s.small(); return s.pull(5, 28, "lost in milk") }, bar.Dose, +1},
		{why.Unpurged, func(s *stage) Advice { s.pull(5, 21, "sour"); return s.pull(4.8, 22, "sour", bar.NotPurged) }, bar.Repeat, 0},
		{why.IdleHour, func(s *stage) Advice {
			s.proven()
			s.now = s.now.Add(2 * time.Hour)
			return s.pull(5, 20, "sour")
		}, bar.Prep, 0},
		{why.UnderExtracted, func(s *stage) Advice { return s.pull(5, 35, "sour") }, bar.Grind, +1},
		{why.OverExtracted, func(s *stage) Advice { return s.pull(5, 22, "bitter") }, bar.Grind, -1},
		{why.OverExtracted, func(s *stage) Advice { s.pull(5, 22, "bitter"); return s.pull(5, 22, "bitter") }, bar.Yield, -1},
		{why.Untasted, func(s *stage) Advice { return s.pull(5, 28, "") }, bar.Repeat, 0},
		{why.YieldOff, func(s *stage) Advice { s.proven(); return s.poured(52, 35, "thin") }, bar.Yield, -1},
		{why.LostInMilk, func(s *stage) Advice { s.proven(); return s.pull(5, 28, "lost in milk") }, bar.Yield, -1},
		{why.Strong, func(s *stage) Advice { return s.pull(5, 28, "sour, strong") }, bar.Yield, +1},
		{why.Weak, func(s *stage) Advice { return s.pull(5, 28, "bitter, watery") }, bar.Yield, -1},
		{why.Strong, func(s *stage) Advice { s.proven(); return s.pull(5, 28, "very bitter, very strong") }, bar.Grind, +1},
		{why.Weak, func(s *stage) Advice { s.pull(5, 28, "balanced"); return s.pull(5, 24, "thin") }, bar.Yield, -1},
		{why.Keep, func(s *stage) Advice { s.proven(); return s.pull(5, 28, "sweet") }, bar.Keep, 0},
		{why.Keep, func(s *stage) Advice { return s.pull(5, 28, "balanced") }, bar.Keep, 0},
		{why.UnderExtracted, func(s *stage) Advice { s.pull(5, 28, "very sour"); return s.pull(5, 28, "very sour, sharp") }, bar.Yield, +1},
		{why.OverExtracted, func(s *stage) Advice { return s.pull(5, 28, "ashy") }, bar.Yield, -1},
		{why.Raw, func(s *stage) Advice { return s.pull(5, 28, "grassy") }, bar.Yield, +1},
		{why.LoneOutlier, func(s *stage) Advice { s.pull(5, 28, "sweet"); return s.pull(5, 24, "sour") }, bar.Repeat, 0},
		{why.MoveWindow, func(s *stage) Advice { s.pull(5, 35, "delicious"); return s.pull(5, 35, "sweet, lovely") }, bar.Keep, 0},
		{why.UnderExtracted, func(s *stage) Advice {
			s.pull(5, 29, "sour")
			s.poured(40, 30, "sour")
			return s.poured(42, 31, "very sour")
		}, bar.Grind, -1},
		{why.OverExtracted, func(s *stage) Advice {
			s.pull(5, 26, "sour")
			s.pull(4.8, 30, "bitter")
			s.pull(4.9, 27, "sour")
			return s.pull(4.8, 29, "a bit bitter")
		}, bar.Yield, -1},
		{why.OverExtracted, func(s *stage) Advice {
			s.Grinders[0].Step = 1
			s.pull(5, 21, "sour")
			s.pull(4, 33, "bitter")
			s.pull(5, 21.5, "sour")
			return s.pull(4, 33, "bitter")
		}, bar.Yield, -1},
		{why.OutOfReach, func(s *stage) Advice {
			s.Grinders[0].Step, s.Grinders[0].Min, s.Grinders[0].Max = 1, 1, 10
			s.pull(1, 17, "sour")
			return s.pull(1, 17, "sour, thin")
		}, bar.NoLever, 0},
		{why.OutOfReach, func(s *stage) Advice { // from 0, where nobody has told the ends
			s.pull(0, 17, "sour")
			return s.pull(0, 17, "sour, thin")
		}, bar.NoLever, 0},
	} {
		t.Run(test.because.String(), func(t *testing.T) {
			a := test.shots(newStage(lower(), recipe()))
			if a.Lever != test.want || !because(a, test.because) || (a.To-a.From)*test.way < 0 || test.way != 0 && a.To == a.From {
				t.Errorf("lever %d, %g → %g, because %v", a.Lever, a.From, a.To, a.Reasons)
			}
		})
	}
}

// second reports what somebody else says of the last shot.
func (s *stage) second(words string) Advice {
	read, unread := taste.Default().Read(words)
	s.add(2, bar.Words{Shot: s.Entries[len(s.Entries)-1].ID, Words: read, Unread: unread})
	a, _ := Advise(s.History, 1, s.now)
	return a
}

// small makes the recipe as short as cups are advised, and proves it.
func (s *stage) small() {
	s.Coffees[0].Recipe.Yield = 18
	s.proven()
}

// proven pulls shots that leave no doubt of the setting 5.
func (s *stage) proven() {
	for _, t := range []bar.Seconds{28, 27.5, 28.4, 28.2} {
		s.pull(5, t, "balanced")
	}
}

// dosed reports a shot of another dose, poured of another yield.
func (s *stage) dosed(dose bar.Grams, seconds bar.Seconds, words string) Advice {
	return s.other(dose, s.Coffees[0].Recipe.Yield, seconds, words)
}

func (s *stage) poured(yield bar.Grams, seconds bar.Seconds, words string) Advice {
	return s.other(s.Coffees[0].Recipe.Dose, yield, seconds, words)
}

func (s *stage) other(dose, yield bar.Grams, seconds bar.Seconds, words string) Advice {
	read, unread := taste.Default().Read(words)
	return s.report(bar.Shot{
		Coffee: 1, Grinder: 1,
		Grind: bar.Value[bar.Dial]{X: 5, From: bar.Said},
		Dose:  bar.Value[bar.Grams]{X: dose, From: bar.Said}, Yield: bar.Value[bar.Grams]{X: yield, From: bar.Said},
		Time:  bar.Value[bar.Seconds]{X: seconds, From: bar.Said},
		Words: read, Unread: unread,
	})
}

// A first move never leads past 60 s, however much a step is worth: a step is
// worth at most 10 s, on any dial.
func TestFirstMoveNeverChokes(t *testing.T) {
	for _, g := range []bar.Grinder{
		{Step: 0.1, Finer: bar.Lower},
		{Step: 0.05, Finer: bar.Lower},
		{Step: 0.25, Finer: bar.Higher},
		{Step: 1, Finer: bar.Higher},
		{Step: 5, Finer: bar.Lower},
		{},
	} {
		for _, first := range []bar.Seconds{12, 16, 20, 22, 24} {
			a := newStage(g, recipe()).pull(20, first, "sour")
			moved := a.To
			if a.Unit == DialUnit {
				moved = g.Steps(bar.Dial(a.To)) - g.Steps(bar.Dial(a.From))
			}
			if steep := float64(first) * math.Exp(10.0/28*moved); a.Lever != bar.Grind || !(moved > 0) || steep > 60 {
				t.Errorf("step %g, %g s: %.1f steps finer, %.0f s if a step is worth 10 s", g.Step, first, moved, steep)
			}
		}
	}
}

// A bar that follows the advice gets there, on any dial.
func TestFollowedAdviceEndsInKeep(t *testing.T) {
	for _, g := range []bar.Grinder{{Step: 0.1, Finer: bar.Lower}, {Step: 1, Finer: bar.Higher}, {}} {
		for _, worth := range []float64{0.6, 1.3, 3} {
			s, grind := newStage(g, recipe()), bar.Dial(52)
			start := g.Steps(grind)
			for n := 1; ; n++ {
				seconds := 22 * math.Exp(worth/28*(g.Steps(grind)-start)+0.02*math.Sin(float64(5*n)))
				a := s.pull(grind, bar.Seconds(math.Round(seconds*10)/10), words(seconds))
				if a.Lever == bar.Keep {
					break
				}
				if n == 8 {
					t.Errorf("step %g worth %g s: not kept in %d shots", g.Step, worth, n)
					break
				}
				switch {
				case a.Lever == bar.Grind && a.Unit == StepUnit:
					grind += bar.Dial(a.To)
				case a.Lever == bar.Grind:
					grind = bar.Dial(a.To)
				}
			}
		}
	}
}

// What one coffee has taught of a step, the next on the grinder begins with: it is
// surer of it after its first shot, and goes further.
func TestGrinderIsCarriedOver(t *testing.T) {
	s := newStage(lower(), recipe())
	cold := s.pull(5.2, 22, "sour")
	first, _ := TrailOf(s.History, 1, s.now)
	for _, p := range []struct {
		grind bar.Dial
		t     bar.Seconds
	}{{5.0, 24.5}, {4.8, 27}, {4.8, 27.4}, {4.7, 28.5}} {
		s.pull(p.grind, p.t, "balanced")
	}
	s.Coffees = append(s.Coffees, bar.Coffee{ID: 2, Name: "Tide", Grinder: 1, Recipe: recipe()})
	id := s.add(1, bar.Shot{
		Coffee: 2, Grinder: 1, Grind: bar.Value[bar.Dial]{X: 5.2, From: bar.Said}, Dose: bar.Value[bar.Grams]{X: 18, From: bar.Said},
		Yield: bar.Value[bar.Grams]{X: 36, From: bar.Said}, Time: bar.Value[bar.Seconds]{X: 22, From: bar.Said}, Words: sour(),
	})
	next, _ := Advise(s.History, 2, s.now)
	second, _ := TrailOf(s.History, 2, s.now)
	wide := func(b Band) float64 { return b.High / b.Low }
	if next.Shot != id || !(next.To <= cold.To) || !(wide(second.Worth) < 0.8*wide(first.Worth)) {
		t.Errorf("cold %g, a step worth %.1f to %.1f s; carried %g, %.1f to %.1f s",
			cold.To, first.Worth.Low, first.Worth.High, next.To, second.Worth.Low, second.Worth.High)
	}
}

func sour() []bar.Word {
	words, _ := taste.Default().Read("sour")
	return words
}

// anyHistory pulls shots at random.
func anyHistory(t *rapid.T) *stage {
	s := newStage(lower(), recipe())
	s.Coffees[0].Recipe.Soft = rapid.Bool().Draw(t, "soft")
	for range rapid.IntRange(1, 7).Draw(t, "shots") {
		s.silent(
			bar.Dial(math.Round(rapid.Float64Range(3, 7).Draw(t, "grind")*10)/10),
			bar.Seconds(math.Round(rapid.Float64Range(5, 70).Draw(t, "seconds"))),
			rapid.SampledFrom([]string{"", "sour", "bitter", "sour, strong", "thin", "sweet", "sour and bitter", "lovely", "soapy"}).Draw(t, "words"),
		)
	}
	return s
}

// Whatever was pulled: one lever, numbers that are numbers, and never a move that
// the guards forbid.
func TestAdviceIsSane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyHistory(t)
		a, ok := Advise(s.History, 1, s.now)
		last := s.Entries[len(s.Entries)-1].What.(bar.Shot)
		finer := a.Lever == bar.Grind && a.To < a.From
		coarser := a.Lever == bar.Grind && a.To > a.From
		longer, shorter := a.Lever == bar.Yield && a.To > a.From, a.Lever == bar.Yield && a.To < a.From
		under, over := a.Read.Under && !a.Read.Over, a.Read.Over && !a.Read.Under
		complained := a.Read.Under || a.Read.Over || a.Read.Weak
		slow, fast := last.Time.X > s.Coffees[0].Recipe.High+0.5, last.Time.X < s.Coffees[0].Recipe.Low-0.5
		switch {
		case !ok:
			t.Fatal("no advice")
		case !(a.Expect.Low <= a.Expect.Time && a.Expect.Time <= a.Expect.High), !(a.Sure >= 0 && a.Sure <= 1):
			t.Fatalf("expect %+v, sure %g", a.Expect, a.Sure)
		case a.Lever == bar.Keep && !a.Read.Tasted:
			t.Fatal("kept what nobody tasted")
		case complained && (a.Lever == bar.Keep || because(a, why.Keep) || because(a, why.Confirm)):
			t.Fatal("kept, or said to look right, what was complained of")
		case under && !slow && (coarser || shorter):
			t.Fatal("sour, in or below the window, and coarser or shorter")
		case over && !fast && finer:
			t.Fatal("bitter, in or above the window, and finer")
		case a.Read.Praise > plainPraise && !complained && !slow && !fast && (coarser || finer || longer || shorter):
			t.Fatal("praised in the window, and moved")
		case slices.Contains(a.Read.Faults, taste.Cleaner) && a.Lever != bar.NoLever:
			t.Fatal("soapy, and a lever")
		case longer && a.Read.Strength < -strongly:
			t.Fatal("weak, and longer")
		case longer && a.Read.Extraction > strongly && a.Read.Strength < strongly:
			t.Fatal("bitter, and longer")
		case shorter && (a.Read.Extraction < -strongly && !slow || a.Read.Strength > strongly):
			t.Fatal("sour in or below the window, or strong, and shorter")
		}
	})
}

// A deleted shot is as if it had never been posted, and the order in which
// entries are handed over does not matter.
func TestDeletedIsNeverPosted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyHistory(t)
		if len(s.Entries) < 2 {
			return
		}
		i := rapid.IntRange(0, len(s.Entries)-1).Draw(t, "deleted")
		without := s.History
		without.Entries = slices.Delete(slices.Clone(s.Entries), i, i+1)
		marked := s.History
		marked.Entries = slices.Clone(s.Entries)
		marked.Entries[i].Deleted = true
		slices.Reverse(marked.Entries)
		a, _ := Advise(without, 1, s.now)
		b, _ := Advise(marked, 1, s.now)
		if diff := cmp.Diff(a, b); diff != "" {
			t.Fatal(diff)
		}
	})
}

// What a memory keeps changes no advice, whatever is posted, edited, deleted or
// tasted later, and whichever day it is.
func TestMemoryChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, m := newStage(lower(), recipe()), NewMemory(3)
		for range rapid.IntRange(2, 9).Draw(t, "events") {
			switch rapid.IntRange(0, 8).Draw(t, "event") {
			case 7:
				s.add(1, bar.Dialled{Coffee: 1})
			case 8:
				s.add(1, bar.Told{Coffee: 1, Event: bar.NewBag})
			case 0:
				if n := len(s.Entries); n > 0 {
					s.Entries = slices.Clone(s.Entries)
					i := rapid.IntRange(0, n-1).Draw(t, "deleted")
					s.Entries[i].Deleted = !s.Entries[i].Deleted
				}
			case 1:
				if n := len(s.Entries); n > 0 {
					if _, ok := s.Entries[n-1].What.(bar.Shot); ok {
						s.add(2, bar.Words{Shot: s.Entries[n-1].ID, Words: sour()})
					}
				}
			case 2:
				s.now = s.now.Add(20 * time.Hour)
			case 3:
				s.Coffees[0].Recipe.Yield = bar.Grams(rapid.IntRange(34, 40).Draw(t, "yield"))
			default:
				s.silent(bar.Dial(rapid.IntRange(48, 52).Draw(t, "grind"))/10, bar.Seconds(rapid.IntRange(15, 45).Draw(t, "time")),
					rapid.SampledFrom([]string{"", "sour", "bitter", "balanced"}).Draw(t, "words"))
			}
			want, ok1 := Advise(s.History, 1, s.now)
			got, ok2 := m.Advise(s.History, 1, s.now)
			if diff := cmp.Diff(want, got); diff != "" || ok1 != ok2 {
				t.Fatal(diff)
			}
		}
	})
}

// What is told after a shot leaves the replay of the shot: of the next one no
// more is replayed than came since.
func TestMemoryGoesOn(t *testing.T) {
	for name, what := range map[string]bar.What{
		"call": bar.Dialled{Coffee: 1}, "new bag": bar.Told{Coffee: 1, Event: bar.NewBag}, "nothing": nil,
	} {
		s, m := longStage(20), NewMemory(4)
		if _, ok := m.Advise(s.History, 1, s.now); !ok {
			t.Fatal("no advice")
		}
		kept := len(s.Entries)
		if what != nil {
			s.add(1, what)
		}
		s.silent(5, 28, "")
		now := newReplayInput(s.History, s.Coffees[0])
		if _, n := m.recall(now.digests(m.seed)); n != kept {
			t.Errorf("%s: the replay of %d entries is recalled, %d were kept", name, n, kept)
		}
	}
}

// What a memory keeps is shared, so neither advice nor outlook, on another day
// or the same, changes it.
func TestMemoryIsOnlyRead(t *testing.T) {
	long := longStage(12)
	played := newReplayInput(long.History, long.Coffees[0])
	want := played.start()
	want.advance(played, 0, len(played.entries))
	want.aim.Settle()
	same := cmp.Options{cmp.Exporter(func(reflect.Type) bool { return true }), cmpopts.EquateNaNs(), cmpopts.IgnoreTypes(&taste.Lexicon{})}
	for _, later := range []time.Duration{0, 24 * time.Hour} {
		m := NewMemory(1)
		r, _ := m.replay(long.History, 1, long.now.Add(later))
		look := func(when string) {
			if diff := cmp.Diff(want, m.order.Front().Value.(remembered).replaying, same); diff != "" {
				t.Errorf("%v later, %s: %s", later, when, diff)
			}
		}
		look("before")
		if a, ok := r.advise(); !ok || a.Lever == bar.NoLever {
			t.Fatal("no advice")
		}
		r.outlook()
		look("after")
	}
}

// The same over more shots than are replayed.
func TestMemoryOverALongPast(t *testing.T) {
	long, m := longStage(history.MaxShots+2*history.Block), NewMemory(2)
	all := long.Entries
	for n := history.MaxShots - 3; n < len(all); n += 1 + n%3 {
		h := long.History
		h.Entries = all[:n]
		want, _ := Advise(h, 1, all[n-1].At)
		got, _ := m.Advise(h, 1, all[n-1].At)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("after %d shots: %s", n, diff)
		}
	}
}

// A bar's day begins at four in the morning, by its own clock.
func TestDayOf(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip(err)
	}
	for _, test := range []struct {
		at   time.Time
		want bar.Day
	}{
		{time.Date(2026, 3, 2, 3, 59, 0, 0, time.UTC), "2026-03-01"},
		{time.Date(2026, 3, 2, 4, 0, 0, 0, time.UTC), "2026-03-02"},
		{time.Date(2026, 1, 1, 2, 0, 0, 0, time.UTC), "2025-12-31"},
		{time.Date(2026, 3, 29, 1, 30, 0, 0, time.UTC).In(berlin), "2026-03-28"}, // 03:30 on the day the clock goes forward
	} {
		if got := bar.DayOf(test.at); got != test.want {
			t.Errorf("DayOf(%v) = %s, want %s", test.at, got, test.want)
		}
	}
}

// Where the dial ends the dose is what moves, as far as the basket holds it.
func TestTrimWhereTheDialEnds(t *testing.T) {
	for _, test := range []struct {
		grind   bar.Dial
		seconds bar.Seconds
		words   string
		basket  bar.Basket
		want    Trim
	}{
		{1, 17, "sour, thin", bar.Basket{}, Trim{+1, 18.5}},
		{1, 17, "sour, thin", bar.Basket{Low: 17, High: 18.2}, Trim{+1, 0}},
		{10, 52, "bitter", bar.Basket{}, Trim{-1, 17.5}},
		{10, 52, "bitter", bar.Basket{Low: 17.8, High: 20}, Trim{-1, 0}},
	} {
		s := newStage(lower(), recipe())
		s.Grinders[0].Step, s.Grinders[0].Min, s.Grinders[0].Max = 1, 1, 10
		s.Coffees[0].Basket = test.basket
		s.pull(test.grind, test.seconds, test.words)
		if a := s.pull(test.grind, test.seconds, test.words); a.Trim != test.want || !because(a, why.OutOfReach) {
			t.Errorf("%v s in %v: %+v, want %+v (%v)", test.seconds, test.basket, a.Trim, test.want, a.Reasons)
		}
	}
	if a := newStage(lower(), recipe()).pull(5, 28, "sour"); a.Trim != (Trim{}) {
		t.Errorf("%+v where the grinder gets there", a.Trim)
	}
}
