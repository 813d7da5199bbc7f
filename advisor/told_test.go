package advisor

import (
	"testing"
	"time"
)

// spread is how far apart the ends of what is expected of the next shot lie.
func (s *stage) spread() float64 {
	a, _ := Advise(s.History, 1, s.now)
	return float64(a.Expect.High / a.Expect.Low)
}

// Whatever happens to a bar makes the next shot less certain; what happened to
// another coffee or another grinder does not.
func TestWhatHappenedReopens(t *testing.T) {
	for event := NewBag; event <= OtherGroup; event++ {
		s := newStage(lower(), recipe())
		s.proven()
		s.Grinders = append(s.Grinders, Grinder{ID: 2, Step: 0.1, Finer: Lower})
		s.Coffees = append(s.Coffees, Coffee{ID: 2, Name: "Tide", Grinder: 2, Recipe: recipe()})
		before := s.spread()
		s.add(1, Told{Event: event, Coffee: 2, Grinder: 2})
		if got := s.spread(); got != before {
			t.Errorf("event %d to another coffee: spread %.3f, was %.3f", event, got, before)
		}
		s.add(1, Told{Event: event, Coffee: 1, Grinder: 1})
		if got := s.spread(); !(got > before*1.005) {
			t.Errorf("event %d: spread %.3f, was %.3f", event, got, before)
		}
	}
}

// The machine and its water are those of every coffee.
func TestTheMachineIsEveryCoffees(t *testing.T) {
	for _, event := range []Event{NewFilter, Descaled, OtherBasket, OtherGroup} {
		s := newStage(lower(), recipe())
		s.proven()
		s.add(1, Dialled{Coffee: 1})
		before := s.spread()
		s.add(1, Told{Event: event})
		a, _ := Advise(s.History, 1, s.now)
		if got := s.spread(); !(got > before) || a.State == DialledIn {
			t.Errorf("event %d: spread %.3f, was %.3f; state %v", event, got, before, a.State)
		}
	}
}

// A hopper that runs low takes nothing back of what was called.
func TestALowHopperIsWatched(t *testing.T) {
	s := newStage(lower(), recipe())
	s.proven()
	s.add(1, Dialled{Coffee: 1})
	s.add(1, Told{Event: HopperLow, Grinder: 1})
	if a, _ := Advise(s.History, 1, s.now); a.State != DialledIn {
		t.Errorf("state %v", a.State)
	}
}

// The first shot after a swap holds old grounds of the other coffee, unless the
// grinder was purged.
func TestSwapped(t *testing.T) {
	for _, test := range []struct {
		marks Marks
		want  bool
	}{{0, true}, {Purged, false}} {
		s := newStage(lower(), recipe())
		s.proven()
		s.add(1, Told{Event: Swapped, Coffee: 1, Grinder: 1})
		a := s.pull(5, 27, "sour", test.marks)
		if because(a, "other-grounds") != test.want || because(a, "half-believed") != test.want {
			t.Errorf("marks %b: %v", test.marks, a.Reasons)
		}
		if a := s.pull(5, 27, "sour"); because(a, "other-grounds") {
			t.Errorf("still, a shot later: %v", a.Reasons)
		}
	}
}

// Words on a cup in milk say nothing of the black one, and the other way round;
// the grind is theirs together.
func TestMilkTeachesOnlyMilk(t *testing.T) {
	s := newStage(lower(), recipe())
	s.Coffees[0].Milk = Recipe{Dose: 18, Yield: 30, Low: 25, High: 31}
	s.pull(5, 28, "balanced")
	want := s.pull(5, 28, "")
	s.Entries = s.Entries[:1]
	s.now = s.now.Add(-3 * time.Minute)
	black := s.Entries[0].What.(Shot)
	milk := black
	milk.Marks, milk.Yield.X, milk.Words = InMilk, 30, sour()
	s.add(1, milk)
	got := s.pull(5, 28, "")
	if got.Lever != want.Lever || !(got.Sure > want.Sure-0.1) {
		t.Errorf("after a sour one in milk: lever %v, sure %.2f; without: %v, %.2f", got.Lever, got.Sure, want.Lever, want.Sure)
	}
	milk.Words = nil
	if a := s.report(milk); a.Lever != Repeat || !because(a, "untasted") || a.Expect.Time < 22 {
		t.Errorf("in milk: %v, %v, about %.0f s", a.Lever, a.Reasons, a.Expect.Time)
	}
}

// Both clocks are told alike, whatever the pre-infusion.
func TestFirstDripClock(t *testing.T) {
	pump := newStage(lower(), Recipe{Dose: 18, Yield: 36, Low: 35, High: 41})
	drip := newStage(lower(), recipe())
	drip.Bar.FromDrip = true
	drip.Coffees[0].PreInfusion = 8 // the first drip comes at 10 s
	pump.Coffees[0].PreInfusion = 8
	a, b := pump.pull(5, 30, "sour"), drip.pull(5, 20, "sour")
	if a.Lever != b.Lever || a.To != b.To || a.Expect.Time-b.Expect.Time != 10 {
		t.Errorf("from the pump %v to %g, %.1f s; from the drip %v to %g, %.1f s", a.Lever, a.To, a.Expect.Time, b.Lever, b.To, b.Expect.Time)
	}
}

// Trims of the dose stay in the basket.
func TestDosesStayInTheBasket(t *testing.T) {
	s := newStage(lower(), recipe())
	s.Coffees[0].Basket = Basket{Low: 17.8, High: 18.3}
	s.proven()
	h := s.History
	sc := newScore(h, h.Coffees[0], s.now)
	c := sc.start()
	c.play(sc, 0, len(sc.entries))
	moves := c.end(sc, s.now).doses()
	for _, m := range moves {
		if !s.Coffees[0].Basket.Holds(m.dose) {
			t.Errorf("a dose of %g g", m.dose)
		}
	}
	if len(moves) == 0 {
		t.Error("no dose at all")
	}
}

// A coffee that is meant so is likelier to be right for being so.
func TestAimShiftsTheTarget(t *testing.T) {
	for aim, word := range map[Aim]string{Bright: "sour", Rich: "strong"} {
		plain, meant := newStage(lower(), recipe()), newStage(lower(), recipe())
		meant.Coffees[0].Aim = aim
		a, b := plain.pull(5, 28, word), meant.pull(5, 28, word)
		if !(b.Sure > a.Sure) {
			t.Errorf("aim %d, %s: sure %.2f, %.2f without", aim, word, b.Sure, a.Sure)
		}
	}
}
