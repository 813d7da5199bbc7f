package parse

import "shothand/advisor/bar"

// choked takes "choked", "choked at 45".
func choked(s *sheet, i int) int {
	for _, words := range []string{
		"nothing came out", "nothing is coming out", "nothing coming out", "only dripping", "dripping only", "barely dripping", "barely drips",
		"non esce niente", "non esce nulla", "non scende niente", "kommt nichts raus", "kommt nichts", "rien ne sort", "ne coule pas", "no sale nada", "no cae nada", "não sai nada",
		"nothing came", "nothing after", "kam nichts raus", "kam nichts", "nichts rausgekommen", "nichts rauskam", "non è uscito niente", "non è uscito nulla", "non usciva niente", "rien n'est sorti", "rien ne sortait", "rien n'a coulé",
		"no salió nada", "no ha salido nada", "no salía nada", "não saiu nada", "nada saiu",
	} {
		if n := s.phrase(i, words); n > 0 {
			s.shot.Marks |= bar.Choked
			return n + s.timeAfter(i+n)
		}
	}
	if !isChoke(s.at(i)) || s.negated(i) {
		return 0
	}
	s.shot.Marks |= bar.Choked
	if s.at(0).is("ok", "okay") {
		s.take(0, 1)
	}
	n := 1 + s.somewhat(i+1)
	return n + s.timeAfter(i+n)
}

// somewhat returns how many tokens from i on say how much, of what stands before and not of
// a taste behind: "choked a bit".
func (s *sheet) somewhat(i int) int {
	n := s.longest(i, []string{
		"a bit", "a little", "a little bit", "a touch", "a tad", "slightly", "somewhat", "ein bisschen", "bisschen", "ein wenig", "etwas", "un po'", "un po", "un poco", "leggermente", "un peu", "légèrement", "um pouco", "um bocado", "ligeramente",
	})
	if s.at(i+n).kind == wordToken && s.readable(s.at(i+n).text) {
		return 0
	}
	return n
}

// mineBefore takes "mine was" at the head of a shot, "mine" of one that choked.
func mineBefore(s *sheet, i int) int {
	if i > 0 || !s.at(i).is("mine", "meiner", "meins") {
		return 0
	}
	j := s.skip(i+1, "was", "is", "war", "ist", "era", "è", "était", "est", "foi", "é", ":")
	if isChoke(s.at(j)) {
		return j
	}
	return 0
}

// gushed takes "gusher", "gushed".
func gushed(s *sheet, i int) int {
	if !isGush(s.at(i)) || s.negated(i) {
		return 0
	}
	s.shot.Gushed = true
	n := 1 + s.somewhat(i+1)
	return n + s.timeAfter(i+n)
}

func isChoke(t token) bool {
	return t.is("choked", "choke", "choking", "stalled", "bloccato", "intasato", "intasata", "otturato", "atascado", "atascada", "obstruido", "verstopft", "bouché", "bouchée", "entupido", "entupida")
}

func isGush(t token) bool { return t.is("gusher", "gushed", "gushing", "gush") }

// soonestChoke is the fewest bare seconds at which a shot is given up as choked;
// below it stands a position of the dial: "choked at 5". Common practice, no
// source.
const soonestChoke = 15

// timeAfter takes "at 45" behind a choke. Where the time has been said, what
// follows is where the grinder stands: "18 4 45 choked at 60".
func (s *sheet) timeAfter(i int) int {
	if !s.at(i).is("at", "after", "by", "in", "nach", "dopo", "après", "después", "depois") {
		return 0
	}
	j := s.skip(i+1, "de")
	q, n := s.one(j)
	x, ok := q.time()
	if n == 0 || !ok || q.unit == noUnit && (x.X < soonestChoke || s.bare() == 3 || s.timed()) {
		return 0
	}
	s.set(&s.shot.Time, x, true)
	return j - i + n
}
