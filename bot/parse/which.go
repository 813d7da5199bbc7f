package parse

import (
	"cmp"
	"slices"
	"strings"
)

// befores say, at the head of a message, that it is of the shot before the last; the
// longer stand before the shorter.
func befores() []string {
	return []string{
		"mine before", "mine b4", "my one before", "my shot before", "my one b4", "the one b4", "one b4", "the one before that", "the one before last", "the one before", "one before that", "one before", "the shot before last", "the shot before that", "the shot before",
		"the previous one", "the previous shot", "the previous", "previous one", "previous shot", "previous", "the last but one", "second last", "second to last",
		"der davor", "die davor", "das davor", "der shot davor", "der vorige", "die vorige", "der vorherige", "der vorletzte", "die vorletzte", "vorletzter",
		"celui d'avant", "le précédent", "l'avant-dernier", "l'avant dernier", "quello prima", "quello di prima", "il precedente", "il penultimo",
		"el anterior", "el de antes", "el penúltimo", "o anterior", "o de antes", "o penúltimo",
	}
}

// Which says which shot of its person a message is of. Zero is the last.
type Which struct {
	Before bool // the one before the last
	First  bool // the first of the day
	Clock  int  // where not 0: the one of that minute of the day, 6:30 as 391
	Last   int  // where not 0: so many of the last, "the last two"
}

// ofShot reads what is said of a shot that is named by its place, its time or its
// coffee: "the one before was 26", "the first harbour was 5.3", "my 6:30 shot was 37 out",
// "tide shot should be 5.4", "the one before was bitter", "delete the first harbour".
func ofShot(s *sheet) (Meaning, bool) {
	from := s.skip(0, append(sorries(), "no", "oops", "wait", "ah", "and", "actually", ",", "nein", "non", "não")...)
	gone := s.at(from).is(takeOuts()...)
	if gone {
		from++
	}
	which, n := s.which(from)
	if n == 0 && !gone {
		from, which, n = s.ofLastOnes()
	}
	if n == 0 || s.asked() || s.unsure.Kind != 0 {
		return nil, false
	}
	of := s.shot.Coffee
	if named := slices.Contains(s.used[from:from+n], true); !named {
		of = 0
	}
	if gone {
		all := s.skip(from+n, ".", "!", "please", "sorry", ",") == len(s.tokens)
		return Correction{Ignore: true, Which: which, Of: of}, all && (which != Which{} || of != 0)
	}
	plain := []byte(s.text)
	for _, t := range s.tokens[from : from+n] {
		copy(plain[t.start:t.end()], strings.Repeat(" ", len(t.text)))
	}
	m, err := newSheet(string(plain), s.vocab).understood()
	switch w := m.(type) {
	case Correction:
		w.Which, w.Of = which, cmp.Or(of, w.Of)
		return w, err == nil && !w.Ignore && !w.Alone && !w.Weak && w.By == "" && (which.Last == 0 || w.Grind.Said && !w.Grind.Relative && !w.Dose.Said && !w.Yield.Said && !w.Time.Said)
	case Words:
		w.Which, w.Coffee = which, cmp.Or(of, w.Coffee)
		return w, err == nil && w.By == "" && !w.Both && !w.Set.Grind.Said && which.Last == 0 && which != Which{}
	case Set: // "at 5.0", of a shot
		return Correction{Grind: w.Grind, Which: which, Of: of}, err == nil && (w.Weak || which.Last > 0) && !w.Grind.Relative && !w.Left
	case Shot, Call, Happened, CallIt, Chatter:
	}
	return nil, false
}

// ofLastOnes takes "for the last three" from the end of a message.
func (s *sheet) ofLastOnes() (from int, w Which, n int) {
	for i := 2; i+2 < len(s.tokens); i++ {
		if !s.at(i).is("for", "on", "of", "in", "bei", "für", "per", "con", "pour", "para", "en", "nas", "nos", "negli") {
			continue
		}
		if w.Last, n = s.severalLast(i + 1); n > 0 && s.skip(i+1+n, ".", "!") == len(s.tokens) {
			return i, w, n + 1
		}
	}
	return 0, Which{}, 0
}

