package advisor

import "shothand/advisor/bar"

// Shots that say little, for there was something else in the grinder or the machine was cold.

// unpurged: a grind that was changed and not purged is not yet judged.
func unpurged(s *situation) (verdict, bool) {
	prev, ok := s.previous()
	v := verdict{move: s.again(bar.Repeat)}
	return v, ok && prev.grind != s.last.grind && s.last.shot.Marks.Has(bar.NotPurged) && !s.praised()
}

// halfBelieved: a first shot off a cold machine, or one with old grounds of
// another coffee in it, changes nothing by how it tastes.
func halfBelieved(s *situation) (verdict, bool) {
	half := s.last.shot.Marks.Has(bar.First) || s.last.mixed
	return verdict{move: s.again(bar.Repeat)}, half && s.last.reading.Tasted && !s.praised() && !s.fast() && !s.slow()
}
