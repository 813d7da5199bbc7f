package simbar

import (
	"math"
	"slices"
)

// A Player decides what to do next.
type Player interface {
	// Start tells what can be seen before the first shot. It is called once
	// for each run on the same grinder, in order; what was learnt may be used.
	Start(t Table)
	// Next returns what to do after the shots of this run, at least one. The
	// first is pulled at the start setting.
	Next(shots []Shot) Move
}

// A Move is what a player does next.
type Move struct {
	Setting Setting // of the next shot
	Keep    bool    // the last shot's setting is it; Setting is not looked at
	Ask     bool    // first ask how the last shot tasted, then decide again
	Second  bool    // first let somebody else taste it, then decide again
}

// A Result is how a run went.
type Result struct {
	Shots     int  // pulled until the run ended
	FirstKeep int  // the shot after which a setting was first kept, 0 never
	Kept      bool // a setting was kept
	KeptRight bool // and the first one that was kept was right
	FirstGood int  // the first shot at a right setting, 0 never
	Reached   int  // the first right keep, 0 never
	Choked    int  // shots with a true steady time above 60 s
	Asked     int

	Moved           bool // the second shot was pulled at another grind
	FirstMoveChoked bool // and would choke there
}

// missed is what a wrong or a missing keep costs in shots.
const missed = 8

// Cost returns the shots, and 8 more for a wrong or missing keep.
func (r Result) Cost() float64 {
	if r.KeptRight {
		return float64(r.Shots)
	}
	return float64(r.Shots + missed)
}

// Play resets w and plays it with p, and the runs before it first. In a row of
// the family a run ends at the first right keep, else at the first keep; at the
// latest at the row's limit.
func Play(w *World, p Player) Result {
	w.Reset()
	return play(w, p, w.Row.Limit(), w.Row.over)
}

// over reports whether a run of the row has ended.
func (r Row) over(at Result) bool {
	if r.Family() {
		return at.Reached > 0
	}
	return at.Kept
}

// PlayOn is Play, but the last run goes on to a number of shots whatever is
// kept.
func PlayOn(w *World, p Player, shots int) Result {
	w.Reset()
	return play(w, p, shots, func(Result) bool { return false })
}

// play plays w until it has ended.
func play(w *World, p Player, limit int, ended func(Result) bool) Result {
	if w.Before != nil {
		play(w.Before, p, w.Row.Limit(), w.Row.over)
	}
	w.begin()
	p.Start(w.table)
	var r Result
	next := w.table.Start
	for r.Shots < limit {
		shot := w.Pull(next)
		r.count(w, shot)
		move := p.Next(w.state.shots)
		if move.Ask {
			w.Ask()
			r.Asked++
			move = p.Next(w.state.shots)
		}
		if move.Second {
			w.Second()
			r.Asked++
			move = p.Next(w.state.shots)
		}
		next = move.Setting
		if !move.Keep {
			continue
		}
		r.keep(w.Right(shot.Set))
		if ended(r) {
			break
		}
		next = shot.Set
	}
	return r
}

// count takes a shot into r.
func (r *Result) count(w *World, shot Shot) {
	r.Shots++
	if w.Chokes(shot.Set) {
		r.Choked++
	}
	if r.FirstGood == 0 && w.Right(shot.Set) {
		r.FirstGood = r.Shots
	}
	if r.Shots == 2 && shot.Set.Grind != w.state.shots[0].Set.Grind {
		r.Moved, r.FirstMoveChoked = true, w.Chokes(shot.Set)
	}
}

// keep takes a keep into r.
func (r *Result) keep(right bool) {
	if !r.Kept {
		r.Kept, r.FirstKeep, r.KeptRight = true, r.Shots, right
	}
	if right && r.Reached == 0 {
		r.Reached = r.Shots
	}
}

// A Summary is how a row went. Shares are of all runs.
type Summary struct {
	Runs              int
	Median, Mean, P90 float64 // shots
	Cost              float64 // mean
	Wrong             float64 // first keeps that were wrong
	Never             float64 // runs without a right keep
	Within3           float64 // runs that ended well within three shots
	Chokes            float64 // a run
	FirstMoveChoked   float64 // of runs
}

// Summarise returns the summary of a row's results.
func Summarise(results []Result) Summary {
	n := float64(len(results))
	s := Summary{Runs: len(results)}
	var shots []float64
	share := func(yes bool) float64 {
		if yes {
			return 1 / n
		}
		return 0
	}
	for _, r := range results {
		shots = append(shots, float64(r.Shots))
		s.Mean += float64(r.Shots) / n
		s.Cost += r.Cost() / n
		s.Chokes += float64(r.Choked) / n
		s.Wrong += share(r.Kept && !r.KeptRight)
		s.Never += share(r.Reached == 0)
		s.Within3 += share(0 < r.Reached && r.Reached <= 3)
		s.FirstMoveChoked += share(r.FirstMoveChoked)
	}
	slices.Sort(shots)
	s.Median, s.P90 = quantile(shots, 0.5), quantile(shots, 0.9)
	return s
}

// quantile returns the smallest of sorted that a share q does not exceed, NaN
// if there is none.
func quantile(sorted []float64, q float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	return sorted[max(0, int(math.Ceil(q*float64(len(sorted))))-1)]
}
