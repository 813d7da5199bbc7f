package taste

import (
	"math"
	"slices"
	"strings"

	"shothand/advisor/bar"
)

// The bounds of a degree, the degree of "hardly", and that of "a bit" and "-ish".
const (
	leastDegree = 0.25
	hardly      = 0.3
	aBit        = 0.5
	mostDegree  = 3
)

// Read returns the words of taste in text, in their order and each once, and
// the words that it could not place, as typed, in lower case. Words that say
// nothing of taste ("the", "shot") are in neither. A text is read in English,
// and in another language if that leaves less of it unread and some word of it
// belongs to no other; the terms are English all the same.
func (l *Lexicon) Read(text string) (words []bar.Word, unread []string) {
	best := l.readIn(nil, text)
	for _, t := range l.tongues {
		if best.cost() == 0 {
			break
		}
		if r := l.readIn(t, text); r.fits() && r.cost() < best.cost() {
			best = r
		}
	}
	return collapse(best.words), best.unread
}

// readIn reads text in one language, English if t is nil.
func (l *Lexicon) readIn(t *tongue, text string) *reader {
	r := &reader{lexicon: l, tongue: t, tokens: tokenize(text, t != nil), longest: l.longest, last: -1}
	if t != nil {
		r.longest = max(l.longest, t.longest)
	}
	for r.at < len(r.tokens) {
		r.step()
	}
	r.clause()
	if t != nil && r.small && r.guessed > 0 && r.guessed == len(r.words) { // "è al suo posto" is no misspelt taste
		r.unread = append(r.unread, r.guesses...)
		r.words = nil
	}
	return r
}

// A reader goes through the tokens of one text from left to right.
type reader struct {
	lexicon *Lexicon
	tongue  *tongue // nil: English
	longest int     // words in the longest phrase
	tokens  []token
	at      int
	words   []bar.Word
	unread  []string

	pending // what was said ahead of the next word

	armed bool // the last word was negated: "or" negates the next
	close bool // a word of taste, and no unread one, has come before
	last  int  // index of the word just before, in this clause; -1: none

	denies  bool     // the last word began with a negation: "no me gusta"
	shown   bool     // a word has come that belongs to the language alone
	hinted  bool     // one that is too short to be sure of
	doubted bool     // one that may be English
	guessed int      // misspelt words
	guesses []string // as typed
	small   bool     // a word that says nothing has come
}

// fits reports whether the text may be in the reader's language.
func (r *reader) fits() bool {
	return r.shown || r.hinted && !r.doubted && r.guessed == 0 && len(r.unread) == 0
}

// cost is how badly the language fits the text: a word that is misspelt in it
// may be as it should in another.
func (r *reader) cost() int { return 2*len(r.unread) + r.guessed }

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
	if m.role == not && n == 1 && r.answers() {
		m.role = nope
	}
	asked := r.asked()
	r.at += n
	if m.role == nope && asked {
		r.deny()
		return
	}
	r.take(m)
}

// asked reports whether a question about a word of taste came just before.
func (r *reader) asked() bool {
	return r.at > 0 && r.tokens[r.at-1].mark == '?' && len(r.words) > 0
}

// answers reports whether the word here is all that answers a question: the
// "no" of "sour? no, bitter".
func (r *reader) answers() bool {
	return r.asked() && (r.at+1 == len(r.tokens) || r.tokens[r.at+1].mark != 0)
}

// deny denies the last word firmly.
func (r *reader) deny() {
	w := &r.words[len(r.words)-1]
	w.Not, w.Degree = true, aBit
}

