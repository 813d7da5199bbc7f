package taste

import (
	"math"
	"slices"
	"strings"
)

// The bounds of a degree, and the degree of "a bit" and "-ish".
const (
	leastDegree = 0.25
	aBit        = 0.5
	mostDegree  = 3
)

// Read returns the words of taste in text, in their order and each once, and
// the words that it could not place, as typed, in lower case. Words that say
// nothing of taste ("the", "shot") are in neither.
func (l *Lexicon) Read(text string) (words []Word, unread []string) {
	r := reader{lexicon: l, tokens: tokenize(text), last: -1}
	for r.at < len(r.tokens) {
		r.step()
	}
	r.clause()
	return collapse(r.words), r.unread
}

// A reader goes through the tokens of one text from left to right.
type reader struct {
	lexicon *Lexicon
	tokens  []token
	at      int
	words   []Word
	unread  []string

	pending // what was said ahead of the next word

	armed bool // the last word was negated: "or" negates the next
	close bool // a word of taste, and no unread one, has come before
	last  int  // index of the word just before, in this clause; -1: none
}

// pending is what waits for the next word of taste.
type pending struct {
	degree            float64 // 0: nothing said
	not, firm, wish   bool
	more, less, plain bool
}

// step reads one phrase or mark.
func (r *reader) step() {
	t := r.tokens[r.at]
	if t.mark != 0 {
		r.at++
		r.mark(t.mark)
		return
	}
	m, n := r.match()
	if n == 0 {
		r.unread = append(r.unread, t.raw)
		r.pending, r.armed, r.close, r.last = pending{}, false, false, -1
		r.at++
		return
	}
	r.at += n
	r.take(m)
}

// match returns the meaning of the longest phrase here and its length in
// tokens, 0 if there is none.
func (r *reader) match() (meaning, int) {
	n := 0
	for n < r.lexicon.longest && r.at+n < len(r.tokens) && r.tokens[r.at+n].mark == 0 {
		n++
	}
	parts := make([]string, n)
	for i := range n {
		parts[i] = r.tokens[r.at+i].word
	}
	for ; n > 1; n-- {
		if m, ok := r.lexicon.phrases[strings.Join(parts[:n], " ")]; ok {
			return m, n
		}
	}
	if m, ok := r.lexicon.lookUp(parts[0]); ok {
		return m, 1
	}
	return meaning{}, 0
}

// mark reads a mark between words.
func (r *reader) mark(mark rune) {
	switch mark {
	case '/':
		r.join()
	case '&':
		r.armed = false
	case ',':
		armed := r.armed
		r.clause()
		r.armed = armed // "not sour, or bitter"
	}
}

// join carries a negation over "or".
func (r *reader) join() {
	if r.armed {
		r.not = true
	}
}

// clause ends a clause. What still waits belongs to the word just before:
// "sour, a bit", "sweetness lacking", "sour? not at all".
func (r *reader) clause() {
	if n := len(r.words); r.firm && r.not && n > 0 {
		r.words[n-1].Not, r.words[n-1].Degree = true, aBit
	} else if n > 0 && 0 < r.degree && r.degree < 1 && r.close {
		r.words[n-1].Degree = clampDegree(r.words[n-1].Degree * r.degree)
	} else if r.last >= 0 && r.not {
		r.words[r.last].Not = !r.words[r.last].Not
	}
	r.pending, r.armed, r.last = pending{}, false, -1
}

// take lets a phrase do its work.
func (r *reader) take(m meaning) {
	switch m.role {
	case term:
		r.word(m)
	case degree:
		if r.degree == 0 {
			r.degree = 1
		}
		r.degree *= m.degree
	case after:
		r.behind(func(w *Word) { w.Degree = clampDegree(w.Degree * m.degree) })
	case atAll:
		r.firm = r.not
		r.behind(func(w *Word) {
			if w.Not {
				w.Degree = aBit
			}
		})
	case not:
		r.not = true
	case gone:
		r.behind(func(w *Word) { w.Not = true })
	case or:
		r.join()
	case and:
		r.armed = false
	case but:
		r.clause()
	case more:
		r.more = true
	case less:
		r.less = true
	case as:
		r.more = r.not // "not as sour": less than before
	case wish:
		r.wish = true
	case plain:
		r.plain = true
	case filler:
	}
}

// behind changes the word just before, if there is one in this clause.
func (r *reader) behind(change func(*Word)) {
	if r.last >= 0 {
		change(&r.words[r.last])
	}
}

// word adds a word of taste with all that was said ahead of it.
func (r *reader) word(m meaning) {
	w := Word{
		Term:   r.lexicon.entries[m.entry].Term,
		Degree: m.degree,
		Not:    r.not != r.less, // "not less sour" is sour
		Than:   m.than || r.more || r.less,
	}
	denies := r.less
	switch {
	case r.plain, r.wish && r.less: // "could be less sour": it is sour
		w.Not, w.Than, denies = false, false, false
	case r.wish && w.Than: // "could be sweeter": it is not
		w.Not, denies = !w.Not, true
	}
	switch {
	case r.firm:
		w.Degree = aBit
	case r.degree == 0:
	case denies: // "much less sour" denies even a little of it
		w.Degree = clampDegree(w.Degree / r.degree)
	default:
		w.Degree = clampDegree(w.Degree * r.degree)
	}
	r.armed = r.not
	r.pending = pending{}
	r.words = append(r.words, w)
	r.last, r.close = len(r.words)-1, true
}

// collapse keeps the first of equal words, with the greatest degree.
func collapse(words []Word) []Word {
	var kept []Word
	for _, w := range words {
		i := slices.IndexFunc(kept, func(k Word) bool {
			return k.Term == w.Term && k.Not == w.Not && k.Than == w.Than
		})
		if i < 0 {
			kept = append(kept, w)
			continue
		}
		kept[i].Degree = max(kept[i].Degree, w.Degree)
	}
	return kept
}

// clampDegree keeps a degree within its bounds; what is no number is plain.
func clampDegree(d float64) float64 {
	if math.IsNaN(d) {
		return 1
	}
	return min(max(d, leastDegree), mostDegree)
}
