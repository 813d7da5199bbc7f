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

// drinks are the words for a cup in milk.
func drinks() []string {
	return []string{"milk", "latte", "cappuccino", "capp", "cortado", "macchiato"}
}

// inMilk takes "for milk", "in a flat white", and "milk" where it stands alone
// behind the numbers. "Lost in milk" is a word about the cup.
func inMilk(s *sheet, i int) int {
	drink := func(i int) int {
		switch t := s.at(i); {
		case t.is(drinks()...):
			return 1
		case t.is("flat") && s.at(i+1).is("white"), t.is("flat", "milk", "oat") && s.at(i+1).is("white", "drink", "drinks", "milk"):
			return 2
		}
		return 0
	}
	stands := func(i int) bool { return s.at(i).kind != wordToken }
	if s.at(i).is("for", "in", "with", "as") && stands(i-1) {
		j := s.skip(i+1, "a", "an", "the")
		if n := drink(j); n > 0 && stands(j+n) {
			s.shot.Marks |= advisor.InMilk
			return j + n - i
		}
		return 0
	}
	if n := drink(i); n > 0 && s.first < i && stands(i-1) && stands(i+n) {
		s.shot.Marks |= advisor.InMilk
		return n
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
		{advisor.InMilk, "for milk"},
	} {
		if m.Has(known.m) {
			out = append(out, known.word)
		}
	}
	return out
}
