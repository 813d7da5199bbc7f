package parse

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// How many words a message has at the most that takes back how a cup tastes. Assumed.
const mostTakingBack = 24

// tasteInstead reads what puts right how the writer's last shot tastes: one that denies
// what was said of it and says something else, whatever stands around that ("jo tried it and
// we agree it's flat, not sweet or balanced"); or one that says what to put, in small
// words only ("put bitter for that last one please").
func (s *sheet) tasteInstead() (Meaning, bool) {
	if len(s.vocab.Tasted) == 0 || s.numbers > 0 || s.asks() || len(s.tokens) > mostTakingBack || s.shot.Event != 0 {
		return nil, false
	}
	var now []bar.Word
	var strange []string
	denied, other := false, false
	for _, part := range s.sayings() {
		words, unread := s.inCompany(s.lex.read(part.text))
		strange = append(strange, unread...)
		for _, w := range words {
			before := slices.Contains(s.vocab.Tasted, w.Term)
			switch {
			case before && (part.denied || w.Not):
				denied = true
			case part.denied || w.Not:
				other = true
			default:
				now = append(now, w)
			}
		}
	}
	if len(now) == 0 || other && !denied || !denied && !slices.ContainsFunc(now, tastedWord) {
		return nil, false
	}
	if !denied {
		said := s.hinted()
		puts := said&(makeHint|wrongHint) != 0 || s.holds("again", "nochmal", "encore", "ancora", "put", "scrap", "correction", "korrektur", "correzione", "corrección", "correção")
		about := said&lastHint != 0 || s.holds(tasteSubjects()...) || said&makeHint != 0 && s.holds("it", "it's", "its")
		if !puts || !about || !onlySmall(strange, ^otherHint, tasteSubjects()) {
			return nil, false
		}
	}
	return Words{Words: now, Instead: true}, true
}

// hinted returns what all words of a message say where a number is put right.
func (s *sheet) hinted() (said hint) {
	for _, t := range s.tokens {
		said |= hints()[t.low]
	}
	return said
}

// onlySmall reports whether words that are none of taste say no more than what may stand beside
// one: one of the hints, an opinion, or one of the others.
func onlySmall(words []string, may hint, others []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool {
		low := fold(word)
		return hints()[low]&may == 0 && !opinion(low) && !slices.Contains(others, low)
	})
}

// A saying is a part of a message that says how a cup is, or that it is not so.
type saying struct {
	text   string
	denied bool
}

// sayings cuts a message up where a stop or a word of denying stands. What follows such a
// word is denied up to the next stop; a no behind words denies those: "sweet no".
func (s *sheet) sayings() (parts []saying) {
	var words []string
	denying := false
	end := func() {
		if len(words) > 0 {
			parts = append(parts, saying{strings.Join(words, " "), denying})
		}
		words = nil
	}
	for i, t := range s.tokens {
		last := i+1 == len(s.tokens) || s.tokens[i+1].kind == symbolToken
		switch {
		case t.kind == symbolToken:
			end()
			denying = false
		case t.is(noes()...) && last && len(words) > 0:
			denying = true
			end()
			denying = false
		case t.is(noes()...) && i+1 < len(s.tokens) && s.tokens[i+1].is(","):
		case t.is(takingAway()...), s.lows(i, 2) == "take back" || s.lows(i, 2) == "taking back", t.is("nada") && s.at(i+1).is("de"):
			end()
			denying = true
		case t.is("it's", "its", "but", "rather", "sondern", "sino", "ma", "mais", "mas", "pero", "é", "è", "es", "ist", "era"):
			end()
			denying = false
		case t.kind == wordToken:
			words = append(words, t.text)
		}
	}
	end()
	return parts
}

// takingAway are words that deny what stands behind them.
func takingAway() []string {
	return []string{"not", "isn't", "isnt", "wasn't", "wasnt", "aint", "ain't", "never", "instead", "nicht", "statt", "weder", "noch", "mica", "macché", "macchè", "non", "né", "invece", "pas", "ni", "não", "nem", "no", "nope"}
}

// tasteSubjects name that how a cup tastes is meant.
func tasteSubjects() []string {
	return []string{"taste", "tastes", "tasted", "tasting", "flavour", "flavor", "word", "words", "notes", "sip", "mind", "geschmack", "schmeckt", "schmeckte", "sapore", "gusto", "assaggio", "goût", "sabor", "gosto", "impression"}
}

// tastedWord reports whether a word is of a cup and not only of how it flowed, which is why a
// shot is taken out: "scrap that one, channelled".
func tastedWord(w bar.Word) bool {
	e, ok := taste.Default().Entry(w.Term)
	return !ok || e.Kind != taste.Flow
}
