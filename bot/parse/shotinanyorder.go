package parse

import (
	"errors"
	"slices"
	"strconv"
	"strings"
)

// A figure is a number of a message and what the words beside it, or its unit, say it is.
type figure struct {
	quantity
	place place
	at, n int // its tokens
	by    int // the token that gives the place, -1 for none
}

// inAnyOrder reads the three numbers of a shot that no other reader placed, in whatever words
// they stand: "I put 19, it came 40, in 21 seconds and it was sour. The grinder was at 6",
// "took 25 for 36 out with 18 in, sour", "18 entra 36 sale 27 seg". Each is what the words
// beside it or its unit say, and the rest what they are near. It is read as if it had been
// typed plainly, and what it says besides with it.
func (s *sheet) inAnyOrder(told bool) (Meaning, bool) {
	if s.asks() || s.planned() || s.intends() || s.elsewhere() || s.unsure.Kind != 0 || s.at(0).is(append(sorries(), "no", "nein", "non", "não", "not", "actually")...) {
		return nil, false
	}
	list := s.figures()
	if len(list) != 3 {
		return nil, false
	}
	for _, tell := range []func([]figure, int){s.toldBeside, s.toldBefore, s.toldBehind} {
		for i := range list {
			tell(list, i)
		}
	}
	verbs, named := 0, 0
	for _, f := range list {
		if f.place != 0 {
			named++
		}
		if f.by >= 0 && f.place != timePlace && label(s.tokens[f.by]) == 0 { // those are read without a sentence
			verbs++
		}
	}
	dose, yield, time, ok := s.placed(list)
	if !ok || named == 0 || told && (verbs == 0 || named < 2) || s.shot.Coffee == 0 && !s.asRecipe(dose, yield) { // three numbers alone may be of anything
		return nil, false
	}
	rest, ok := s.besideFigures(list, verbs > 0)
	if !ok {
		return nil, false
	}
	number := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	m, err := newSheet(number(dose)+" "+number(yield)+" "+number(time)+rest, s.vocab).asTyped()
	shot, ok := m.(Shot)
	return shot, ok && err == nil && shot.Dose.Said && shot.Yield.Said && shot.Time.Said
}

// besideFigures returns what a message says besides its numbers, without the words that tell
// them. It is false where these are of something else.
func (s *sheet) besideFigures(list []figure, told bool) (string, bool) {
	telling := map[int]bool{}
	last := 0
	for _, f := range list {
		for i := f.at; i < f.at+f.n; i++ {
			telling[i] = true
		}
		telling[f.by] = true
		last = max(last, f.at+f.n)
	}
	for told && last < len(s.tokens) && !s.parts(last) && !s.lex.known(s.tokens[last].low) {
		last++
	}
	var rest strings.Builder
	strange := 0
	for i, t := range s.tokens {
		h := hints()[t.low]
		unknown := s.unknown(i) || told && (s.guessed(i) || s.opening(t))
		switch {
		case telling[i]:
			continue
		case !told && (h&otherHint != 0 && !t.is("next", "another", "other", "altro", "otro", "outro", "autre", "andere", "anderer", "nächster", "prossimo") || t.kind != wordToken && t.kind != symbolToken || t.is("+", "€", "$", "£")):
			return "", false
		case t.is(">", "→", "=", "-", "/"), t.kind == wordToken && !s.used[i] && i < last && (h.place() != 0 && h.place() != dialPlace || roleOf(t) != 0 || h != 0 && h&otherHint == 0 && !s.lex.known(t.low)):
			continue
		case unknown && i < last:
			if strange++; strange > 2 && !told {
				return "", false
			}
			continue
		}
		rest.WriteString(" " + t.text)
	}
	return rest.String(), true
}

