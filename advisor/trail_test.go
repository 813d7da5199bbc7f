package advisor_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/simbar"
)

// walked returns the history of a simulated bar that did as it was advised.
func walked(t *testing.T, index int) (bar.History, bar.CoffeeID, time.Time) {
	t.Helper()
	p := &advised{part: whole}
	simbar.PlayOn(simbar.New(simbar.Bars, index), p, 12)
	return p.History, p.coffee, p.now
}

// What is told of a shot was believed before it came: what came later changes
// nothing of it.
func TestTrailLooksNotAhead(t *testing.T) {
	for index := range 4 {
		h, coffee, now := walked(t, index)
		all, ok := advisor.TrailOf(h, coffee, now)
		if !ok || len(all.Steps) != 12 {
			t.Fatalf("bar %d: %d steps", index, len(all.Steps))
		}
		for _, n := range []int{1, 4, 9} {
			cut := h
			for i, e := range h.Entries {
				if e.ID == all.Steps[n].Entry.ID {
					cut.Entries = h.Entries[:i]
				}
			}
			part, _ := advisor.TrailOf(cut, coffee, now)
			if diff := cmp.Diff(all.Steps[:n], part.Steps, cmpopts.EquateApprox(1e-9, 1e-9)); diff != "" {
				t.Errorf("bar %d, the first %d shots (-of all +of those):\n%s", index, n, diff)
			}
		}
	}
}

// The time foretold of a shot is that of the filter, and where nothing was
// changed it is the one without a change.
func TestTrailForetells(t *testing.T) {
	repeated := 0
	for index := range 4 {
		h, coffee, now := walked(t, index)
		trail, _ := advisor.TrailOf(h, coffee, now)
		for n, s := range trail.Steps {
			if n == 0 {
				if !s.First || s.Stayed != (advisor.Band{}) {
					t.Errorf("bar %d: the first shot is compared with one before it", index)
				}
				continue
			}
			before := h
			for i, e := range h.Entries {
				if e.ID == s.Entry.ID {
					before.Entries = h.Entries[:i]
				}
			}
			want := math.Exp(advisor.ForetoldStill(before, s.Entry).Mean())
			if !(math.Abs(s.Foretold.Mid-want) < 1e-9*want) {
				t.Errorf("bar %d, shot %d: foretold %g s, want %g", index, n+1, s.Foretold.Mid, want)
			}
			if !(s.Foretold.Low < s.Foretold.Mid && s.Foretold.Mid < s.Foretold.High) {
				t.Errorf("bar %d, shot %d: %+v", index, n+1, s.Foretold)
			}
			if !s.Moved {
				repeated++
				if s.Stayed != s.Foretold {
					t.Errorf("bar %d, shot %d: nothing was changed, yet %+v is not %+v", index, n+1, s.Stayed, s.Foretold)
				}
			}
		}
		if w := trail.Worth; !(0 < w.Low && w.Low < w.Mid && w.Mid < w.High) {
			t.Errorf("bar %d: a step is worth %+v", index, w)
		}
		for i, p := range trail.Curve {
			if !(p.Low < p.Mid && p.Mid < p.High) || i > 0 && !(p.Mid > trail.Curve[i-1].Mid) {
				t.Errorf("bar %d: finer is not slower, or outside its band, at %v", index, p.Dial)
			}
		}
	}
	if repeated == 0 {
		t.Error("no shot was repeated")
	}
}

// A clock that starts at the first drip shows other times, and the same
// differences.
func TestTrailFromDrip(t *testing.T) {
	for soaking, wet := range map[bar.Seconds]bar.Seconds{0: 7, 10: 12} {
		h, coffee, now := walked(t, 0)
		h.Coffees = slices.Clone(h.Coffees)
		for i := range h.Coffees {
			h.Coffees[i].PreInfusion = soaking
		}
		sameFromDrip(t, h, coffee, now, wet)
	}
}

// sameFromDrip holds the trail of a clock that starts wet s after the pump to
// that of one that starts with it.
func sameFromDrip(t *testing.T, h bar.History, coffee bar.CoffeeID, now time.Time, wet bar.Seconds) {
	t.Helper()
	pump, _ := advisor.TrailOf(h, coffee, now)
	dripping := h
	dripping.Bar.FromDrip = true
	dripping.Coffees = nil
	for _, c := range h.Coffees {
		c.Recipe.Low, c.Recipe.High = c.Recipe.Low-wet, c.Recipe.High-wet
		dripping.Coffees = append(dripping.Coffees, c)
	}
	dripping.Entries = nil
	for _, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok {
			s.Time.X -= wet
			e.What = s
		}
		dripping.Entries = append(dripping.Entries, e)
	}
	drip, _ := advisor.TrailOf(dripping, coffee, now)
	for i, s := range pump.Steps {
		d := drip.Steps[i]
		if d.Shot.Time.X != s.Shot.Time.X-wet || !(math.Abs(d.Foretold.Mid-(s.Foretold.Mid-float64(wet))) < 1e-9) {
			t.Errorf("shot %d: %v, foretold %g, want %v s less than %v, %g", i+1, d.Shot.Time.X, d.Foretold.Mid, wet, s.Shot.Time.X, s.Foretold.Mid)
		}
	}
}

