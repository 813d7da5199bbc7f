package advisor_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/simbar"
)

// driftDays is how many days of each kind are played.
const driftDays = 100

// A served is how a day of service went.
type served struct {
	alarm int // the shot after which the coffee was first said to drift, 0 never
	out   int // the first shot truly out
}

// serveDay plays a day: three shots, the call, and a hundred more.
func serveDay(kind simbar.Drift, index int) served {
	day := simbar.NewDay(kind, index)
	p := &advised{}
	p.Start(day.Table)
	for _, s := range day.Dialling {
		p.report(s)
	}
	p.add(bar.Entry{Person: 1, At: p.now, Day: bar.DayOf(p.now), What: bar.Dialled{Coffee: p.coffee}})
	for n, s := range day.Service {
		p.report(s)
		p.now = p.now.Add(-2 * time.Minute) // a busy day
		if a, ok := p.advise(); ok && a.State == advisor.Drifting {
			return served{n + 1, day.Out}
		}
	}
	return served{0, day.Out}
}

// playDays plays days of a kind, two at a time.
func playDays(kind simbar.Drift) []served {
	all := make([]served, driftDays)
	var wait sync.WaitGroup
	for half := range 2 {
		wait.Go(func() {
			for i := half; i < driftDays; i += 2 {
				all[i] = serveDay(kind, i)
			}
		})
	}
	wait.Wait()
	return all
}

// The days of the drift watch are in a golden table, and reach what they should:
// at most 22 in 100 days with a false alarm, and half of the jumps to 31.5 s
// found within five shots.
func TestDriftDays(t *testing.T) {
	if raced || testing.Short() {
		t.Skip("300 days of service")
	}
	const file = "../testdata/advisor/drift.golden"
	steady, jump, ramp := playDays(simbar.Steady), playDays(simbar.Jump), playDays(simbar.Ramp)
	false1, false2, early, missed := 0, 0, 0, 0
	var delays, after []float64
	for i := range driftDays {
		if steady[i].alarm > 0 {
			false1++
			if steady[i].alarm < simbar.DriftFrom {
				false2++
			}
		}
		switch a := jump[i].alarm; {
		case a == 0:
			delays = append(delays, math.Inf(1))
		case a < simbar.DriftFrom:
			early++
		default:
			delays = append(delays, float64(a-simbar.DriftFrom+1))
		}
		switch a := ramp[i].alarm; {
		case a == 0:
			missed++
		case a >= simbar.DriftFrom:
			after = append(after, float64(a-ramp[i].out))
		}
	}
	slices.Sort(delays)
	slices.Sort(after)
	at := func(sorted []float64, q float64) float64 { return sorted[int(math.Ceil(q*float64(len(sorted))))-1] }
	table := strings.Join([]string{
		fmt.Sprintf("Days of 100 shots after a coffee was called dialled in, %d of each kind: 5 %% noise,", driftDays),
		"2 % outliers, a window of 26 to 30 s. An alarm is the first shot after which it drifts.",
		"",
		fmt.Sprintf("steady: days with a false alarm                     %3d of %d (in the first 20 shots %d)", false1, driftDays, false2),
		fmt.Sprintf("jump to 31.5 s at shot %d: shots to the alarm       median %g, nine in ten %g; alarm before it on %d days", simbar.DriftFrom, at(delays, 0.5), at(delays, 0.9), early),
		fmt.Sprintf("0.3 %% a shot from shot %d: alarm after it is out by median %g, nine in ten %g shots; missed on %d days", simbar.DriftFrom, at(after, 0.5), at(after, 0.9), missed),
		"",
	}, "\n")
	if *update {
		if err := os.WriteFile(file, []byte(table), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil || string(want) != table {
		t.Errorf("the table is now (%v):\n%s", err, table)
	}
	if share := float64(false1) / driftDays; share > 0.22 {
		t.Errorf("false alarms on %.0f %% of the days, at most 22 %%", 100*share)
	}
	if d := at(delays, 0.5); d > 5 {
		t.Errorf("median delay %g shots, at most 5", d)
	}
}
