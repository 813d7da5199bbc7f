package parse

import "shothand/advisor"

// mark takes what is said of a shot besides numbers and taste.
func mark(s *sheet, i int) int {
	t := s.at(i)
	m := markOf(t)
	if m == 0 || s.negated(i) || m == advisor.First && s.at(i-1).is("at") {
		return 0
	}
	s.shot.Marks |= m
	if m == advisor.Spurted && s.lex.known(t.low) {
		return 0 // it is a word about the cup as well
	}
	if m == advisor.First {
		return s.skip(i+1, "shot", "one", "of", "the", "day", "today") - i
	}
	return 1
}

func markOf(t token) advisor.Marks {
	switch {
	case t.is("practice", "practise", "training", "trainee"):
		return advisor.Practice
	case t.is("sink", "sinked", "binned", "dumped"):
		return advisor.Sink
	case t.is("single"):
		return advisor.Single
	case t.is("first"):
		return advisor.First
	case t.is("purged"):
		return advisor.Purged
	case t.is("spurted", "spurting", "spurts", "sprayed", "spraying", "channelled", "channeled", "channelling",
		"channeling", "squirted", "squirting"):
		return advisor.Spurted
	}
	return 0
}

// notPurged takes "not purged", "no purge", "unpurged", "didn't purge".
func notPurged(s *sheet, i int) int {
	n := 0
	switch {
	case s.at(i).is("unpurged"):
		n = 1
	case s.at(i).is("not", "no", "without", "didn't", "didnt", "wasn't", "never", "un") &&
		s.at(i+1).is("purged", "purge", "purging"):
		n = 2
	}
	if n > 0 {
		s.shot.Marks |= advisor.NotPurged
	}
	return n
}

// words of a mark's canonical form, for Format.
func markWords(m advisor.Marks) []string {
	var out []string
	for _, known := range []struct {
		m    advisor.Marks
		word string
	}{
		{advisor.Practice, "practice"},
		{advisor.Sink, "sink"},
		{advisor.Single, "single"},
		{advisor.First, "first"},
		{advisor.Purged, "purged"},
		{advisor.NotPurged, "unpurged"},
		{advisor.Choked, "choked"},
		{advisor.Stopped, "stopped early"},
		{advisor.Spurted, "spurted"},
		{advisor.Stuck, "same grind"},
	} {
		if m.Has(known.m) {
			out = append(out, known.word)
		}
	}
	return out
}
