package simbar

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// entrant is a player of the table.
type entrant struct {
	name string
	make func(w *World) Player
}

func entrants(family bool) []entrant {
	plain := func(p func() Player) func(*World) Player { return func(*World) Player { return p() } }
	if family {
		return []entrant{
			{"one notch, 2 in a row", func(*World) Player { return OneNotchInARow(2) }},
			{"graded, 2 in a row", func(*World) Player { return GradedInARow(2) }},
			{"graded, 3 in a row", func(*World) Player { return GradedInARow(3) }},
			{"oracle", Oracle},
		}
	}
	return []entrant{
		{"one notch", plain(OneNotch)},
		{"graded", plain(Graded)},
		{"proportional", plain(Proportional)},
		{"secant", plain(Secant)},
		{"habit", plain(Habit)},
		{"oracle", Oracle},
	}
}

// playRow plays the first n worlds of a row.
func playRow(row Row, n int, make func(w *World) Player) Summary {
	var results []Result
	for i := range n {
		w := New(row, i)
		results = append(results, Play(w, make(w)))
	}
	return Summarise(results)
}

// The family is the world that the prototype of the filter was measured on. Its
// figures (2,000 bars; standard error 0.04 to 0.25 shots on means and 0.5 to
// 0.9 points on shares) hold here within: a shot on the median, 0.45 on the
// mean, two on p90, 2 points on the share of wrong keeps.
func TestFamilyIsTheOneMeasured(t *testing.T) {
	if testing.Short() {
		t.Skip("2,000 bars a row")
	}
	for _, test := range []struct {
		row                      Row
		name                     string
		player                   func() Player
		median, mean, p90, wrong float64
	}{
		{Cold, "one notch", func() Player { return OneNotchInARow(2) }, 12, 15.39, 36, 17.4},
		{Cold, "graded 2", func() Player { return GradedInARow(2) }, 6, 6.88, 12, 10.7},
		{Cold, "graded 3", func() Player { return GradedInARow(3) }, 9, 9.94, 17, 5.3},
		{PurgedTold, "graded 2", func() Player { return GradedInARow(2) }, 6, 6.79, 11, 10.0},
		{PurgedTold, "graded 3", func() Player { return GradedInARow(3) }, 9, 9.81, 17, 4.8},
		{KnownGrinder, "graded 2", func() Player { return GradedInARow(2) }, 6, 6.88, 12, 10.7},
	} {
		s := playRow(test.row, 2000, func(*World) Player { return test.player() })
		t.Logf("%s, %s: %g / %.2f / %g, wrong %.1f %% (prototype %g / %.2f / %g, %.1f %%)", test.row, test.name,
			s.Median, s.Mean, s.P90, 100*s.Wrong, test.median, test.mean, test.p90, test.wrong)
		near := func(what string, got, want, within float64) {
			if !(math.Abs(got-want) <= within) {
				t.Errorf("%s, %s: %s %g, want %g", test.row, test.name, what, got, want)
			}
		}
		near("median", s.Median, test.median, 1)
		near("mean", s.Mean, test.mean, 0.45)
		near("p90", s.P90, test.p90, 2)
		near("wrong", 100*s.Wrong, test.wrong, 2)
	}
}

// Nobody beats the oracle, who is never wrong.
func TestOracleIsBest(t *testing.T) {
	for _, row := range allRows() {
		best := playRow(row, 40, Oracle)
		if best.Wrong > 0 || best.Never > 0 || best.P90 > 3 {
			t.Errorf("%s: oracle %+v", row, best)
		}
		for _, p := range entrants(row.Family()) {
			if s := playRow(row, 40, p.make); s.Cost < best.Cost {
				t.Errorf("%s: %s costs %.2f, the oracle %.2f", row, p.name, s.Cost, best.Cost)
			}
		}
	}
}

// Who listens to tasters that know the truth is never wrong, and a rule that
// follows the clock is as often wrong as when nothing is said.
func TestTruthfulTastersGiveItAway(t *testing.T) {
	if s := playRow(Cold, 200, func(*World) Player { return Habit() }); s.Wrong != 0 {
		t.Errorf("habit is wrong in %g of runs", s.Wrong)
	}
	fine := func(w *World) Player {
		w.Say(Fine)
		return Habit()
	}
	if s := playRow(Cold, 200, fine); s.Wrong < 0.5 {
		t.Errorf("habit is wrong in only %g of runs where all is said to be fine", s.Wrong)
	}
}

// The table of all rivals on all rows, to read.
func TestTableOfRivals(t *testing.T) {
	if testing.Short() {
		t.Skip("a table to read")
	}
	var text strings.Builder
	for _, row := range allRows() {
		for _, p := range entrants(row.Family()) {
			s := playRow(row, 100, p.make)
			fmt.Fprintf(&text, "%-26s %-22s %2.0f / %5.2f / %2.0f, cost %5.2f, wrong %4.1f %%, never %4.1f %%, chokes %.2f, first move %4.1f %%\n",
				row, p.name, s.Median, s.Mean, s.P90, s.Cost, 100*s.Wrong, 100*s.Never, s.Chokes, 100*s.FirstMoveChoked)
			if math.IsNaN(s.Cost + s.Median + s.P90) {
				t.Errorf("%s, %s: %+v", row, p.name, s)
			}
		}
	}
	t.Log("\n" + text.String())
}

// What is counted, on results made by hand.
func TestSummarise(t *testing.T) {
	s := Summarise([]Result{
		{Shots: 2, Kept: true, KeptRight: true, Reached: 2},
		{Shots: 6, Kept: true, FirstMoveChoked: true, Choked: 2},
		{Shots: 20},
		{Shots: 4, Kept: true, Reached: 4},
	})
	want := Summary{
		Runs: 4, Median: 4, Mean: 8, P90: 20, Cost: (2 + 14 + 28 + 12) / 4.0, Wrong: 0.5, Never: 0.5,
		Within3: 0.25, Chokes: 0.5, FirstMoveChoked: 0.25,
	}
	if s != want {
		t.Errorf("got %+v\nwant %+v", s, want)
	}
}

// PlayOn goes on whatever is kept.
func TestPlayOn(t *testing.T) {
	for _, row := range allRows() {
		w := New(row, 1)
		if r := PlayOn(w, Oracle(w), 12); r.Shots != 12 || r.FirstKeep == 0 || r.FirstKeep > 3 {
			t.Errorf("%s: %+v", row, r)
		}
	}
}

// A day jumps or creeps when it should.
func TestDays(t *testing.T) {
	out := map[Drift]int{}
	for i := range 200 {
		for _, kind := range []Drift{Steady, Jump, Ramp} {
			d := NewDay(kind, i)
			if len(d.Service) != 100 || len(d.Dialling) != 3 || len(d.True) != 100 {
				t.Fatalf("%v: %d and %d shots", kind, len(d.Dialling), len(d.Service))
			}
			if d.True[DriftFrom-2] != d.True[0] {
				t.Errorf("%v %d drifts before its time", kind, i)
			}
			if kind == Jump && (d.Out != DriftFrom || d.True[DriftFrom-1] != 31.5) {
				t.Errorf("jump %d: out at %d, %g s", i, d.Out, d.True[DriftFrom-1])
			}
			if d.Out > 0 {
				out[kind]++
			}
		}
	}
	if out[Steady] != 0 || out[Ramp] != 200 {
		t.Errorf("out of the window: %v", out)
	}
}

func BenchmarkPlayHabit(b *testing.B) {
	for i := range b.N {
		Play(New(Bars, i%2000), Habit())
	}
}