// match returns the meaning of the longest phrase here and its length in
// tokens, 0 if there is none.
func (r *reader) match() (meaning, int) {
	n := 0
	for n < r.longest && r.at+n < len(r.tokens) && r.tokens[r.at+n].mark == 0 {
		n++
	}
	parts := make([]string, n)
	for i := range n {
		parts[i] = r.tokens[r.at+i].word
	}
	for ; n > 0; n-- {
		m, ok := r.listed(strings.Join(parts[:n], " "))
		if !ok {
			continue
		}
		if m.role == term {
			r.denies = n > 1 && r.negates(parts[0])
		}
		return m, n
	}
	if stem, cut := isShort(r.tokens[r.at].raw); cut { // "the sour's gone"
		if m, ok := r.lexicon.phrases[normal(stem, false)]; ok {
			r.denies = false
			return m, 1
		}
	}
	m, ok := r.guess(parts[0])
	if !ok {
		return meaning{}, 0
	}
	if m.misspelt {
		r.guessed++
		r.guesses = append(r.guesses, r.tokens[r.at].raw)
	}
	r.denies = false
	return m, 1
}

// guess returns the meaning of a word that is not listed: in another language only
// what that may have misspelt, for its common words lie near those of English.
func (r *reader) guess(word string) (meaning, bool) {
	home := r.lexicon.home
	if r.tongue == nil && home == "" {
		return r.lexicon.lookUp(word)
	}
	m, ok := r.lexicon.spelt(word)
	if !ok && r.tongue != nil && (home == "" || home == r.tongue.lang) {
		m, ok = r.tongue.lookUp(r.lexicon, word)
	}
	return m, ok
}

// isShort returns a word without the "'s" that is short for is.
func isShort(raw string) (stem string, ok bool) {
	if stem, ok = strings.CutSuffix(raw, "'s"); ok {
		return stem, true
	}
	return strings.CutSuffix(raw, "’s")
}

// listed returns the meaning of a phrase as the file has it, and notes what it
// says of the language.
func (r *reader) listed(key string) (meaning, bool) {
	if m, ok := r.lexicon.taught[key]; ok {
		return m, true
	}
	m, own := r.own(key)
	if !own {
		m, ok := r.lexicon.phrases[key]
		return m, ok
	}
	_, shared := r.lexicon.phrases[key]
	switch {
	case m.doubtful:
		r.doubted = r.doubted || m.role == term
	case shared:
	case m.role == term || len(key) > 2:
		r.shown = true
	default:
		r.hinted = true
	}
	return m, true
}

// own returns the meaning of a phrase in the language that is not English.
func (r *reader) own(key string) (meaning, bool) {
	if r.tongue == nil {
		return meaning{}, false
	}
	m, ok := r.tongue.phrases[key]
	return m, ok
}

// negates reports whether a word negates the next.
func (r *reader) negates(word string) bool {
	m, own := r.own(word)
	if !own {
		m = r.lexicon.phrases[word]
	}
	return m.role == not || m.role == notAtAll
}

// mark reads a mark between words.
func (r *reader) mark(mark rune) {
	switch mark {
	case '/':
		r.join()
	case '&':
		r.armed = false
	case '?':
		r.not = r.not && r.firm // "sour, no?" asks
		r.clause()
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
		r.behind(func(w *bar.Word) { w.Degree = clampDegree(w.Degree * m.degree) })
	case atAll:
		r.firm = r.not
		r.behind(func(w *bar.Word) {
			if w.Not || w.Degree <= hardly { // "barely bitter at all"
				w.Not, w.Degree = true, aBit
			}
		})
	case notAtAll:
		if r.last < 0 || !r.denies { // "no me gusta nada" denies once
			r.not, r.firm = true, true
		}
	case not:
		r.not = true
	case gone:
		r.behind(func(w *bar.Word) { w.Not = true })
	case eased:
		r.behind(func(w *bar.Word) { w.Not, w.Than = true, true })
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
		r.small = true
	case nope:
	}
}

// behind changes the word just before, if there is one in this clause.
func (r *reader) behind(change func(*bar.Word)) {
	if r.last >= 0 {
		change(&r.words[r.last])
	}
}

// word adds a word of taste with all that was said ahead of it.
func (r *reader) word(m meaning) {
	if r.denies && r.tongue != nil { // "non è niente male" denies once
		r.not, r.firm = false, false
	}
	w := bar.Word{
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
func collapse(words []bar.Word) []bar.Word {
	var kept []bar.Word
	for _, w := range words {
		i := slices.IndexFunc(kept, func(k bar.Word) bool {
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
