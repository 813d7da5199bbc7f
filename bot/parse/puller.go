package parse

import (
	"slices"
	"strings"
)

// puller reads who pulled a shot, behind what names it: "was pulled by jo", "was mine, not
// jo's", "wasn't me, was jo", "l'ha fatto jo". Whom it names has to be one of the bar's people.
func (s *sheet) puller(i int) (c Correction, ok bool) {
	end := i
	switch {
	case s.at(i).is(append(wasWords(), "is", "wasn't", "wasnt", "ist", "è", "est", "es")...):
		end = s.skip(end+1, "pulled", "made", "gezogen", "gemacht", "fatto", "tirato", "stato", "stata")
	case s.at(i).is("hat", "hab", "habe", "l'ha", "l'ho", "lo", "la", "l'a", "l'ai"): // "den harbour hat jo gezogen", "l'ha fatto jo"
		end = s.skip(i+1, "fatto", "tirato", "fait", "tiré", "hizo", "hice", "sacó", "saqué", "fez", "tirou", "fiz", "tirei")
	case s.at(i).is("fez", "tirou"):
		end++
	default:
		return c, false
	}
	by := ""
	if end, by, ok = s.owner(end); !ok {
		return c, false
	}
	asides := append(sighs(), "btw", "actually", "tbh", "tho", "though", "übrigens", "comunque", ",", "ça", "ca", "and", "und", "e", "y", "et")
	end = s.skip(end, append(asides, "gezogen", "gemacht")...)
	if s.at(end).is(whos()...) && s.at(end+1).is("pulled", "made", "did", "l'ai", "l'ha", "lo", "fez", "fiz") {
		end = s.skip(end+2, append(asides, "that", "it", "this", "one", "fait", "tiré", "fatto", "hizo", "hice")...)
	}
	if j := s.skip(end, denials()...); j > end {
		if end, c.Than, ok = s.owner(j); !ok {
			return c, false
		}
	}
	c.By, c.Mine = by, by == Me
	if c.Mine {
		c.By = ""
	}
	return c, s.skip(end, ".", "!", "sorry", "lol", "haha") == len(s.tokens) && c.Than != by
}

// Me stands for who writes where it is said who pulled a shot, or who did not.
const Me = "\x00"

// whos join to a person what they did.
func whos() []string { return []string{"who", "that", "qui", "che", "que", "der", "die"} }

// denials deny what follows.
func denials() []string { return []string{"not", "nicht", "non", "no", "pas", "não"} }

// owner takes whose a shot was: "by jo", "jo's shot", "mine", "di jo".
func (s *sheet) owner(i int) (end int, name string, ok bool) {
	j := s.skip(i, "by", "from", "von", "di", "de", "do", "da", "celui", "il", "el", "le", "o", "der", "die", "das", "à", "a")
	of := j > i
	own := s.at(j).is("mine", "me", "meiner", "meins", "meine", "mir", "mio", "mia", "mien", "mienne", "mío", "mía", "mí", "meu", "minha", "mim", "moi", "ich", "io", "yo", "eu")
	if s.at(j).is("my", "mein", "mon", "mi", "mio", "meu") && s.at(j+1).is("shot", "one", "bezug", "espresso", "harbour") {
		own = true
	}
	name = s.oneOf(j)
	shot := s.skip(j+1, "shot", "one", "bezug", "espresso")
	switch {
	case own:
		return shot, Me, true
	case name != "" && (of || shot > j+1 || s.genitive(j) || s.skip(j+1, ".", "!", ",", "gezogen", "gemacht") > j+1 || j+1 == len(s.tokens) || s.at(j+1).is(denials()...) || s.at(j+1).is(whos()...)):
		return shot, name, true
	}
	return i, "", false
}

// notMes say that who writes did not pull a shot.
func notMes() []string {
	return []string{
		"not me", "not mine", "wasn't me", "wasnt me", "it wasn't me", "that wasn't me", "nicht ich", "das war ich nicht", "war ich nicht", "ich war das nicht", "ich war's nicht",
		"non sono stato io", "non sono stata io", "non l'ho fatto io", "non ero io", "no fui yo", "no lo hice yo", "c'était pas moi", "ce n'était pas moi", "c'est pas moi", "não fui eu",
	}
}

// wasnts say, before a name, who did not pull a shot.
func wasnts() []string {
	return []string{
		"that wasn't", "that wasnt", "it wasn't", "it wasnt", "wasn't", "wasnt", "that was not", "das war nicht", "der war nicht von", "non era di", "non era", "no era de", "no era", "no fue",
		"c'était pas", "ce n'était pas", "não era", "não foi",
	}
}

