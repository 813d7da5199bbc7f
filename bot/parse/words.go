package parse

import (
	"math"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// A lexicon is what reads words of taste.
type lexicon struct {
	read   func(text string) ([]bar.Word, []string)
	known  func(word string) bool
	filler func(word string) bool

	inCompany func(word string) (bar.Word, bool)
}

// words is the lexicon with a bar's own words. In a bar that is answered in another
// language than English, a word that may be of that language is one by itself:
// "secco".
func words(own []bar.Own, language string) lexicon {
	l := taste.Default().With(own).In(language)
	lex := lexicon{read: l.Read, known: l.Known, filler: l.Filler, inCompany: l.InCompany}
	if language == "" {
		return lex
	}
	lex.read = func(text string) ([]bar.Word, []string) {
		read, unread := l.Read(text)
		if w, ok := l.InCompany(strings.Trim(text, " ,.!")); ok && len(read) == 0 {
			return []bar.Word{w}, nil
		}
		return read, unread
	}
	lex.known = func(word string) bool {
		_, ok := l.InCompany(word)
		return ok || l.Known(word)
	}
	return lex
}

// leftover is the text of the tokens up to to that no rule has taken,
// with its punctuation; a comma stands for what was taken.
func (s *sheet) leftover(to int) string {
	var b strings.Builder
	end, gap := -1, true
	for i, t := range s.tokens[:to] {
		if s.used[i] || t.kind != wordToken && t.kind != symbolToken {
			gap = true
			continue
		}
		if gap {
			b.WriteString(", ")
		} else {
			b.WriteString(s.text[end:t.start])
		}
		if t.is(",") { // "bad" in "my bad" is one
			b.WriteString(",")
		} else {
			b.WriteString(t.text)
		}
		end, gap = t.end(), false
	}
	return b.String()
}

// eachOnce returns words, each once: "goccia a goccia".
func eachOnce(words []string) []string {
	var kept []string
	for _, w := range words {
		if !slices.Contains(kept, w) {
			kept = append(kept, w)
		}
	}
	return kept
}

// inCompany reads those words that alone may be of another language, as beside
// the numbers of a shot: "18 36 28 dolce". It returns what is left.
func (s *sheet) inCompany(read []bar.Word, unread []string) ([]bar.Word, []string) {
	left := slices.DeleteFunc(slices.Clone(unread), func(word string) bool {
		w, ok := s.lex.inCompany(word)
		if ok && !slices.ContainsFunc(read, func(r bar.Word) bool { return r.Term == w.Term }) {
			read = append(read, w)
		}
		return ok
	})
	return read, left
}

// tasting takes what says that a cup was tasted before the word for how it was, where that
// is waited for: "assaggiato: dolce", "è dolce".
func (s *sheet) tasting() {
	i := s.skip(0, "tasted", "tasting", "assaggiato", "assaggiata", "probiert", "gekostet", "goûté", "probado", "provado", "provei", ":", ",",
		"è", "é", "es", "ist", "c'est", "está", "schmeckt", "sa", "sabe")
	if _, alone := s.lex.inCompany(s.at(i).low); s.vocab.Untasted && (alone || s.lex.known(s.at(i).low)) {
		s.take(0, i)
	}
}

// wordsAlone reads a message that says how a cup tastes and nothing else.
// Every word of it must be known, unless it answers a message, and none may be a
// greeting: "sweet, see you at 5" and "nice one jo" are no words about a shot.
func (s *sheet) wordsAlone() (Meaning, bool) {
	if s.at(0).is("buenas", "buenos") { // no praise
		s.greet()
	}
	instead := s.instead()
	from := s.tried()
	s.sighing(from)
	s.sipping()
	s.opining()
	instead = s.takesBack() || instead
	mine, by := s.mine(), s.saidBy()
	s.tasting()
	to := s.staying()
	read, unread := s.readWords(len(s.tokens))
	if instead && s.onlyFine() {
		read, unread = s.lex.read("is fine")
	}
	if s.vocab.Untasted {
		read, unread = s.inCompany(read, unread)
	}
	marks := s.shot.Marks &^ bar.First
	if s.outOf() || s.nearlyNamed() {
		return nil, false
	}
	if s.asks() { // asks, whatever it names
		return nil, false
	}
	strange := len(unread) > 0 && (!s.vocab.Answer || len(read) == 0 || len(unread) > mostUnread)
	if strange || len(read) == 0 && marks == 0 || s.socialWithin(from, to) || s.asked() || s.acknowledges(read, instead) {
		return nil, false
	}
	w := Words{
		Words: read, Unread: unread, Else: s.denied(), Marks: s.shot.Marks, Coffee: s.shot.Coffee, Instead: instead, Also: s.also(), Was: s.itWas(), Set: s.setBeside(),
		By: by, Own: mine, Tried: from > 0 && s.tokens[0].is("can", "let", "lass", "fammi", "fais", "deixa"), Both: s.holds("both", "beide", "beides", "entrambi", "entrambe", "ambos", "ambas"),
	}
	if g := s.shot.Grind; g.Said && !g.Relative && !g.Odd && !w.Set.Grind.Said {
		w.At = g
	}
	if w.Set.Grind.Said && len(read) == 0 { // of the next shot
		w.Set.Coffee = s.shot.Coffee
		return w.Set, true
	}
	if w.Set.Purged {
		w.Marks &^= bar.Purged
	}
	return w, true
}

// mine takes "mine" before words about the writer's own shot: "mine was fine", "nah
// mine's sour".
func (s *sheet) mine() bool {
	for i := range s.tokens {
		switch {
		case s.used[i]:
		case s.tokens[i].is("mine's", "meiner", "meins"), s.tokens[i].is("mine") && s.at(i+1).is("was", "is", "tastes", "tasted"):
			s.take(i, 1)
			return true
		default:
			return false
		}
	}
	return false
}

// saidBy takes who is said to taste what follows, "jo says it's bitter", and returns
// the name.
func (s *sheet) saidBy() string {
	if name := s.oneOf(1); name != "" && s.at(0).is("for", "to", "für", "laut", "per", "secondo", "a", "según", "para", "pour", "selon", "segundo") { // "per jo è amaro"
		i := s.skip(2, ",", "le", "lhe")
		if end := s.skip(i, "it", "it's", "its", "is", "was", "tastes", "tasted", "ist", "war", "er", "ihn", "schmeckt", "è", "era", "es", "está", "estaba", "parece", "c'est", "c'était", "é", "sabe", "sa", "che"); end > i {
			s.take(0, end)
			return name
		}
	}
	says := 1
	if s.at(1).is("tasted", "tried", "had", "probierte", "probiert", "assaggiato", "goûté", "probó", "provou") { // "jo tasted it, says sour"
		says = s.skip(2, "it", "this", "that", "one", "a", "sip", "taste", ",", "and", "und", "e", "et", "y")
	}
	if len(s.tokens) < says+2 || s.tokens[0].kind != wordToken || s.used[0] || len(s.tokens[0].text) < 2 || !s.at(says).is("says", "said", "thinks", "thought", "finds", "found", "reckons", "tastes", "sagt", "meint", "findet",
		"dice", "trova", "dit", "trouve", "diz", "acha", "encuentra", "piensa") {
		return ""
	}
	s.used[0] = true
	i := s.skip(says+1, "that", "it", "it's", "its", "is", "was", "che", "è", "era", "que", "es", "está", "é", "c'est", "dass", "ist", "sei", "er", "ihn", "lo", "o")
	s.take(1, i-1)
	return s.tokens[0].text
}

// takesBack takes "wait no", "nee doch", "nope," before words that are what was
// meant, and "at all" behind them.
func (s *sheet) takesBack() bool {
	if n := len(s.tokens); n > 2 && s.lows(n-2, 2) == "at all" {
		s.take(n-2, 2)
	}
	for _, words := range []string{"actually no its", "actually no it's", "wait no its", "wait no it's", "wait no", "no wait", "nee doch", "nein doch", "nee", "nö", "no scusa", "non pardon", "no perdón", "não desculpa", "nein sorry", "actually no", "no actually", "nope", "oh no wait"} {
		n := strings.Count(words, " ") + 1
		if s.lows(0, n) == words {
			s.take(0, s.skip(n, ",", "war", "era", "es", "das"))
			return true
		}
	}
	if n := s.skip(0, append(sorries(), "no", "nein", "non", "não", "anzi", "ops", "oups", "oops", ",")...); slices.ContainsFunc(s.tokens[:n], func(t token) bool { return t.is(sorries()...) || t.is("anzi", "ops", "oups") }) {
		s.take(0, n)
		return true
	}
	if s.at(0).is("no", "nein", "non", "não") && s.at(1).is(",") && len(s.tokens) > 2 {
		s.take(0, s.skip(2, "war", "es", "das"))
		return true
	}
	return false
}

// denied returns the words behind a plain no, "no balanced", which may deny what
// was said before, and not what follows.
func (s *sheet) denied() []bar.Word {
	if !s.at(0).is("no", "nein", "non", "não") || len(s.tokens) < 2 {
		return nil
	}
	next := s.tokens[1].low
	switch { // what follows is denied, there
	}
	if strings.HasSuffix(next, "ness") || strings.HasSuffix(next, "ity") || s.tokens[1].is("more", "longer", "body", "finish", "aftertaste", "acid") {
		return nil
	}
	rest := s.copied()
	rest.take(0, 1)
	words, unread := rest.readWords(len(rest.tokens))
	if len(unread) > 0 || slices.ContainsFunc(words, func(w bar.Word) bool { return w.Not }) || contrasts(words) {
		return nil
	}
	return words
}

// contrasts reports whether the first of some words is what a cup that the others tell
// of is not: "no ácido, amargo" is no correction to both.
func contrasts(words []bar.Word) bool {
	if len(words) == 0 {
		return false
	}
	first, _ := taste.Default().Entry(words[0].Term)
	return slices.ContainsFunc(words[1:], func(w bar.Word) bool {
		e, _ := taste.Default().Entry(w.Term)
		complaint, fine := max(math.Abs(first.Extraction), math.Abs(first.Strength)) > 1 || first.Praise < 0, e.Centre > 0 || e.Praise > 0
		return first.Extraction*e.Extraction < -1 || first.Strength*e.Strength < -1 || complaint && fine && first.Praise <= 0
	})
}

// revised returns the part of a text that counts where somebody corrects
// themselves in it: "balanced, no wait bitter", "sour? no bitter".
func (l lexicon) revised(text string) string {
	typed := strings.ToLower(text)
	if len(typed) != len(text) {
		return text
	}
	plain := strings.NewReplacer(",", " ", ".", " ", ";", " ", ":", " ", "!", " ", "-", " ").Replace(typed)
	for _, turn := range turnsOfMind() {
		low := plain
		if turn[0] == '?' { // "sour? no. sweet though" denies the one
			low = typed
		}
		from, to := lastWords(low, turn)
		if from < 0 {
			continue
		}
		before, _ := l.read(text[:from])
		after, _ := l.read(text[to:])
		if len(before) > 0 && len(after) > 0 {
			return text[to:]
		}
	}
	return text
}

// turnsOfMind stand in a text before what was meant, the longer before the shorter.
func turnsOfMind() []string {
	return []string{
		"? no", "? nein", "? non", "? nope", "? nee", "? nö", "no wait", "wait no", "no sorry", "sorry no", "no actually", "actually no", "sorry i meant", "sorry i mean", "no i meant", "no i mean", "i meant", "i mean", "scratch that", "or rather", "make that", "sorry",
		"nein doch", "oder doch", "nein sorry", "sorry nein", "ich meine", "ich meinte", "quatsch", "no scusa", "scusa no", "volevo dire", "anzi", "non pardon", "pardon", "je veux dire", "no perdón", "perdón", "quiero decir", "não desculpa", "desculpa", "quero dizer",
	}
}

// lastWords returns where the last place begins and ends at which words stand in a text,
// whatever blanks are between them, −1 where there is none. Both are in lower case.
func lastWords(text, words string) (from, to int) {
	list := strings.Fields(words)
	for from = strings.LastIndex(text, list[0]); from >= 0; from = strings.LastIndex(text[:from], list[0]) {
		to = from + len(list[0])
		fits := from > 0 && (text[from-1] == ' ' || list[0] == "?")
		for _, word := range list[1:] {
			rest := strings.TrimLeft(text[to:], " ")
			fits = fits && len(rest) < len(text[to:]) && strings.HasPrefix(rest, word)
			to = len(text) - len(rest) + min(len(word), len(rest))
		}
		if fits && to < len(text) && text[to] == ' ' {
			return from, to
		}
	}
	return -1, 0
}

// tried takes that who writes had a taste before how it was, and returns where that begins:
// "can i try it? for me it's sour", "tried it, bit sour".
func (s *sheet) tried() int {
	n := s.longest(0, []string{
		"can i try it", "can i try", "let me try", "let me try it", "tried it", "i tried it", "just tried it", "had a taste", "had a sip", "tasted it", "i tasted it",
		"hab probiert", "hab ihn probiert", "lass mal probieren", "probiert", "ho provato", "l'ho assaggiato", "l'ho provato", "fammi provare", "j'ai goûté", "je l'ai goûté", "fais voir", "lo probé", "lo he probado", "a ver", "provei", "deixa provar",
	})
	end := s.skip(n, ",", ".", "?", "!", "…", ":", ";", "-", "and", "und", "e", "et", "y")
	if n == 0 || end == n {
		return 0
	}
	s.take(0, end)
	return end
}

// sighing takes what people sigh around words: "ugh bitter", "mmm nice", "sweet now btw".
func (s *sheet) sighing(from int) {
	for i := len(s.tokens) - 1; i > from && (sigh(s.tokens[i]) || s.tokens[i].is(",", ".")); i-- {
		s.take(i, 1)
	}
	for i := from; i < len(s.tokens); i++ {
		if !sigh(s.tokens[i]) && !s.tokens[i].is("nah", ",") || len(s.tokens) == 1 {
			return // alone, "bleh" is a word of taste
		}
		s.take(i, 1)
	}
}

// onlyFine reports whether nothing is left but "fine", which alone is no word of taste.
func (s *sheet) onlyFine() bool {
	left := 0
	for i, t := range s.tokens {
		if s.used[i] || t.kind == symbolToken {
			continue
		}
		if left++; !t.is("fine", "alright", "ok", "okay") {
			return false
		}
	}
	return left == 1
}

// sipping takes which sip words are of: "on second sip it's fine".
func (s *sheet) sipping() {
	i := s.skip(0, "on", "at", "the", "my", "beim", "auf", "den", "am", "al", "à", "la", "ao")
	if s.at(i).is("second", "third", "next", "2nd", "zweiten", "dritten", "secondo", "deuxième", "segundo") && s.at(i+1).is("sip", "taste", "tasting", "schluck", "sorso", "gorgée", "sorbo", "gole") {
		s.take(0, s.skip(i+2, ",", ":"))
	}
}

// opining takes what says whose opinion words are, the writer's: "tbf i thought it was
// a touch bitter".
func (s *sheet) opining() {
	i := 0
	for i < len(s.tokens) && s.used[i] {
		i++
	}
	from := i
	i = s.skip(i, "tbf", "tbh", "imo", "imho", "honestly", "frankly", ",")
	s.take(from, i-from)
	for i < len(s.tokens) && (s.used[i] || s.tokens[i].is("that", "the", "this", "last", "one", "shot", ",")) { // "that last harbour i'd call bitter"
		i++
	}
	from = i
	for _, said := range []string{
		"i thought", "i think", "i found", "i find", "i'd say", "id say", "i'd call", "id call", "i reckon", "for me", "to me", "ich fand", "ich finde", "ich find", "find den", "find ihn", "fand ihn", "finde ihn", "je trouve", "j'ai trouvé",
		"per me", "secondo me", "para mí", "para mi", "para mim", "für mich", "pour moi",
	} {
		if s.lows(i, 2) == said {
			i = s.skip(i+2, ",", "that", "it", "one", "es", "ihn", "den", "que", "c'était", "era", "è", "é")
			break
		}
		if n := len(s.tokens); n > i+2 && s.lows(n-2, 2) == said { // "zu dünn für mich"
			s.take(n-2, 2)
			break
		}
	}
	if s.at(i).is("mir") {
		i++
	}
	s.take(from, i-from)
}

// outOf reports whether a message says that there is no more of something:
// "chocolate is out".
func (s *sheet) outOf() bool {
	n := len(s.tokens)
	for n > 0 && s.tokens[n-1].kind == symbolToken {
		n--
	}
	if n > 1 && s.shot.Coffee != 0 && s.tokens[n-1].is("empty") { // of the coffee, not of its taste
		return true
	}
	return n > 2 && s.tokens[n-1].is("out") && s.tokens[n-2].is("is", "are")
}

// instead reports whether words take the place of what was said before. What
// a cup becomes as it cools does not.
func (s *sheet) instead() bool {
	if s.at(0).is("i") && s.at(1).is("meant") {
		s.take(0, 2)
		return true
	}
	for _, words := range []string{"en fait", "in realtà", "en realidad", "na verdade"} {
		if s.lows(0, 2) == words {
			s.take(0, 2)
			return true
		}
	}
	if s.at(0).is("eigentlich", "eigenlijk", "anzi") {
		s.take(0, 1)
		return true
	}
	if s.at(0).is("was", "war", "era", "estaba", "estava") { // "was bitter", as "was 36 s"
		was := s.at(0)
		if !was.is("was") {
			s.take(0, 1)
		}
		return was.is("was", "war", "era")
	}
	if !s.at(0).is("actually", "oops") || s.holds("cools", "cooled", "cooler", "cold", "now", "too", "also", "later") {
		return false
	}
	s.take(0, 1)
	return true
}

// itWas reports whether words say what a cup was, and not what it was as well: "it
// was bitter".
func (s *sheet) itWas() bool {
	began := slices.Contains([]string{"it was", "that was", "es war", "das war", "c'était amer", "c'etait"}, s.lows(0, 2)) ||
		len(s.tokens) > 0 && s.tokens[0].is("era", "estaba", "estava", "foi", "c'était", "c'etait")
	i := 0
	for s.at(i).is("my", "the", "last", "one", "shot", "der", "die", "das", "mein", "letzte", "il", "mio", "l'ultimo", "mon", "le", "dernier", "mi", "el", "último", "meu", "o", "ultimo") || i < len(s.tokens) && s.used[i] && s.shot.Coffee != 0 {
		i++
	}
	began = began || i > 0 && s.at(i).is("was", "war", "era", "était", "estaba", "estava", "fue", "foi") // "my harbour was sour"
	return began && !s.also()
}

// also reports whether words stand beside what was said before, or tell of what a cup has
// become: "and bitter", "bitter too", "sweet now".
func (s *sheet) also() bool {
	if s.at(0).is("and", "but", "plus", "&", "+", "und", "aber", "e", "ma", "et", "mais", "y", "pero", "mas") {
		return true
	}
	return s.holds(
		"too", "also", "still", "again", "now", "cools", "cooled", "cooler", "cooling", "cold", "later", "auch", "noch", "jetzt", "kalt", "aussi", "encore", "maintenant", "froid",
		"anche", "ancora", "ora", "adesso", "freddo", "también", "ahora", "frío", "também", "ainda", "agora", "frio",
	)
}

// social reports whether a message talks to people.
func (s *sheet) social() bool { return s.socialWithin(0, len(s.tokens)) }

// socialWithin reports it of what stands from a token on, up to another.
func (s *sheet) socialWithin(from, to int) bool {
	for i, t := range s.tokens[:to] {
		if i < from {
			continue
		}
		if t.is("all") && i > 0 && s.tokens[i-1].is("at") || t.is("night") && i == 0 && s.unknown(1) { // "night owl 18 36 27" is a name
			continue
		}
		if t.is("cleaner") && s.at(i+1).is("comes", "came", "called", "is", "was", "will", "has", "needs", "here") { // who cleans
			return true
		}
		if t.is("here") && s.at(i-1).is("in") || t.kind == mentionToken || t.is("outside", "draußen", "fuori", "dehors", "afuera", "morning", "afternoon", "evening", "night", "thanks", "thank", "cheers", "guys", "team",
			"please", "you", "your", "us", "we", "we're", "you're", "they're", "he", "she", "they", "he's", "she's", "hes", "shes", "will", "would", "can", "when", "what", "how", "going", "go",
			"yesterday", "gestern", "hier", "ieri", "ayer", "ontem", "tard", "vale",
			"have", "has", "do", "did", "lol", "haha", "all", "everyone") {
			return true
		}
	}
	return false
}
