package parse

import (
	"math"
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// A Set is what was done to a grinder's dial between shots: "3 finer", "went to
// 4.9", "set harbour to 5.1", "left it". The next shot has it.
type Set struct {
	Grind   Grind
	Left    bool          // it stands where it stood
	Label   bool          // only "grind 4.9": may be said of the last shot as well
	Coffee  bar.CoffeeID  // whose grinder it is, 0: not named
	Grinder bar.GrinderID // 0: not named
	Purged  bool          // the old grounds were let out: "went 2 finer and purged"
	Weak    bool          // only "at 5.1": may be of something else
	Whole   bool          // where Weak: "right at 22", which may be an hour as well
	Instead bool          // what this person said of the dial just before was wrong: "no, 3 finer"
	Undone  bool          // what was told of the dial was not done, or was undone
	Order   bool          // somebody is told to do it: "go 3 finer mara"
	Also    *Set          // what was done to another grinder's: "left at 5.0, right at 21"
	Both    [2]string     // where Also: the two as typed
}

func (Set) isMeaning() {}

// setting reads a message that says what was done to a dial, and nothing else.
func setting(s *sheet) (Meaning, bool) {
	if s.unsure.Kind != 0 || s.asked() || s.callsIt() {
		return nil, false
	}
	if g, ok := s.upOrDown(); ok {
		return s.onTheNumbers(Set{Grind: g, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}), true
	}
	if g, ok := s.oneMore(); ok {
		return Set{Grind: g, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}, true
	}
	if g, ok := s.turnsALittle(); ok {
		return Set{Grind: g, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder, Weak: s.shot.Coffee == 0 && s.shot.Grinder == 0}, true
	}
	if s.leftIt() {
		return Set{Left: true, Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}, true
	}
	scratch := s.copied()
	scratch.shot = Shot{Coffee: s.shot.Coffee, Grinder: s.shot.Grinder}
	n := scratch.wrong()
	scratch.hold(0, n)
	m, ok := scratch.setTo()
	if set, is := m.(Set); is {
		if set.Weak && s.isHour(set.Grind) {
			return nil, false
		}
		set.Instead = n > 0
		return s.onTheNumbers(set), ok
	}
	return m, ok
}

// wrong returns how many tokens at the beginning say that what was said before
// was wrong: "no,", "sorry", "I mean", "make that".
func (s *sheet) wrong() int {
	i := 0
	for {
		switch t := s.at(i); {
		case t.is("no", "nein", "non", "não", "nee") && (s.at(i+1).is(",", "wait", "actually") || s.at(i+1).is(sorries()...)):
			i += 2
		case t.is("wait", "actually", "oops", "ops", "anzi", "nee", "nein"), t.is(sorries()...):
			i = s.skip(i+1, ",")
		case s.phrase(i, "changed my mind") > 0:
			i = s.skip(i+3, ",", ":")
		default:
			return i
		}
	}
}

// numbered reports whether a number stands among tokens.
func numbered(tokens []token) bool {
	return slices.ContainsFunc(tokens, func(t token) bool { return t.kind == numberToken })
}

// setTo reads the words about one position, or one move.
func (s *sheet) setTo() (Meaning, bool) {
	behind, way := 0.0, 0.0
	moved, label, far, purged, plan := s.at(len(s.tokens)-1).is("gestellt", "gemacht", "gedreht", "verstellt", "gemahlen"), false, false, false, false
	for i := 0; i < len(s.tokens); {
		t := s.at(i)
		if s.onlyMoves(i) && !s.shot.Grind.Said {
			i, far = i+s.unmeasured(i, moved), true
			continue
		}
		if n := s.backBy(i, moved) + s.tightened(i); n > 0 {
			i, far = i+n, true
			continue
		}
		if countOf(t) > 0 && !s.shot.Grind.Said { // "um ponto mais grosso": "um" is a small word as well
			if n := s.moveAt(i, moved); n > 0 {
				i, far = i+n, true
				continue
			}
		}
		if n := s.onTheWay(i) + s.madeIt(i); n > 0 {
			moved, i = true, i+n
			continue
		}
		if t.is("one") && i > 0 && s.used[i-1] && s.isNumber(i+1) || t.is("quella", "quello", "celle", "celui") && i+1 < len(s.used) && s.used[i+1] { // "right one 21"
			i++
			continue
		}
		if n, to := s.turningTo(i); n > 0 && !s.shot.Grind.Said {
			moved, way, i = true, to, i+n
			continue
		}
		switch {
		case s.used[i]:
			label = label || s.tokens[i].is(grinderWords()...) // what a first grinder is called
			i++
		case t.is("no") && s.shot.Grind.Said && s.holds("finer", "coarser"), t.is("then", "and") && s.at(i+1).is("back") && s.shot.Grind.Said:
			return nil, false // "2 finer, no 3", "went finer then back"
		case t.is("not", "nicht", "pas", "non", "no", "niet", "não") && s.shot.Grind.Said && s.at(i+1).num.form == plainForm:
			i = s.skip(i+2, "finer", "coarser")
		case t.is("from", "von", "de", "da", "van") && s.at(i+1).num.form == plainForm && !s.shot.Grind.Said:
			i += 2
		case t.is(setWords()...), t.is("gone") && s.at(i+1).is("to"):
			moved, i = true, i+1
		case s.plans(i) > 0:
			moved, plan, i = true, true, i+s.plans(i)
		case t.isDial(), t.is("stand"):
			label, i = true, i+1
		case t.is("back") && s.at(i+1).is("at") && s.isNumber(i+2) && s.at(i+2).num.form == plainForm && first(s.at(i+2).num) == math.Trunc(first(s.at(i+2).num)):
			return nil, false // somebody is, at that hour
		case t.is("back") && s.at(i+1).is("to", "on", "at") && s.isNumber(i+2), t.is("to") && s.isNumber(i+1) && i > 0 && s.used[i-1]: // "back to 5.5", "right to 13"
			moved, i = true, s.skip(i, "back", "to", "on", "at")
		case t.is(setFillers()...), t.is("wieder", "nochmal", "again", "nuovo", "nuevo", "novo") && i == 0, t.is("lets", "let's", "go") && s.at(s.skip(i+1, "go")).is("back"): // "go 2 finer" tells somebody to
			i++
		case s.finerAt(i) > 0 && !s.shot.Grind.Said: // "coarser, 5.2"
			moved, behind, way, i = true, s.towards(i), directionOf(s.at(s.skip(i, mores()...))), s.finerAt(i)
		case markOf(t) == bar.Purged:
			purged, i = true, i+1+s.purge(i+1)
		case s.shot.Grind.Said:
			return nil, false
		default:
			n := s.moveAt(i, moved)
			if n == 0 {
				n = s.unmeasured(i, moved)
			}
			far = far || n > 0
			if n == 0 {
				if n = s.dialLength(i, label); n == 0 {
					return nil, false
				}
				s.setGrind(s.readDial(i, n))
			}
			i += n
		}
	}
	s.shot.Grind.Behind, s.shot.Grind.Way = behind, way
	g := s.shot.Grind
	weak := !g.Relative && (!moved) && !label
	at := s.holds("at", "@", "auf") || (plan || s.shot.Grinder != 0) && s.holds("a", "à", "em", "en", "su", "bei")
	on := s.at(0).is("it", "it's", "its", "es", "sta", "está", "c'est") && s.holds("on", "auf", "su", "sur", "en", "em") && len(s.tokens) <= 5 // "it is on 5"
	alone := s.shot.Grinder != 0 && len(s.tokens) == 2 && s.used[0]                                                                            // "right 21"
	whole := weak && (s.wholePlace() || alone && !strings.ContainsAny(g.Text, ".,"))
	if !g.Said || weak && (g.Odd || !alone && !on && !whole && (!strings.ContainsAny(g.Text, ".,") || !at)) {
		return nil, false
	}
	return Set{
		Grind: g, Weak: weak || plan, Whole: whole, Label: label && !moved && !far && s.shot.Coffee == 0 && s.shot.Grinder == 0 && s.at(0).is("grind", "setting", "dial"),
		Coffee: s.shot.Coffee, Grinder: s.shot.Grinder, Purged: purged,
	}, true
}

// wholePlace reports whether a message is a grinder and where it stands, joined by a word or
// a sign: "right at 22", "left: 5", "droite : 21".
func (s *sheet) wholePlace() bool {
	n := len(s.tokens)
	if s.shot.Grinder == 0 || s.named == 0 || s.named >= n-1 || s.at(n-1).kind != numberToken || strings.ContainsAny(s.at(n-1).text, ".,") {
		return false
	}
	between := s.skip(s.named, "is", "at", "on", "to", "@", ":", "=", "→", ">", "-", "ist", "steht", "auf", "bei", "è", "sta", "a", "su", "est", "à", "sur", "está", "esta", "en", "em", "no", "grinder", "mill", "one")
	return between == n-1
}

// finerAt returns the token of the number that stands behind a direction, "coarser, 5.2",
// "feiner gestellt auf 5,1", or 0.
func (s *sheet) finerAt(i int) int {
	if i = s.skip(i, mores()...); directionOf(s.at(i)) == 0 {
		return 0
	}
	j := s.skip(i+1, append(setWords(), "touch", "bit", "little", "tad", "hair", ",", "to", "at", ":", "auf", "a", "à", "en", "em")...)
	if !s.isNumber(j) {
		return 0
	}
	return j
}

// madeIt returns how many tokens from i on say that the grind was made what stands behind them,
// with the place: "made it" of "made it coarser, 16".
func (s *sheet) madeIt(i int) int {
	j := s.skip(s.skip(i+1, "it", "this", "the", "grind", "dial", "es", "mal", "la", "le"), littles()...)
	if !s.at(i).is("made", "making", "reso", "resa", "fatto", "l'ho", "rendu", "hab's", "habs", "mach") || s.finerAt(j) == 0 {
		return 0
	}
	return j - i
}

// towards is 1 or -1 where the number stands behind its direction with nothing between,
// "finer 2", else 0.
func (s *sheet) towards(i int) float64 {
	if i = s.skip(i, mores()...); s.isNumber(i + 1) {
		return directionOf(s.at(i))
	}
	return 0
}

// plans returns how many tokens from i on say that the next shot has what is said
// beside them: "trying 5.1 next", "next one at 5.1", "i'll go 1 finer".
func (s *sheet) plans(i int) int {
	j := s.skip(i, "i'm", "im", "i'll", "ill", "i", "will", "gonna", "going", "to", "vou", "voy", "a", "ich", "werde", "je", "vais")
	switch t := s.at(j); {
	case s.shot.Grind.Said && s.at(j).is("go"): // "5 to go"
		return 0
	case t.is("trying"), t.is("start", "starting") && s.at(j+1).is("at", "on", "with") && s.isNumber(j+2), t.is("try", "go") && s.at(j-1).is("i'll", "ill", "will", "gonna", "to"), t.is(tries()...) && !t.is("trying", "try", "go"):
		return j + 1 - i
	case s.at(i).is("next", "nächster", "nächste", "prossimo", "prochain", "siguiente", "próximo"):
		return s.skip(i+1, "one", "shot", "up", "time") - i
	}
	return 0
}

// tries say that somebody tries a setting.
func tries() []string {
	return []string{"trying", "try", "go", "probiere", "probier", "versuche", "provo", "pruebo", "probar", "essaie", "essayer", "j'essaie", "tento", "tentar", "experimento", "experimentar"}
}

// triesToo say so beside a place alone.
func triesToo() []string {
	return append(tries(), "let", "let's", "lets", "'s", "we", "we'll", "well", "reckon", "instead", "maybe", "next", "time", "shot", "one", "versuchen", "probieren", "wir", "proviamo", "proviamolo", "prossimo", "prossima", "on", "essayons", "probamos", "probemos", "vamos", "tentemos", "vielleicht", "forse", "peut", "être", "quizás", "talvez")
}

// setWords say that the dial was moved.
//
//nolint:gochecknoglobals // made once, never changed
var setWords = sync.OnceValue(func() []string {
	return []string{
		"went", "moved", "now", "stands", "stays", "stayed", "staying", "kept", "keeping", "leaving", "lasciato", "lascio", "resta", "rimane", "gelassen", "bleibt", "geblieben", "resté", "reste", "laissé", "sigue", "queda", "dejado", "deixado", "ficou", "fica", "sits", "set", "turned", "changed", "adjusted", "put", "bumped", "ground", "dialed", "dialled",
		"jetzt", "nun", "gestellt", "eingestellt", "gedreht", "gegangen", "steht",
		"maintenant", "réglé", "mis", "passé", "passée", "tourné",
		"ora", "adesso", "messo", "regolato", "spostato", "girato", "passato", "passata", "portato",
		"ahora", "puesto", "puse", "ajustado", "movido", "girado", "subí", "bajé", "pasé",
		"agora", "posto", "pus", "ajustei", "mudei", "passei", "subi", "baixei",
		"macino", "macina", "metto", "regolo", "drehe", "stelle", "mahle", "gemacht", "macinando", "mahlen", "mouds", "moulé", "mets", "règle", "muelo", "pongo", "ajusto", "moo", "ponho", "regulo",
		"nu", "gezet", "gedraaid", "staat", "geändert", "verstellt", "gemahlen", "changé", "moulu", "cambiato", "macinato", "cambiado", "molido", "mudado", "moí", "moído",
	}
})

// mores stand before the direction of a move where the language has no word of its own
// for finer: "più fine".
func mores() []string { return []string{"plus", "più", "piu", "más", "mas", "mais"} }

// beings say where somebody is, who tells of the dial with a number that has a fraction:
// "sono a 4,5".
func beings() []string {
	return []string{"sono", "siamo", "bin", "sind", "suis", "sommes", "estoy", "estamos", "estou"}
}

// dialWords are what a setting of the grinder is called, and what shows it.
func dialWords() []string {
	return []string{
		"grind", "setting", "dial", "mahlgrad", "einstellung", "mouture", "réglage", "macinatura", "macinazione", "regolazione", "ghiera",
		"molienda", "ajuste", "moagem", "regulação", "skala", "molette", "escala", "collar", "mahlung", "mahlstufe", "mahleinstellung", "finezza",
	}
}

// isDial reports whether t is a grinder or what shows its setting, "dial's" as well.
func (t token) isDial() bool {
	low := strings.TrimSuffix(t.low, "'s")
	return t.kind == wordToken && (slices.Contains(grinderWords(), low) || slices.Contains(dialWords(), low))
}

// littles are the words of "a bit" beside a move.
func littles() []string {
	return []string{
		"a", "little", "touch", "bit", "tad", "hair", "smidge", "slightly", "bisschen", "bissl", "tick", "wenig", "etwas", "minimal", "hauch", "spur",
		"un", "po", "po'", "'", "pelo", "pelino", "filo", "filino", "pochino", "tantino", "leggermente", "appena", "poco", "poquito", "pelín", "pelin", "ligeramente", "algo",
		"um", "pouco", "bocadinho", "pouquinho", "tico", "ligeiramente", "peu", "poil", "chouïa", "chouia", "brin", "légèrement", "ein", "einen", "eine", "klein",
	}
}

// isLittle reports whether a word is one of those and no article.
func isLittle(t token) bool {
	return t.is(littles()...) && !t.is("a", "un", "um", "ein", "eine", "einen", "'")
}

// grinderWords are what a grinder is called, and what a first one is named.
func grinderWords() []string {
	return []string{"grinder", "mill", "mühle", "muehle", "moulin", "macinino", "molino", "moinho", "molen"}
}

// setFillers are the small words beside it.
//
//nolint:gochecknoglobals // made once, never changed
var setFillers = sync.OnceValue(func() []string {
	return append(beings(),
		",", ".", "!", ":", "=", "@", "→", "to", "at", "the", "it", "is", "it's", "its", "on", "in", "of", "my", "i", "i've", "we", "we've", "have", "has", "by", "just",
		"ok", "okay", "instead", "says", "reads", "shows", "we're", "zeigt", "segna", "marca", "affiche", "going", "gone", "back", "up", "down", "and", "n", "&", "then", "been", "so", "did", "e", "y", "et", "und",
		"c'est", "je", "io", "yo", "eu", "mi", "'",
		"auf", "bei", "die", "der", "ist", "um", "ich", "wir", "hab", "habe", "haben", "sie",
		"à", "sur", "le", "la", "j'ai", "on", "a", "est", "de", "du",
		"su", "il", "lo", "ho", "è", "sta", "abbiamo",
		"en", "el", "al", "está", "he", "lo", "hemos",
		"em", "o", "no", "na", "para", "pour", "per", "por",
		"op", "ik", "we", "heb", "hebben", "naar", "het",
	)
})

// moveAt takes a move of the dial, "3 finer" or "drei feiner". Where it is said
// that the dial was moved, a plain "finer" is one step.
func (s *sheet) moveAt(i int, moved bool) int {
	if !moved && (s.amount(i).vague || s.amount(i).n > 0 && s.at(i).is("a", "slightly", "touch", "bit", "tad")) {
		return 0 // may be a wish
	}
	if n := s.movedBy(i); n > 0 {
		return n
	}
	if n := s.step(i, moved); n > 0 {
		return n
	}
	steps, n := s.amount(i), 0
	if words := s.at(i); steps.n == 0 {
		steps.x, n = countOf(words), 1
		if steps.x == 0 {
			steps.x, n = 1, 0
		}
	} else {
		n = steps.n
	}
	j := s.skip(i+n, stepWords()...)
	more := s.skip(j, mores()...)
	sign := directionOf(s.at(more))
	if j > i+n && s.at(j).is("tighter", "looser") {
		sign = 1
		if s.at(j).is("looser") {
			sign = -1
		}
	} else if more == j && !s.at(j).is("finer", "coarser", "feiner", "enger", "gröber", "grober", "groeber", "fijner", "grover") { // "18 36 27 fine"
		return 0
	}
	j = more
	if sign == 0 || n == 0 && !moved {
		return 0
	}
	s.setGrind(Grind{Relative: true, X: sign * steps.x, Text: s.text[s.tokens[i].start:s.tokens[j].end()]})
	return j + 1 - i
}

// movedBy takes a move whose steps stand behind it: "finer by one", "più grosso di due",
// "más fino un punto".
func (s *sheet) movedBy(i int) int {
	j := s.skip(i, mores()...)
	sign, k := directionOf(s.at(j)), s.skip(j+1, "by", "um", "di", "de")
	by, n := countOf(s.at(k)), 1
	if a := s.amount(k); a.n > 0 && !a.vague {
		by, n = a.x, a.n
	}
	end := s.skip(k+n, stepWords()...)
	if s.at(k).is("twice") { // "finer twice"
		by, n, end = 2, 0, k+1
	}
	if sign == 0 || by <= 0 || by > 9 || k == j+1 && end == k+n {
		return 0
	}
	s.setGrind(Grind{Relative: true, X: sign * by, Text: s.text[s.tokens[i].start:s.tokens[end-1].end()]})
	return end - i
}

// unmeasured takes a move that is no number of steps, "1mm finer", "a quarter turn
// coarser", "much finer now". How far it is has to be asked.
func (s *sheet) unmeasured(i int, moved bool) int {
	j := i
	switch t := s.at(i); {
	case t.kind == wordToken && digits(t.low) > 0 && isLength(t.low[digits(t.low):]):
		j++
	case s.at(s.skip(i, "a", "half", "quarter", "full")).is("turn", "turns") && !t.is("turn", "turns"):
		j = s.skip(i, "a", "half", "quarter", "full", "turn", "turns")
	case s.onlyMoves(i):
		j = s.skip(s.skip(i, littles()...), mores()...)
	case moved && t.is("much", "way", "lots", "far", "viel", "beaucoup", "molto", "mucho", "muito"), t.is("much", "way", "lots", "far") && s.holds("now"):
		j++
	default:
		return 0
	}
	sign := directionOf(s.at(j))
	if sign == 0 {
		return 0
	}
	s.setGrind(Grind{Relative: true, Odd: true, X: sign, Text: s.text[s.tokens[i].start:s.tokens[j].end()]})
	return j + 1 - i
}

// onlyMoves reports whether a message is "a touch coarser" and no more: a wish, or
// done.
func (s *sheet) onlyMoves(i int) bool {
	j := s.skip(i, littles()...)
	if k := s.skip(j, mores()...); k > j {
		j = k
	}
	said := j > 0 && (j != 1 || !s.at(0).is("a")) || s.at(0).is("finer", "coarser", "feiner", "gröber", "grober", "groeber")
	return i == 0 && said && directionOf(s.at(j)) != 0 && s.skip(j+1, ".", "!") == len(s.tokens)
}

// isLength reports whether a word measures how far a collar was turned.
func isLength(low string) bool {
	switch low {
	case "mm", "cm", "turn", "turns", "deg", "degrees", "millimetre", "millimetres":
		return true
	}
	return false
}

// directionOf is 1 for a word that says finer, -1 for coarser, else 0.
func directionOf(t token) float64 {
	switch {
	case t.is("finer", "feiner", "enger", "fin", "fine", "fino", "fina", "fijner"):
		return 1
	case t.is("coarser", "gröber", "grober", "groeber", "gros", "grosso", "grossa", "grueso", "gruesa", "grover"):
		return -1
	}
	return 0
}

// stepWords are what the steps of a dial are called.
func stepWords() []string {
	return []string{
		"klicks", "klick", "stufen", "stufe", "schritte", "schritt", "strich", "striche", "crans", "cran", "pas", "scatti", "scatto",
		"tacche", "tacca", "puntos", "punto", "pasos", "paso", "clics", "clic", "passo", "passi", "passos", "pontos", "ponto", "cliques", "clique", "stappen", "stap", "streepjes", "klikken",
		"steps", "step", "clicks", "click", "notches", "notch",
	}
}

// countOf reads a small number that is written as a word.
func countOf(t token) float64 {
	switch {
	case t.is("ein", "ne", "nen", "eine", "einen", "eins", "un", "une", "d'un", "d'une", "uno", "una", "um", "uma", "een"):
		return 1
	case t.is("sei"): // Italian as well: you are
		return 0
	}
	return numberWords().units[t.low]
}

// tellsToTurn reports whether a message tells somebody to turn the dial, "make it
// finer", and no more.
func (s *sheet) tellsToTurn() bool {
	i := s.skip(2, "a", "bit", "little", "touch")
	if low := s.lows(0, 2); low != "make it" && low != "mach es" && low != "fallo più" {
		return false
	}
	if s.at(i).kind == numberToken {
		i = s.skip(i+1, stepWords()...)
	}
	return directionOf(s.at(i)) != 0 && s.skip(i+1, "please", "pls", ".", "!") == len(s.tokens)
}
