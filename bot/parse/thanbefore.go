package parse

// thanBefore takes by how much a shot, otherwise the same, differed from the writer's
// last: "same as the last one just 2 secs quicker", "lo stesso, 2 g in più".
func thanBefore(s *sheet, i int) int {
	q, n := s.one(i)
	if !s.shot.Same || n == 0 || q.unit != second && q.unit != gram {
		return 0
	}
	way, m := s.moreOrLess(i + n)
	of, end := timePlace, i+n+m
	if q.unit == gram {
		of = yieldPlace
		if s.at(end).is("in") {
			of = dosePlace
		}
		end = s.skip(end, "in", "out")
	}
	if is := s.vocab.Pulled.figure(of); way != 0 && is != 0 {
		s.put(of, quantity{vals: []float64{is + way*q.vals[0]}, unit: q.unit, rough: q.rough})
		return end - i
	}
	return 0
}

// moreOrLess returns 1 for more and -1 for less at token i, with how many tokens say so.
func (s *sheet) moreOrLess(i int) (way float64, n int) {
	j := s.skip(i, "de", "in", "en", "a", "em")
	if more := s.at(j).is("più", "piu", "plus", "más", "mas", "mais"); more && quickness(s.at(j+1)) != 0 {
		j++
	} else if more {
		return 1, j + 1 - i
	}
	return quickness(s.at(j)), j + 1 - i
}

// quickness is -1 for a word for less or sooner, and 1 for one for more or later.
func quickness(t token) float64 {
	switch {
	case t.is("quicker", "faster", "shorter", "less", "sooner", "lighter", "schneller", "kürzer", "weniger", "meno", "veloce", "rapido", "corto",
		"moins", "vite", "rapide", "court", "menos", "rápido", "curto"):
		return -1
	case t.is("slower", "longer", "more", "later", "heavier", "langsamer", "länger", "mehr", "lento", "lungo", "lent", "lentement", "long", "largo", "longo"):
		return 1
	}
	return 0
}
