package advisor_test

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"shothand/advisor"
	"shothand/advisor/simbar"
)

// walked returns the history of a simulated bar that did as it was advised.
func walked(t *testing.T, index int) (advisor.History, advisor.CoffeeID, time.Time) {
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
			want := math.Exp(advisor.Foretold(before, s.Entry).Mean())
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
	h, coffee, now := walked(t, 0)
	pump, _ := advisor.TrailOf(h, coffee, now)
	dripping := h
	dripping.Bar.FromDrip = true
	dripping.Coffees = nil
	for _, c := range h.Coffees {
		c.Recipe.Low, c.Recipe.High = c.Recipe.Low-7, c.Recipe.High-7
		dripping.Coffees = append(dripping.Coffees, c)
	}
	dripping.Entries = nil
	for _, e := range h.Entries {
		if s, ok := e.What.(advisor.Shot); ok {
			s.Time.X -= 7
			e.What = s
		}
		dripping.Entries = append(dripping.Entries, e)
	}
	drip, _ := advisor.TrailOf(dripping, coffee, now)
	for i, s := range pump.Steps {
		d := drip.Steps[i]
		if d.Shot.Time.X != s.Shot.Time.X-7 || !(math.Abs(d.Foretold.Mid-(s.Foretold.Mid-7)) < 1e-9) {
			t.Errorf("shot %d: %v, foretold %g, want 7 s less than %v, %g", i+1, d.Shot.Time.X, d.Foretold.Mid, s.Shot.Time.X, s.Foretold.Mid)
		}
	}
}
