package parse

// inSentence takes the dose and the yield of a shot that is told in a whole sentence, by
// what was done: "I put 19, it came 40, in 21 seconds". All three have to be told.
func inSentence(s *sheet, i int) int {
	place, n := s.toldAt(i)
	if n == 0 || s.numbers < 3 || !s.inSeconds() || !s.anyToldBut(place) {
		return 0
	}
	q, m := s.one(i + n)
	s.put(place, q)
	return n + m
}

// toldAt returns which figure the verb at i tells, and how many tokens stand before its number.
func (s *sheet) toldAt(i int) (p place, n int) {
	t := s.at(i)
	switch {
	case t.is("put", "with", "used", "took"):
		p = dosePlace
	case t.is("gave", "came", "got"):
		p = yieldPlace
	default:
		return 0, 0
	}
	j := s.skip(i+1, "in", "me", "out", "about", "to")
	q, m := s.one(j)
	if m == 0 || q.unit != noUnit && q.unit != gram || len(q.vals) != 1 || q.vals[0] < leastDose || s.unknown(j+m) {
		return 0, 0
	}
	return p, j - i
}

// anyToldBut reports whether the other of the two is told as well.
func (s *sheet) anyToldBut(p place) bool {
	for i := range s.tokens {
		if other, n := s.toldAt(i); n > 0 && other != p {
			return true
		}
	}
	return false
}

// inSeconds reports whether a number of a message counts seconds.
func (s *sheet) inSeconds() bool {
	for i, t := range s.tokens {
		if t.kind == numberToken && unitOf(s.at(i+1).low) == second {
			return true
		}
	}
	return false
}
