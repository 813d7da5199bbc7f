package advisor

import "shothand/advisor/bar"

// tastersDiffer: two tasters of one cup who lean to opposite sides are no reason
// to change a setting. The next cup is tasted by both, side by side; if they
// still differ there, what they say is weighed as always.
func tastersDiffer(s *situation) (verdict, bool) {
	if prev, ok := s.previous(); ok && prev.Day == s.last.Day && prev.grind == s.last.grind && prev.differ() {
		return verdict{}, false
	}
	return verdict{move: s.again(bar.Repeat)}, s.last.differ()
}

// differ reports whether two tasters of the cup found opposite things in it.
func (p pull) differ() bool {
	under, over, weak, strong := false, false, false, false
	for _, t := range p.tasted {
		under = under || t.reading.Extraction < -strongly
		over = over || t.reading.Extraction > strongly
		weak = weak || t.reading.Strength < -strongly
		strong = strong || t.reading.Strength > strongly
	}
	return len(p.tasted) > 1 && (under && over || weak && strong)
}
