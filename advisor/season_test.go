package advisor_test

import (
	"runtime"
	"sync"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/simbar"
)

// The players of the scorecard.
const (
	byAdvisor = "advisor"
	// byShot is the advisor in the rows of the family, where the tasters judge
	// the shot's own time and not its setting's.
	byShot = "advisor, by the shot"
	inARow = "graded, 3 in a row"
	oracle = "oracle"
	habit  = "habit"
)

// An entrant plays a row.
type entrant struct {
	name string
	says simbar.Says // in the rows of the family
	make func(*simbar.World) simbar.Player
}

// entrants returns who plays a row of the family, or one of bars.
func entrants(family bool) []entrant {
	rule := func(name string, p func() simbar.Player) entrant {
		return entrant{name, simbar.OfSetting, func(*simbar.World) simbar.Player { return p() }}
	}
	advised := entrant{name: byAdvisor, make: without(whole)}
	all := entrant{name: oracle, make: simbar.Oracle}
	if family {
		return []entrant{
			advised,
			{byShot, simbar.OfShot, without(whole)},
			rule(inARow, func() simbar.Player { return simbar.GradedInARow(3) }),
			all,
		}
	}
	return append([]entrant{advised, rule(habit, simbar.Habit), all}, thumbs()...)
}

// thumbs returns the rules of thumb, which follow the clock and then the taste.
func thumbs() []entrant {
	var list []entrant
	for _, t := range []struct {
		name string
		make func() simbar.Player
	}{
		{"one notch", simbar.OneNotch},
		{"graded", simbar.Graded},
		{"proportional", simbar.Proportional},
		{"secant", simbar.Secant},
	} {
		list = append(list, entrant{name: t.name, make: func(*simbar.World) simbar.Player { return t.make() }})
	}
	return list
}

// without returns how to make a bar that does what the advisor says, less a
// part of it.
func without(p part) func(*simbar.World) simbar.Player {
	return func(*simbar.World) simbar.Player { return &advised{part: p} }
}

// A claim is the probability that a setting was said to be right with, and
// whether it was.
type claim struct {
	sure  float64
	right bool
	keep  bool // and that it be kept
}

// A season is how n bars of one row went.
type season struct {
	results []simbar.Result
	claims  []claim // of an advised player, in the last run of each bar
}

// play lets e play n bars of a row, on all cores.
func play(row simbar.Row, n int, e entrant) season {
	results, claims := make([]simbar.Result, n), make([][]claim, n)
	each(n, func(i int) {
		w := simbar.New(row, i)
		w.Say(e.says)
		p := e.make(w)
		if a, ok := p.(*advised); ok {
			last := runs(w)
			a.onAdvice = func(s simbar.Shot, said advisor.Advice) {
				if a.runs == last {
					claims[i] = append(claims[i], claim{said.Sure, w.Right(s.Set), said.Lever == bar.Keep})
				}
			}
		}
		results[i] = simbar.Play(w, p)
	})
	s := season{results: results}
	for _, c := range claims {
		s.claims = append(s.claims, c...)
	}
	return s
}

// runs returns how many runs w and those before it are.
func runs(w *simbar.World) int {
	n := 0
	for ; w != nil; w = w.Before {
		n++
	}
	return n
}

// each calls do for 0 to n-1, on all cores.
func each(n int, do func(i int)) {
	var workers sync.WaitGroup
	for k := range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := k; i < n; i += runtime.GOMAXPROCS(0) {
				do(i)
			}
		})
	}
	workers.Wait()
}