// figures returns the single numbers of a message that nothing but a unit counts, and that
// are not the dial's.
func (s *sheet) figures() (list []figure) {
	for i := 0; i < len(s.tokens); {
		q, n := s.one(i)
		if n == 0 {
			i++
			continue
		}
		f := figure{quantity: q, at: i, n: n, by: -1}
		if q.unit == second {
			f.place = timePlace
		}
		dial := slices.ContainsFunc(s.tokens[max(0, i-3):i], func(t token) bool { return hints()[t.low]&dialHint != 0 && !t.is("gemahlen") })
		if q.unit == gram || q.unit == second || q.unit == noUnit && !dial && !s.countedAs(i+n) {
			list = append(list, f)
		}
		i += n
	}
	return list
}

// toldBeside looks for what tells a number's place right behind it: "18 in", "36 out".
func (s *sheet) toldBeside(list []figure, i int) {
	f := &list[i]
	j := f.at + f.n
	p := hints()[s.at(j).low].place()
	if s.at(j).is("in") && !s.the(j+1) && !s.isNumber(j+1) {
		p = dosePlace
	}
	if f.place == 0 && p != 0 && p != dialPlace && roleOf(s.at(f.at-1)) == 0 {
		f.place, f.by = p, j
	}
}

// mostBetween is how many words may stand between a number and the verb that tells what it
// is.
const mostBetween = 4

// toldBefore looks for what tells a number's place before it: "it gave 35".
func (s *sheet) toldBefore(list []figure, i int) {
	f := &list[i]
	for j := f.at - 1; j >= max(0, f.at-1-mostBetween) && !s.parts(j); j-- {
		p := s.roleIn(j, f.unit)
		if p == inPlace {
			p = s.nearer(f.quantity)
		}
		if p != 0 && f.place == 0 && !tells(list, j) && !s.at(j-1).is("put", "poured", "weighed", "ground") {
			f.place, f.by = p, j
			return
		}
	}
}

// tells reports whether a token tells the place of one of the numbers already.
func tells(list []figure, i int) bool {
	return slices.ContainsFunc(list, func(f figure) bool { return f.by == i })
}

// toldBehind looks for what tells it behind it: "36 came out". What tells the next number's is
// none of this.
func (s *sheet) toldBehind(list []figure, i int) {
	f := &list[i]
	for j := f.at + f.n; f.place == 0 && j < min(len(s.tokens), f.at+f.n+mostBetween+1) && !s.parts(j); j++ {
		if tells(list, j) {
			return
		}
		if p := roleOf(s.tokens[j]); p != 0 {
			f.place, f.by = p, j
			return
		}
	}
}

// placed puts three numbers where they belong: those that are named, and the others where
// they alone may be. Where several ways are left, the usual order is one of them.
func (s *sheet) placed(list []figure) (dose, yield, time float64, ok bool) {
	recipe := s.recipe()
	may := func(i int, p place) bool {
		x := list[i].vals[0]
		switch {
		case list[i].place != 0:
			return list[i].place == p
		case p == dosePlace:
			return apart(x, float64(recipe.Dose)) < farDose
		case p == yieldPlace:
			return apart(x, float64(recipe.Yield)) < farFromRecipe
		}
		return list[i].unit == noUnit && aShot(x)
	}
	found := 0
	for n, order := range [][3]int{{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} { // of dose, yield and time
		d, y := list[order[0]].vals[0], list[order[1]].vals[0]
		if !may(order[0], dosePlace) || !may(order[1], yieldPlace) || !may(order[2], timePlace) || d >= y || d > 30 || y > 100 {
			continue
		}
		if found++; found == 1 {
			dose, yield, time = list[order[0]].vals[0], list[order[1]].vals[0], list[order[2]].vals[0]
		}
		if n == 0 {
			return dose, yield, time, true
		}
	}
	return dose, yield, time, found == 1
}

// farDose is how far a dose may lie from the recipe's to be known as one, as a logarithm.
// Assumed.
const farDose = 0.25

// asRecipe reports whether dose and yield are about the recipe's.
func (s *sheet) asRecipe(dose, yield float64) bool {
	r := s.recipe()
	return apart(dose, float64(r.Dose)) <= 2*doseStray && apart(yield, float64(r.Yield)) <= 2*yieldStray
}

// misplaced reports whether a message with three numbers was not read as a shot that has them,
// and whether it was as one in doubt.
func (s *sheet) misplaced(m Meaning, err error) (misplaced, doubtful bool) {
	switch w := m.(type) {
	case Shot:
		other := w.Grind.Said || w.TDS.Said || w.Water.Said || w.Drip.Said || w.Ratio.Said
		doubtful = len(w.Doubt) > 0 || len(w.Unread) > 0 || w.Stranger != ""
		return doubtful || s.numbers == 3 && w.Dose.Said && w.Yield.Said && !w.Time.Said && !other, doubtful
	case Chatter:
		return true, false
	case nil:
		mistake, ok := errors.AsType[Mistake](err)
		return ok && mistake.Kind == Unclear, false
	case Words, Call, Correction, Happened, CallIt, Set:
	}
	return false, false
}

// countedAs reports whether the word at j may be what the number before it counts.
func (s *sheet) countedAs(j int) bool {
	return s.unknown(j) && hints()[s.tokens[j].low] == 0 && roleOf(s.tokens[j]) == 0 && !s.parts(j)
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
	}
	return roleOf(t)
}