// A bar's own words are looked back on by what they mean.
func TestTrailHearsOwnWords(t *testing.T) {
	h, coffee, now := walked(t, 0)
	h.Bar.Words = bar.NewOwnWords([]bar.Own{{Word: "zingy", Means: "sour"}})
	plain, own := h, h
	plain.Entries, own.Entries = said(h, "sour"), said(h, "zingy")
	want, _ := advisor.TrailOf(plain, coffee, now)
	got, _ := advisor.TrailOf(own, coffee, now)
	for i := range want.Steps {
		if diff := cmp.Diff(want.Steps[i].Read, got.Steps[i].Read); diff != "" {
			t.Fatalf("shot %d (-sour +zingy):\n%s", i+1, diff)
		}
	}
}

// said returns h's entries with every cup tasted as word alone.
func said(h bar.History, word string) []bar.Entry {
	var all []bar.Entry
	for _, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok {
			s.Words = []bar.Word{{Term: word, Degree: 1}}
			e.What = s
		}
		if _, ok := e.What.(bar.Words); !ok {
			all = append(all, e)
		}
	}
	return all
}

// Where a coffee has a recipe for milk, each of its cups is judged by its own:
// what is said of the one teaches nothing of the other.
func TestTrailJudgesEachCupByItsRecipe(t *testing.T) {
	h, coffee, now := walked(t, 0)
	h.Coffees = slices.Clone(h.Coffees)
	for i := range h.Coffees {
		r := h.Coffees[i].Recipe
		r.Yield *= 0.8
		h.Coffees[i].Milk = r
	}
	words := func(black, milk string) advisor.Trail {
		cut, n := h, 0
		cut.Entries = nil
		for _, e := range said(h, black) {
			if s, ok := e.What.(bar.Shot); ok {
				if n++; n%2 == 0 {
					s.Marks |= bar.InMilk
					s.Words[0].Term = milk
				}
				e.What = s
			}
			cut.Entries = append(cut.Entries, e)
		}
		trail, _ := advisor.TrailOf(cut, coffee, now)
		return trail
	}
	sour, bitter := words("balanced", "sour"), words("balanced", "bitter")
	if len(sour.Steps) != 12 {
		t.Fatalf("%d steps", len(sour.Steps))
	}
	for i, s := range sour.Steps {
		b := bitter.Steps[i]
		switch {
		case !s.Read.Tasted || !b.Read.Tasted:
			t.Errorf("shot %d: what was said of it is gone", i+1)
		case s.Shot.Marks.Has(bar.InMilk) == cmp.Equal(s.Read, b.Read):
			t.Errorf("shot %d, in milk %v: read %+v and %+v", i+1, s.Shot.Marks.Has(bar.InMilk), s.Read, b.Read)
		case !s.Shot.Marks.Has(bar.InMilk) && s.Meant != b.Meant:
			t.Errorf("shot %d: cups in milk moved what was meant of a black one: %+v and %+v", i+1, s.Meant, b.Meant)
		}
	}
}

// Nor does it of a history that is longer than what the advisor is taught by.
func TestTrailLooksNotAheadOfMany(t *testing.T) {
	h, coffee, now := walked(t, 0)
	day := h.Entries
	for i := 1; i < 8; i++ {
		for _, e := range day {
			if s, ok := e.What.(bar.Shot); ok {
				s.Words = []bar.Word{{Term: "sour", Degree: 1}}
				e.ID, e.At, e.What = e.ID+bar.EntryID(1000*i), e.At.Add(time.Duration(i)*time.Hour), s
				h.Entries = append(h.Entries, e)
			}
		}
	}
	now = now.Add(12 * time.Hour)
	all, _ := advisor.TrailOf(h, coffee, now)
	half := h
	half.Entries = h.Entries[:len(h.Entries)/2]
	part, _ := advisor.TrailOf(half, coffee, now)
	for i, s := range part.Steps {
		if diff := cmp.Diff(s, all.Steps[i], cmpopts.EquateApprox(1e-9, 1e-9)); diff != "" {
			t.Fatalf("shot %d of %d (-of the first half +of all):\n%s", i+1, len(all.Steps), diff)
		}
	}
}
