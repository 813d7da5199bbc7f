package parse

import (
	"slices"
	"strings"
)

// A shot may be told in whole sentences: "I put 19, it came 40, in 21 seconds and it was
// sour. The grinder was at 6". What was done says which of its numbers each is, in any order,
// and all three have to be told.

// A figure is a number in a sentence, the tokens from from up to to, and the place that the
// words beside it give it.
type figure struct {
	quantity
	place    place
	from, to int
	by       int // the token that gives the place, -1 for none
}

// inSentence gives the numbers of a shot that is told so their places, and passes over the
// words that tell it.
func (s *sheet) inSentence() bool {
	if s.numbers < 3 || !s.tells() || s.asks() || s.intends() || s.elsewhere() || s.at(0).is(append(sorries(), "no", "nein", "non", "não", "not", "actually")...) {
		return false
	}
	figures := s.figures()
	for i := range figures {
		s.toldBefore(figures, i)
	}
	for i := range figures {
		s.toldBehind(figures, i)
	}
	list, ok := s.wholeShot(figures)
	if !ok || !s.ofTheTrade() && !s.asRecipe(list) {
		return false
	}
	s.misspelt()
	for _, f := range list {
		s.put(f.place, f.quantity)
		s.take(f.from, f.to-f.from)
		if f.by >= 0 {
			s.used[f.by] = true
		}
	}
	s.passTelling(list)
	return !s.clash
}

// tells reports whether a word may tell what a number is: without one no sentence holds
// a shot.
func (s *sheet) tells() bool {
	return slices.ContainsFunc(s.tokens, func(t token) bool {
		return roleOf(t) != 0 || t.is("with", "from", "mit", "con", "avec", "com", "aus", "bei", "da", "dai", "de", "di", "per", "of", "went", "in", "im", "ins", "nel", "en", "na") || t.is(weighWords()...)
	})
}

// figures returns the single numbers of a message that nothing but a unit counts.
func (s *sheet) figures() (list []figure) {
	for i := 0; i < len(s.tokens); {
		q, n := s.one(i)
		if n == 0 {
			i++
			continue
		}
		f := figure{quantity: q, from: i, to: i + n, by: -1}
		if q.unit == second {
			f.place = timePlace
		}
		if q.unit == gram || q.unit == second || q.unit == noUnit && !s.countedAs(i+n) {
			list = append(list, f)
		}
		i += n
	}
	return list
}

// countedAs reports whether the word at j may be what the number before it counts.
func (s *sheet) countedAs(j int) bool {
	return s.unknown(j) && roleOf(s.tokens[j]) == 0 && !s.parts(j) && !s.at(j).is("di", "de", "of", "von") || s.at(j).kind == wordToken && s.lex.known(s.at(j).low) && !s.lex.filler(s.at(j).low)
}

// mostBetween is how many words may stand between a number and the verb that tells what it
// is.
const mostBetween = 4

// toldBefore looks for what tells a number's place before it: "it gave 35".
func (s *sheet) toldBefore(list []figure, i int) {
	f := &list[i]
	for j := f.from - 1; j >= max(0, f.from-1-mostBetween) && !s.parts(j); j-- {
		p := s.roleIn(j, f.unit)
		if p == inPlace {
			p = s.nearer(f.quantity)
		}
		if p != 0 && f.place == 0 && !s.at(j-1).is("put", "poured", "weighed", "ground") {
			f.place, f.by = p, j
			return
		}
	}
}

// toldBehind looks for what tells it behind it: "36 came out". What tells the next number's is
// none of this.
func (s *sheet) toldBehind(list []figure, i int) {
	f := &list[i]
	for j := f.to; f.place == 0 && j < min(len(s.tokens), f.to+mostBetween+1) && !s.parts(j); j++ {
		p := roleOf(s.tokens[j])
		switch {
		case i+1 < len(list) && list[i+1].by == j:
			return
		case s.phrase(j, "went in")+s.phrase(j, "in the basket")+s.phrase(j, "im sieb")+s.phrase(j, "ins sieb")+s.phrase(j, "nel filtro")+s.phrase(j, "of coffee")+s.phrase(j, "of grounds") > 0:
			p = dosePlace
		case s.phrase(j, "in the cup")+s.phrase(j, "in der tasse")+s.phrase(j, "in tazza")+s.phrase(j, "en taza")+s.phrase(j, "en tasse")+s.phrase(j, "na chávena") > 0:
			p = yieldPlace
		}
		if p != 0 && p != timePlace {
			f.place, f.by = p, j
			return
		}
	}
}

// parts reports whether token j ends what is said of one number.
func (s *sheet) parts(j int) bool {
	t := s.tokens[j]
	return t.kind == numberToken || t.is(",", ".", ";", ":", "!", "and", "und", "e", "ed", "y", "et", "then", "dann", "poi", "puis", "luego", "depois")
}

// roleIn returns the place that the word at j gives a number with that unit behind it.
func (s *sheet) roleIn(j int, u unit) place {
	t := s.tokens[j]
	switch {
	case u == second:
		return 0
	case t.is("with", "from", "mit", "con", "avec", "com", "aus", "bei", "da", "dai", "de", "di", "per") && t.kind == wordToken,
		t.is("of") && s.at(j-1).is("out"):
		return dosePlace
	case u == noUnit && t.is("in", "after", "en", "em", "nach", "dopo", "après", "después", "took", "lasted", "dauerte", "durato", "duré", "duró", "durou"):
		return timePlace
	case t.is(weighWords()...):
		return inPlace
	}
	return roleOf(t)
}

