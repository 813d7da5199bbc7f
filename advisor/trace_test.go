package advisor_test

import (
	"flag"
	"testing"

	"shothand/advisor"
	"shothand/advisor/simbar"
)

var (
	traceRow = flag.String("row", "", "the row of the bar whose shots TestTrace prints")
	traceBar = flag.Int("bar", 0, "the index of that bar")
)

// TestTrace prints how one bar of the scorecard went, shot by shot, beside its
// truth:
//
//	go test ./advisor -run Trace -row cold -bar 7 -v
func TestTrace(t *testing.T) {
	if *traceRow == "" {
		t.Skip("no -row given")
	}
	w := simbar.New(simbar.Row(*traceRow), *traceBar)
	p := &advised{}
	p.onAdvice = func(s simbar.Shot, a advisor.Advice) {
		e, strength := w.TrueReading(s.Set)
		t.Logf("%2d at %g, %.1f g to %.1f g in %.1f s, choked %v, spurted %v, %v", s.Number, s.Grind, s.Dose, s.Yield, s.Time, s.Choked, s.Spurted, s.Tastings)
		t.Logf("   truly %.1f s, extraction %+.1f, strength %+.1f, right %v", w.SteadyTime(s.Set), e, strength, w.Right(s.Set))
		t.Logf("   lever %d, %g to %g, sure %.2f, expects %.1f s (%.1f to %.1f), %v", a.Lever, a.From, a.To, a.Sure, a.Expect.Time, a.Expect.Low, a.Expect.High, a.Reasons)
	}
	t.Logf("%+v", w.Table())
	t.Logf("%+v", simbar.Play(w, p))
}
