package advisor

import (
	"slices"

	"shothand/advisor/bar"
)

// tastersDiffer: two tasters of one cup who lean to opposite sides, or of whom one
// likes it, are no reason to change a setting. The next cup is tasted by both, side
// by side; if they still differ there, what they say is weighed as always.
func tastersDiffer(s *situation) (verdict, bool) {
	if prev, ok := s.earlier(); ok && prev.grind == s.last.grind && prev.differ() {
		return verdict{}, false
	}
	return verdict{move: s.again(bar.Repeat)}, s.last.differ()
}

// differ reports whether two tasters of the cup found opposite things in it, or one
// liked it and the other held something against it.
func (p pull) differ() bool {
	v := p.verdicts()
	return v.under && v.over || v.weak && v.strong || v.liked && v.blamed
}

// between reports whether a cup stands between the tongues of those who tasted it:
// one found too little in it, another too much, and a third liked it.
func (p pull) between() bool {
	v := p.verdicts()
	return v.under && v.over && v.liked && !p.uneven()
}

// disputed reports whether the last cup was liked by one person alone, where two had
// differed about a cup of today: then the word of one keeps nothing, until a second
// cup in a row was liked.
func (s *situation) disputed() bool {
	if prev, ok := s.earlier(); !ok || !s.praised() || len(s.last.tasted) != 1 || s.sameSetting(prev) && s.praisedCup(prev) {
		return false
	}
	return slices.ContainsFunc(s.today, pull.differ)
}

// verdicts are what any of the tasters of a cup found.
type verdicts struct{ under, over, weak, strong, liked, blamed bool }

func (p pull) verdicts() verdicts {
	var v verdicts
	for _, t := range p.tasted {
		r := t.reading
		held := r.Under || r.Over || r.Weak || r.Strong || r.Praise < 0
		v.under = v.under || r.Extraction < -strongly
		v.over = v.over || r.Extraction > strongly
		v.weak = v.weak || r.Strength < -strongly
		v.strong = v.strong || r.Strength > strongly
		v.liked = v.liked || r.Praise >= plainPraise && !held
		v.blamed = v.blamed || held
	}
	return v
}