// roleOf returns the place that a verb gives a number on either side of it.
func roleOf(t token) place {
	switch {
	case t.is("put", "used", "using", "took", "dosed", "ground", "loaded", "genommen", "reingetan", "rein", "reingegeben", "eingefüllt", "benutzt", "verwendet", "hineingetan", "gemahlen",
		"messo", "messi", "usato", "usati", "macinato", "macinati", "dosato", "puesto", "puse", "usado", "usé", "echado", "eché", "metido", "molido", "mis", "utilisé", "pris", "moulu",
		"pus", "usei", "meti", "posto", "coloquei", "moí", "dose", "dosis", "dentro", "dedans"):
		return dosePlace
	case t.is("gave", "came", "got", "out", "yielded", "produced", "poured", "ended", "yield", "cup", "tazza", "tasse", "taza", "chávena", "raus", "rausgekommen", "rausbekommen", "herausgekommen", "kamen", "kam", "ergab", "ergeben", "bekommen", "gegeben", "gelaufen",
		"usciti", "uscite", "uscito", "uscita", "venuti", "venuto", "ottenuto", "ottenuti", "dato", "fuori", "resa", "salido", "salió", "salieron", "dio", "dado", "obtuve", "sacado", "saqué", "fuera",
		"sorti", "sortis", "donné", "obtenu", "eu", "coulé", "récupéré", "dehors", "saiu", "saíram", "deu", "deram", "obtive", "tirei", "fora"):
		return yieldPlace
	}
	return 0
}

// wholeShot returns the dose, the yield and the time among some figures, where two of them
// were told, or the third is the only number left.
func (s *sheet) wholeShot(figures []figure) (list []figure, ok bool) {
	var found [timePlace + 1]int
	left, told := -1, 0
	for i, f := range figures {
		switch {
		case f.place == 0 && left < 0:
			left = i
		case f.place == 0:
			left = len(figures)
		case found[f.place] > 0:
			return nil, false
		default:
			found[f.place] = i + 1
			if f.by >= 0 && f.place != timePlace && label(s.tokens[f.by]) == 0 { // those are read without a sentence
				told++
			}
		}
	}
	for _, p := range []place{dosePlace, yieldPlace, timePlace} {
		i := found[p] - 1
		if i < 0 && p != timePlace && 0 <= left && left < len(figures) {
			i, left = left, -1
			figures[i].place = p
		}
		if i < 0 {
			return nil, false
		}
		list = append(list, figures[i])
	}
	d, y, x := list[0].vals[0], list[1].vals[0], list[2].vals[0]
	return list, told > 0 && leastDose <= d && d < y && d <= 30 && y <= 100 && 5 <= x && x <= 120
}

// ofTheTrade reports whether a word or a unit shows that numbers in a sentence are of a cup.
func (s *sheet) ofTheTrade() bool {
	if s.shot.Coffee != 0 || s.holds(pours()...) || s.holds("shot", "puck", "crema", "basket", "grinder", "mühle", "macinino", "molino", "moulin", "moinho", "kaffee", "coffee", "caffè", "café") {
		return true
	}
	return slices.ContainsFunc(s.tokens, func(t token) bool {
		return unitOf(t.low) == gram || strings.HasPrefix(t.low, "gram") || t.kind == wordToken && s.lex.known(t.low) && !s.lex.filler(t.low)
	})
}

// asRecipe reports whether dose and yield are about the recipe's.
func (s *sheet) asRecipe(list []figure) bool {
	r := s.recipe()
	return apart(list[0].vals[0], float64(r.Dose)) <= 2*doseStray && apart(list[1].vals[0], float64(r.Yield)) <= 2*yieldStray
}

// intends reports whether a sentence says what is meant to be done, or what mostly is.
func (s *sheet) intends() bool {
	return s.holds("should", "would", "could", "will", "must", "need", "needs", "want", "wants", "if", "when", "try", "aim", "let's", "lets", "please", "get", "gets", "use", "usually", "always", "normally", "recipe", "target", "tomorrow",
		"soll", "sollen", "sollte", "sollten", "muss", "müssen", "will", "wenn", "bitte", "immer", "normalerweise", "meistens", "rezept", "morgen", "nimm", "nehmt", "nehmen", "prends", "prenez", "mettez", "prendi", "mete", "deve", "devi", "dovrebbe", "dovresti", "vorrei", "se", "sempre", "solito", "ricetta", "domani", "prova", "usa", "metti",
		"debe", "debes", "debería", "deberías", "quiero", "si", "siempre", "normalmente", "receta", "mañana", "pon", "doit", "dois", "devrait", "veux", "faut", "toujours", "d'habitude", "recette", "demain", "mets", "deves", "deveria", "quero", "receita", "amanhã", "põe")
}

// passTelling passes over the strange words before the last number of a sentence and beside
// it: they tell what was done, and nothing of the taste.
func (s *sheet) passTelling(list []figure) {
	last := 0
	for _, f := range list {
		last = max(last, f.to)
	}
	for last < len(s.tokens) && !s.parts(last) {
		last++
	}
	s.first = last
	for i := range s.tokens[:last] {
		s.used[i] = s.used[i] || s.unknown(i) || roleOf(s.tokens[i]) != 0 || s.guessed(i)
	}
}

// allCounted reports whether dose, yield and time are said, each with its unit or its label.
func (s *sheet) allCounted() bool {
	placed := s.copied()
	return s.bare() == 0 && s.said()+s.count() == 3 && !s.clash && len(s.stray) == 0 && placed.assign() && placed.said() == 3 && typical([]float64{placed.shot.Dose.X, placed.shot.Yield.X, placed.shot.Time.X})
}