// whosePulled reads who pulled the last shot: "that was jo's", "jo pulled that, not me", "it
// was my shot", "not me, it was jo".
func whosePulled(s *sheet) (c Correction, ok bool) {
	i := s.skip(0, append(sorries(), "no", "nope", "oops", "wait", "actually", "ah", "yes", "yeah", ",", "nein", "nee", "ja", "non", "oui", "sí", "sì", "não", "sim")...)
	i += s.longest(i, []string{"i think", "ich glaube", "credo che", "creo que", "je crois que", "acho que"})
	for k := 0; k <= i; k++ {
		n := s.longest(k, notMes())
		if n == 0 {
			continue
		}
		j := s.skip(k+n, ",", ".", "it", "that", "das", "sondern", "ma", "but", "pero", "mais", "mas")
		c, ok = s.puller(j)
		c.Than = Me
		return c, ok && !c.Mine
	}
	if n := s.longest(i, wasnts()); n > 0 { // "that wasn't mara, that was me"
		if end, than, is := s.owner(i + n); is {
			c, ok = s.puller(s.skip(end, ",", ".", "that", "it", "das", "sondern", "ma", "but", "pero", "mais", "mas"))
			c.Than = than
			return c, ok && c.By != than
		}
	}
	if n, name := s.didIt(i); n > 0 && (name != "" || s.at(i).is("i", "ich")) { // "jo pulled that one"
		which, m := s.which(i + n)
		of := s.shot.Coffee
		if m == 0 {
			of = 0
			if s.used[min(i+n+1, len(s.tokens)-1)] && s.at(i+n).is("the", "that", "den") {
				for m, of = 1, s.shot.Coffee; i+n+m < len(s.tokens) && s.used[i+n+m] && s.shot.Grinder == 0; m++ {
				}
			} else {
				m = s.longest(i+n, []string{"that one", "this one", "that shot", "this shot", "the last one", "the last shot", "that", "this", "it", "den", "das"})
			}
		}
		end := s.skip(i+n+m, ",", ".", "!")
		c.By, c.Mine, c.Which, c.Of = name, name == "", which, of
		if j := s.skip(end, denials()...); j > end {
			if end, c.Than, ok = s.owner(j); !ok {
				return c, false
			}
		}
		return c, m > 0 && which.Whose == "" && which.Last == 0 && s.skip(end, ".", "!") == len(s.tokens) && (name != "" || c.Than != "" || of != 0 || s.at(i+n+m-1).is("one", "shot"))
	}
	j := s.skip(i, "that", "this", "it", "the", "last", "one", "shot", "der", "den", "die", "das", "es", "le", "la", "il", "letzte", "letzter", "letzten", "dieser", "diese", "quello", "questo", "l'ultimo", "ese", "eso", "el", "último", "esse", "este", "o", "c'était", "c'etait", "celui-là", "ça")
	for j > i && j < len(s.tokens) && s.used[j] && s.shot.Coffee != 0 && s.shot.Grinder == 0 {
		c.Of, j = s.shot.Coffee, j+1
	}
	if j == i && s.used != nil && j < len(s.tokens) && s.used[j] && s.shot.Coffee != 0 && s.shot.Grinder == 0 { // "l'harbour era di jo"
		for c.Of = s.shot.Coffee; j < len(s.tokens) && s.used[j]; j++ {
		}
	}
	it := false
	for k := i; k < j && !it; k++ { // "celui-là c'était le mien"
		if it = s.at(k).is("c'était", "c'etait"); it {
			j = k
		}
	}
	of := c.Of
	c, ok = s.puller(j)
	c.Of = of
	return c, ok && (j > i || it || c.Than != "" && !c.Mine)
}

// byWhom takes who pulled a shot before its numbers: "jo's harbour 18 36 24", "jo pulled a
// harbour too, 18 36 24".
func (s *sheet) byWhom() {
	i := s.skip(0, append(sighs(), "ok", "okay", "so", "and", "und", "e", "y", "et", ",")...)
	name := s.oneOf(i)
	if name == "" || len(s.items) == 0 && s.labels == 0 {
		return
	}
	j := s.skip(i+1, "just", "has", "had", "hat", "gerade", "ha", "a", "acaba", "appena", "pulled", "made", "did", "got", "gezogen", "gemacht", "fatto", "tirato", "tiré", "fait", "sacó", "hizo", "tirou", "fez")
	if j == i+1 && (!s.genitive(i) || !s.at(j).is("shot", "one", "espresso", "bezug") && (j >= len(s.tokens) || !s.used[j])) {
		return
	}
	s.shot.By = name
	s.take(i, s.skip(j, "a", "an", "the", "one", "another", "shot", "ein", "einen", "un", "une", "um")-i)
}

// person finds the one of the bar's people that a message names, by the token.
func (s *sheet) person() (i int, name string) {
	for i := range s.tokens {
		if name := s.oneOf(i); name != "" {
			return i, name
		}
	}
	return 0, ""
}

// oneOf returns the one of the bar's people that token i names: "jo", "jo's", "jos".
func (s *sheet) oneOf(i int) string {
	t := s.at(i)
	if t.kind != wordToken {
		return ""
	}
	n := slices.IndexFunc(s.vocab.People, func(p string) bool {
		low := fold(p)
		return t.low == low || t.low == low+"'s" || t.low == low+"s" && len(low) > 1
	})
	if n < 0 {
		return ""
	}
	return s.vocab.People[n]
}

// genitive reports whether token i is one of them with an s: "jo's".
func (s *sheet) genitive(i int) bool {
	return strings.HasSuffix(s.at(i).low, "s") && !slices.ContainsFunc(s.vocab.People, func(p string) bool { return fold(p) == s.at(i).low })
}
