package advisor

import (
	"testing"

	"shothand/advisor/bar"
)

// A clock that is unsure by itself says less of the setting: after the same
// shots, one that its device leaves unsure moves what is expected less. It says
// nothing of how far apart the bar's shots run.
func TestTimeSD(t *testing.T) {
	after := func(sd bar.Seconds) Advice {
		s := newStage(lower(), recipe())
		for range 3 {
			s.pull(5, 28, "")
		}
		shot := bar.Shot{
			Coffee: 1, Grinder: 1, Grind: bar.Value[bar.Dial]{X: 5, From: bar.Said}, Dose: bar.Value[bar.Grams]{X: 18, From: bar.Said},
			Yield: bar.Value[bar.Grams]{X: 36, From: bar.Said}, Time: bar.Value[bar.Seconds]{X: 30.5, From: bar.Said}, TimeSD: sd,
		}
		return s.report(shot)
	}
	sure, unsure := after(0), after(4)
	if !(unsure.Expect.Time > 0 && unsure.Expect.Time < sure.Expect.Time-0.3) {
		t.Errorf("after a shot of 30.5 s, expected %v; after one of 30.5 ± 4 s, %v", sure.Expect, unsure.Expect)
	}
}