// takeOuts say that a shot is to be none.
func takeOuts() []string {
	return []string{
		"delete", "ignore", "scrap", "forget", "remove", "disregard", "cancel", "cancella", "ignora", "elimina", "togli", "annulla", "lösch", "lösche", "ignorier", "ignoriere", "vergiss",
		"supprime", "efface", "annule", "oublie", "ignore", "borra", "elimina", "anula", "olvida", "apaga", "esquece", "elimina",
	}
}

// which takes the words that name a shot from token i on, and returns how many they are.
func (s *sheet) which(i int) (w Which, n int) {
	for _, words := range befores() {
		if n = s.phrase(i, words); n > 0 {
			return Which{Before: true}, n
		}
	}
	if w.Last, n = s.severalLast(i); n > 0 {
		return w, n
	}
	j := s.skip(i, "my", "mein", "meine", "meiner", "mio", "il", "mia", "mon", "ma", "mi", "meu", "o", "the", "that", "der", "die", "das", "la", "le", "el")
	article, own := j > i, s.at(i).is("my", "mein", "meine", "meiner", "mon", "ma", "mi") || s.at(i+1).is("mio", "mia", "meu")
	last := s.at(j).is("last", "latest", "letzter", "letzte", "ultimo", "ultima", "dernier", "dernière", "último", "última")
	if w.First = s.at(j).is("first", "1st", "erste", "erster", "primo", "prima", "premier", "première", "primero", "primera", "primeiro", "primeira"); w.First || last {
		j++
	} else if w.Clock = s.minuteAt(j); w.Clock > 0 {
		j++
	}
	name := j
	for j < len(s.tokens) && s.used[j] && s.shot.Coffee != 0 && s.shot.Grinder == 0 {
		j++
	}
	named := j > name
	end := s.skip(j, "shot", "one", "pull", "espresso", "bezug")
	shot := end > j
	if k := s.skip(end, "at", "from", "of", "um", "von", "delle", "de", "às", "das"); w.Clock == 0 && k > end && (shot || named) && s.minuteAt(k) > 0 {
		w.Clock, end = s.minuteAt(k), k+1
	}
	switch {
	case w.First && (article || named || shot), w.Clock > 0 && (own || named || shot), last && (own || named), named && shot, own && shot:
		return w, end - i
	}
	return w, 0
}

// minuteAt returns the minute of the day that token i is as a time on the clock, from 1;
// 0 is none.
func (s *sheet) minuteAt(i int) int {
	t := s.at(i)
	if t.kind != numberToken || t.num.form != colonForm || len(t.num.parts) != 2 || len(t.num.parts[1]) != 2 || !(t.num.vals[0] < 24 && t.num.vals[1] < 60) {
		return 0
	}
	return 60*int(t.num.vals[0]) + int(t.num.vals[1]) + 1
}

// severalLast takes the words for more than one shot of the last, "the last two", "die letzten
// drei shots", and returns how many they are of.
func (s *sheet) severalLast(i int) (count, n int) {
	j := s.skip(i, "the", "my", "die", "meine", "gli", "i", "le", "les", "mes", "los", "mis", "os", "meus")
	last := []string{"last", "letzten", "ultimi", "ultime", "dernières", "derniers", "últimos", "ultimos"}
	k := s.skip(j, last...)
	if s.at(k).is("both", "beiden", "couple") {
		count = 2
	} else if count = int(s.amount(k).x); count == 0 {
		count = int(countOf(s.at(k)))
	}
	end := s.skip(k+1, last...)
	if k == j && end == k+1 || count < 2 || count > mostLast {
		return 0, 0
	}
	return count, s.skip(end, "shots", "ones", "shot", "bezüge", "of", "mine", "them") - i
}

// mostLast is how many shots are put right at once at the most. Assumed.
const mostLast = 5