// roleOf returns the place that a verb gives a number on either side of it.
func roleOf(t token) place {
	switch {
	case t.is("put", "used", "using", "took", "dosed", "ground", "loaded", "genommen", "reingetan", "rein", "reingegeben", "eingefüllt", "benutzt", "verwendet", "hineingetan", "gemahlen",
		"messo", "messi", "usato", "usati", "macinato", "macinati", "dosato", "puesto", "puse", "usado", "usé", "echado", "eché", "metido", "molido", "mis", "utilisé", "pris", "moulu",
		"pus", "usei", "meti", "posto", "coloquei", "moí", "dose", "dosis", "dentro", "dedans", "entrou", "entraram", "entran", "entraron", "entrati"):
		return dosePlace
	case t.is("gave", "came", "got", "out", "yielded", "produced", "poured", "ended", "yield", "cup", "tazza", "tasse", "taza", "chávena", "raus", "rausgekommen", "rausbekommen", "herausgekommen", "kamen", "kam", "ergab", "ergeben", "bekommen", "gegeben", "gelaufen",
		"usciti", "uscite", "uscito", "uscita", "venuti", "venuto", "ottenuto", "ottenuti", "dato", "fuori", "resa", "salido", "salió", "salieron", "dio", "dado", "obtuve", "sacado", "saqué", "fuera",
		"sorti", "sortis", "donné", "obtenu", "eu", "coulé", "récupéré", "dehors", "saiu", "saíram", "deu", "deram", "obtive", "tirei", "fora"):
		return yieldPlace
	}
	return 0
}

// intends reports whether a sentence says what is meant to be done, or what mostly is.
func (s *sheet) intends() bool {
	return s.holds("should", "would", "could", "will", "must", "need", "needs", "want", "wants", "if", "when", "try", "aim", "let's", "lets", "please", "get", "gets", "use", "usually", "always", "normally", "recipe", "target", "tomorrow",
		"soll", "sollen", "sollte", "sollten", "muss", "müssen", "will", "wenn", "bitte", "immer", "normalerweise", "meistens", "rezept", "morgen", "nimm", "nehmt", "nehmen", "prends", "prenez", "mettez", "prendi", "mete", "deve", "devi", "dovrebbe", "dovresti", "vorrei", "se", "sempre", "solito", "ricetta", "domani", "prova", "usa", "metti",
		"debe", "debes", "debería", "deberías", "quiero", "si", "siempre", "normalmente", "receta", "mañana", "pon", "doit", "dois", "devrait", "veux", "faut", "toujours", "d'habitude", "recette", "demain", "mets", "deves", "deveria", "quero", "receita", "amanhã", "põe")
}

// allCounted reports whether dose, yield and time are said, each with its unit or its label.
func (s *sheet) allCounted() bool {
	placed := s.copied()
	return s.bare() == 0 && s.said()+s.count() == 3 && !s.clash && len(s.stray) == 0 && placed.assign() && placed.said() == 3 && typical([]float64{placed.shot.Dose.X, placed.shot.Yield.X, placed.shot.Time.X})
}
