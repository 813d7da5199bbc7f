package review

import (
	"math"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
)

// A Kind is a kind of change.
type Kind int

// The kinds.
const (
	Finer Kind = iota + 1
	Coarser
	Longer  // more yield, or a later stop
	Shorter // less yield
	MoreDose
	LessDose
	Care // of the puck
	Water
)

// Kinds returns all of them, in the order in which they are told.
func Kinds() []Kind { return []Kind{Finer, Coarser, Longer, Shorter, MoreDose, LessDose, Care, Water} }

// byTime reports whether a kind is judged by the clock, or else by the cup.
func (k Kind) byTime() bool { return k == Finer || k == Coarser }

// A use is one advice of a kind, and the shot after it.
type use struct {
	kind     Kind
	followed bool
	at       time.Time
	witness
}

// A witness is what a shot says of the change before it.
type witness struct {
	seconds  float64 // by which its time differs from the one believed without a change; NaN if not known
	log      float64 // the same as a share, in logs
	foretold float64 // what the change was believed to do, in logs
	weight   float64 // how far it is a witness of its setting
	mid      float64 // s, believed without a change
	nearer   float64 // taste steps by which the cup is nearer to the middle than believed; NaN if not known
	off      float64 // taste steps from the middle that it was believed to be
	heard    float64 // how much the words say of it, 0 to 1
}

// waits is how long after an advice a shot still answers it.
const waits = 12 * time.Hour

// uses returns the advices of a course in the span, each with the shot after
// it. Advice that no shot came after counts for nothing.
func (c Course) uses(span Span) []use {
	var list []use
	for _, p := range c.pairs(span) {
		if kind := c.kind(p.said); kind != 0 {
			u := use{kind: kind, followed: c.followed(p), at: p.after.Entry.At}
			u.witness = witnessOf(p.after)
			list = append(list, u)
		}
	}
	return list
}

// A pair is an advice, the shot it answered and the shot after it.
type pair struct {
	said          Said
	before, after advisor.Step
}

// pairs returns the advices in the span that a shot came after.
func (c Course) pairs(span Span) []pair {
	at := map[bar.EntryID]int{}
	for i, s := range c.Trail.Steps {
		at[s.Entry.ID] = i
	}
	var list []pair
	for _, s := range c.Said {
		i, ok := at[s.Shot]
		if !ok || i+1 == len(c.Trail.Steps) {
			continue
		}
		p := pair{s, c.Trail.Steps[i], c.Trail.Steps[i+1]}
		if span.own(p.after.Entry) && p.after.Entry.At.Sub(p.before.Entry.At) < waits && p.after.Shot.Grinder == p.before.Shot.Grinder {
			list = append(list, p)
		}
	}
	return list
}

// kind returns what kind of change an advice is, 0 for none.
func (c Course) kind(s Said) Kind {
	up := s.To > s.From
	switch s.Lever {
	case bar.Grind:
		if s.Unit == advisor.DialUnit && c.Grinder.Finer != bar.Higher {
			up = !up
		}
		return either(up, Finer, Coarser)
	case bar.Yield, bar.Time:
		return either(up, Longer, Shorter)
	case bar.Dose:
		return either(up, MoreDose, LessDose)
	case bar.Prep:
		return Care
	case bar.Temperature:
		return Water
	case bar.NoLever, bar.Repeat, bar.Keep:
	}
	return 0
}

func either(first bool, a, b Kind) Kind {
	if first {
		return a
	}
	return b
}

// followed reports whether the shot after an advice was pulled as advised: at
// least half of the way, and nothing moved where nothing should.
func (c Course) followed(p pair) bool {
	s, shot := p.said, p.after.Shot
	near := func(x float64) bool { return math.Abs(x-s.To) < math.Abs(s.To-s.From)/2+1e-9 }
	switch s.Lever {
	case bar.Grind:
		if s.Unit == advisor.StepUnit {
			return near(p.after.Grind - p.before.Grind)
		}
		return shot.Grind.From != bar.None && near(float64(shot.Grind.X))
	case bar.Yield:
		return near(float64(shot.Yield.X))
	case bar.Time:
		return near(float64(shot.Time.X))
	case bar.Dose:
		return near(float64(shot.Dose.X))
	case bar.Temperature:
		return s.Done || near(float64(shot.Water))
	case bar.Prep, bar.Repeat, bar.Keep:
		return !p.after.Moved
	case bar.NoLever:
	}
	return false
}

// clear is how far from the middle, in taste steps, a cup has to be believed
// for "nearer" to mean anything.
const clear = 0.3

// witnessOf returns what a shot says of the change before it.
func witnessOf(s advisor.Step) witness {
	w := witness{seconds: math.NaN(), log: math.NaN(), nearer: math.NaN(), mid: s.Stayed.Mid}
	if !counts(s) {
		return w
	}
	if s.Shot.Time.From != bar.None && s.Stayed.Mid > 0 {
		w.seconds = float64(s.Shot.Time.X) - s.Stayed.Mid
		w.log = math.Log(float64(s.Shot.Time.X) / s.Stayed.Mid)
		w.foretold = math.Log(s.Foretold.Mid / s.Stayed.Mid)
		w.weight = 1 - s.Odd
	}
	off := math.Hypot(s.Meant.Extraction, s.Meant.Strength)
	if !s.Read.Tasted || !(off > clear) {
		return w
	}
	// A reading of words is drawn to the middle by as much as they leave open.
	e, t := s.Meant.Extraction/off, s.Meant.Strength/off
	heardE, heardT := 1-s.Read.ExtractionSD*s.Read.ExtractionSD, 1-s.Read.StrengthSD*s.Read.StrengthSD
	w.heard = max(0, heardE*e*e+heardT*t*t)
	if !(w.heard > 0.05) {
		return w
	}
	w.off = off
	w.nearer = -((s.Read.Extraction-heardE*s.Meant.Extraction)*e + (s.Read.Strength-heardT*s.Meant.Strength)*t) / w.heard
	return w
}

// counts reports whether a shot says anything of a change.
func counts(s advisor.Step) bool {
	const not = bar.Practice | bar.Single | bar.First | bar.Choked | bar.Stopped | bar.Unplaced
	return !s.First && s.Shot.Marks&not == 0
}

// repeats returns what the shots say that were pulled as the one before, and not
// after an advice that leaves no trace in their numbers.
func repeats(steps []advisor.Step, uses []use) []witness {
	unseen := map[time.Time]bool{}
	for _, u := range uses {
		if u.followed && (u.kind == Care || u.kind == Water) {
			unseen[u.at] = true
		}
	}
	var list []witness
	for _, s := range steps {
		if counts(s) && !s.Moved && s.Stayed.Mid > 0 && !unseen[s.Entry.At] {
			list = append(list, witnessOf(s))
		}
	}
	return list
}
