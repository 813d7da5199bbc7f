package advisor

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// Sizes at which rules speak. Common practice, no source, unless said.
const (
	doseSlack   = 0.7 // g a dose may be off before it is put right first
	strongly    = 0.7 // taste steps at which a reading counts as said
	plainPraise = 0.5
	oddShot     = 0.5   // probability of being no witness
	evenEnough  = 0.5   // probability of an even bed
	scatter     = 0.11  // sd of log time at one setting: twice the published 6 %
	hottest     = 96    // °C, the most that is ever advised
	longCup     = 0.145 // log yield off what is meant from which a cup was not stopped where it was meant to be
)

// A situation is what the rules look at.
type situation struct {
	*replay
	last  pull
	today []pull // of this coffee, oldest first, the last among them
	here  move
	moves []move // grinds, here first
	cups  []move // shorter and longer ones, at the present grind
}

func (s *situation) fast() bool { return tooFast(s.coffee.Recipe, s.last.time) }
func (s *situation) slow() bool { return tooSlow(s.coffee.Recipe, s.last.time) }

// tooFast and tooSlow report whether a time in s is short of the window or over it, by
// a clock of whole seconds. One that is not known is neither.
func tooFast(r bar.Recipe, seconds float64) bool { return seconds < float64(r.Low)-0.5 }
func tooSlow(r bar.Recipe, seconds float64) bool { return seconds > float64(r.High)+0.5 }

// timed reports whether the last shot has a time to go by.
func (s *situation) timed() bool { return !math.IsNaN(s.last.time) }

// sour, bitter, weak and strong report what the last cup was said to be.
func (s *situation) sour() bool   { return s.under(s.last) }
func (s *situation) bitter() bool { return s.over(s.last) }
func (s *situation) weak() bool   { return s.last.reading.Weak }
func (s *situation) strong() bool { return s.heavy(s.last) }

// under reports whether a cup was said to be under-extracted.
func (r *replay) under(p pull) bool { return underSaid(r.coffee.Aim, p.reading) }

// underSaid is the same of a reading: what is meant bright is not so as soon.
func underSaid(aim bar.Aim, r taste.Reading) bool {
	return r.Under && (aim != bar.Bright || erredFrom(aim, r).Extraction < -strongly)
}

// over reports whether a cup was said to be over-extracted.
func (r *replay) over(p pull) bool { return p.reading.Over }

// heavy reports whether a cup was said to be strong.
func (r *replay) heavy(p pull) bool { return heavySaid(r.coffee.Aim, p.reading) }

// heavySaid is the same of a reading: what is meant rich is not so as soon.
func heavySaid(aim bar.Aim, r taste.Reading) bool {
	return r.Strong && (aim != bar.Rich || erredFrom(aim, r).Strength > strongly)
}

// complained reports whether anything was held against the last cup.
func (s *situation) complained() bool { return s.blamed(s.last) }

// blamed reports whether anything was held against a cup.
func (r *replay) blamed(p pull) bool { return Blamed(r.coffee.Aim, p.shot, p.reading) || p.uneven() }

// Blamed reports whether anything is held against a cup of a coffee that is meant
// so, by what was said of it: what is advised upon is wrong wherever it is counted.
func Blamed(aim bar.Aim, s bar.Shot, r taste.Reading) bool {
	return underSaid(aim, r) || r.Over || r.Weak || heavySaid(aim, r) || r.Praise < 0 || s.Marks.Has(bar.Spurted) || r.Even < evenEnough
}

// erredFrom returns how far a cup was said to be from what it is meant to be.
func erredFrom(aim bar.Aim, read taste.Reading) taste.Place {
	to := targetOf(aim)
	return taste.Place{Extraction: read.Extraction - to.Extraction, Strength: read.Strength - to.Strength}
}

// praised reports that the cup was liked and nothing was held against it.
func (s *situation) praised() bool { return s.praisedCup(s.last) }

// praisedCup reports the same of any cup.
func (r *replay) praisedCup(p pull) bool { return p.reading.Praise >= plainPraise && !r.blamed(p) }

// previous returns the shot of this coffee before the last.
func (s *situation) previous() (pull, bool) {
	if len(s.pulls) < 2 {
		return pull{}, false
	}
	return s.pulls[len(s.pulls)-2], true
}

// earlier returns the same, if it was of the same day.
func (s *situation) earlier() (pull, bool) {
	prev, ok := s.previous()
	return prev, ok && prev.Day == s.last.Day
}

// again returns the move that changes nothing, under another lever.
func (s *situation) again(lever bar.Lever) move {
	m := s.here
	m.lever = lever
	return m
}

