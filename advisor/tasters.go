package advisor

import "shothand/advisor/bar"

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
	under, over, weak, strong, liked, blamed := false, false, false, false, false, false
	for _, t := range p.tasted {
		r := t.reading
		under = under || r.Extraction < -strongly
		over = over || r.Extraction > strongly
		weak = weak || r.Strength < -strongly
		strong = strong || r.Strength > strongly
		held := r.Under || r.Over || r.Weak || r.Strong || r.Praise < 0
		liked, blamed = liked || r.Praise >= plainPraise && !held, blamed || held
	}
	return len(p.tasted) > 1 && (under && over || weak && strong || liked && blamed)
}
