package parse

import "slices"

// mendedInLine takes what is put right behind the numbers of a shot into them: "18 36 28 oh
// wait 19 40 28" is 19 40 28, and "18 36 28 no 29" is 18 36 29.
func mendedInLine(tokens []token) []token {
	run := numberRun(tokens, 0)
	if len(run) != 3 {
		return tokens
	}
	for j := run[2] + 1; j+1 < len(tokens); j++ {
		from := pastTakingBack(tokens, j)
		if from == j {
			continue
		}
		is := numberRun(tokens, from)
		switch {
		case len(is) == 3 && 0 < is[0]-from && is[0]-from <= 2: // of another coffee
			return tokens[from:]
		case len(is) == 0 || is[0] != from:
			continue
		case len(is) == 3:
			return slices.Concat(tokens[:run[0]], tokens[is[0]:])
		}
		for _, i := range is {
			old := meantBy(tokens, run, i)
			if old < 0 {
				return tokens
			}
			tokens[old].num, run = tokens[i].num, slices.DeleteFunc(slices.Clone(run), func(k int) bool { return k == old })
		}
		end := is[len(is)-1] + 1
		for end < len(tokens) && (unitOf(tokens[end].low) != noUnit || label(tokens[end]) != 0) {
			end++
		}
		return slices.Concat(tokens[:j], tokens[end:])
	}
	return tokens
}

// numberRun returns the plain numbers that stand together from i on, the first of them
// anywhere behind it.
func numberRun(tokens []token, i int) (run []int) {
	for ; i < len(tokens); i++ {
		switch t := tokens[i]; {
		case t.kind == numberToken && t.num.form == plainForm:
			run = append(run, i)
		case t.kind == numberToken:
			return nil
		case len(run) == 0:
		case unitOf(t.low) != noUnit, t.is(",", "/", "-", ">", "→", "in", "out", "to", "and"):
		default:
			return run
		}
		if len(run) > 3 {
			return nil
		}
	}
	return run
}

// pastTakingBack returns where what takes back at j ends, j where nothing does.
func pastTakingBack(tokens []token, j int) int {
	s := sheet{tokens: tokens, used: make([]bool, len(tokens))}
	if !tokens[j].is("oh", "ah", "wait", "no", "nope", "sorry", "actually", "oops", "i", "digo", "ne", "nö", "nan", "scusa", "aspetta", "anzi", "warte", "nein", "nee", "attends", "non", "pardon", "espera", "perdón", "perdona", "não", "desculpa", "ops", "oups", "moment", "halt", "ach", "correction") {
		return j
	}
	i := j
	for i < len(tokens) {
		if n := s.longest(i, takeBacks()); n > 0 {
			i += n
		} else if tokens[i].is("oh", "ah", ",", "-", ":", ".", "—", "–", "it", "its", "it's", "was", "that", "is", "make", "ran", "es", "war", "era", "waren", "erano", "c'était", "fue", "foi") {
			i++
		} else {
			break
		}
	}
	return i
}

// meantBy returns which of some numbers another is in place of: the only one that lies near
// it, or the time of one in seconds.
func meantBy(tokens []token, run []int, i int) int {
	x := tokens[i].num.vals[0]
	if i+1 < len(tokens) && unitOf(tokens[i+1].low) == second {
		return run[len(run)-1]
	}
	best := slices.MinFunc(run, func(a, b int) int {
		if apart(tokens[a].num.vals[0], x) < apart(tokens[b].num.vals[0], x) {
			return -1
		}
		return 1
	})
	near := apart(tokens[best].num.vals[0], x)
	for _, k := range run {
		if k != best && apart(tokens[k].num.vals[0], x) < 2*near {
			return -1
		}
	}
	if near > nearEnough {
		return -1
	}
	return best
}

// nearEnough is how far a number may lie from the one it takes the place of, as a logarithm.
// Assumed.
const nearEnough = 0.35