// faults returns the reasons that are the bag's, not the lever's.
func (s *situation) faults() []why.Reason {
	var list []why.Reason
	for _, f := range s.last.reading.Faults {
		switch f {
		case taste.Cleaner: // told by its own rule
		case taste.Stale:
			list = append(list, why.Stale)
		case taste.Roast:
			if !s.roasty(&s.last) {
				list = append(list, why.Roast)
			}
		case taste.Raw:
			list = append(list, why.Raw)
		}
	}
	return list
}

// roasty reports that the fault of a cup is only the taste of a dark roast, which
// is told of as dark: ash is over-extraction there.
func (r *replay) roasty(p *pull) bool {
	other := func(f taste.Fault) bool { return f != taste.Roast }
	word := func(w bar.Word) bool { return w.Term == "rubbery" || w.Term == "baked" }
	return r.coffee.Roast != bar.Light && !slices.ContainsFunc(p.reading.Faults, other) && !slices.ContainsFunc(p.words, word)
}

// inside reports whether the last shot's time is in the window.
func (s *situation) inside() bool { return s.timed() && !s.fast() && !s.slow() }

// poured reports whether a shot poured at its own pace, and was not too slow.
func (s *situation) poured(p pull) bool {
	r := s.coffee.Recipe
	return !choked(p.shot, r) && !math.IsNaN(p.time) && !tooSlow(r, p.time) && !p.astray()
}

// uneven reports whether a shot's bed ran unevenly, as far as is seen or tasted.
// Sour and bitter from one mouth is uneven, whatever else was said.
func (p pull) uneven() bool {
	torn := func(t tasted) bool { return t.reading.Under && t.reading.Over }
	return p.shot.Marks.Has(bar.Spurted) || p.reading.Even < evenEnough || slices.ContainsFunc(p.tasted, torn)
}

// astray reports whether a shot says little of its setting: its bed ran unevenly,
// or it was probably no witness.
func (p pull) astray() bool { return p.uneven() || p.odd > oddShot }

// scattered reports that one person's last three shots at one setting lie far
// apart: the hand is not steady enough to keep anything by.
func (s *situation) scattered() bool {
	var logs []float64
	for _, p := range s.pulls[min(s.opened, len(s.pulls)):] {
		if p.Day == s.last.Day && p.Person == s.last.Person && p.grind == s.last.grind && !math.IsNaN(p.time) && p.steady(s.coffee.Recipe) {
			logs = append(logs, math.Log(p.time))
		}
	}
	n := len(logs)
	return n >= 3 && sd(logs[n-3:]) > scatter
}

// steady reports whether nothing is known of a shot that alone explains a time
// of its own.
func (p pull) steady(r bar.Recipe) bool {
	off := p.shot.Dose.From == bar.Said && math.Abs(float64(p.shot.Dose.X-r.Dose)) > doseSlack
	return !off && !p.idle && !p.mixed && !p.uneven() && p.shot.Marks&(bar.Practice|bar.First|bar.Spurted) == 0
}

// sd returns the standard deviation of a sample.
func sd(x []float64) float64 {
	var mean, sum float64
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sum += sq(v - mean)
	}
	return math.Sqrt(sum / float64(len(x)-1))
}

// worthTasting is the probability of being right from which an untasted shot is
// tasted before its time moves it. Assumed; tried on simulated bars.
const worthTasting = 0.4

// far reports whether the last time, at the recipe's dose and yield, is further
// off the window than single shots differ: then the grind comes first.
func (s *situation) far() bool {
	r := s.coffee.Recipe
	return s.timed() && (s.last.time < float64(r.Low)*0.9 || s.last.time > float64(r.High)*1.1)
}

// shorter returns the best of the shorter cups.
func (s *situation) shorter() move {
	top := s.again(bar.Repeat)
	for _, m := range s.cups {
		if m.yield < s.here.yield && (top.lever == bar.Repeat || m.cost() < top.cost()) {
			top = m
		}
	}
	return top
}

// liked reports that the last cup was tasted and nothing was held against it.
func (s *situation) liked() bool { return s.last.reading.Tasted && !s.complained() }

// errs returns which way the last three tasted cups all err where the clock does
// not explain it: -1 under-extracted, +1 over, 0 neither.
func (s *situation) errs() float64 {
	way, n := 0.0, 0
	for _, p := range slices.Backward(s.today) {
		r := s.coffee.Recipe
		switch {
		case !p.reading.Tasted || math.IsNaN(p.time):
			continue
		case s.under(p) && !tooFast(r, p.time) && way <= 0:
			way = -1
		case s.over(p) && !tooSlow(r, p.time) && way >= 0:
			way = 1
		default:
			return 0
		}
		if n++; n == 3 {
			return way
		}
	}
	return 0
}

// tried reports whether the grind and the yield have both been moved today.
func (s *situation) tried() bool {
	grind, yield := false, false
	for _, p := range s.today {
		grind = grind || p.grind != s.last.grind
		yield = yield || math.Abs(logRatio(p.shot.Yield, s.last.shot.Yield.X)) > 0.05
	}
	return grind && yield
}
