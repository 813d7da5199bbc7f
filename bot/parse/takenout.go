package parse

import (
	"slices"
	"strings"
	"sync"
)

// An outWord is what a word says where a shot is to be taken out, or several at once.
type outWord int

const (
	outVerb   outWord = 1 << iota // "delete"
	outWeakly                     // "take", which is said of much else
	outShot                       // "shot"
	outLast                       // "last"
	outMine                       // "mine"
	outThat                       // "that one"
	outAway                       // "out"
	outIgnore                     // "ignore", "forget"
	outBook                       // "posted", "the list"
	outWhy                        // "test", "mistake"
	outMade                       // "tamp", "basket", with which shots are made
	outSpoilt                     // "bin", "ignore": it was pulled, and went wrong
	outPurge                      // "purge", which is no shot
	outNot                        // "not", "doesn't": with "count"
	outCount
	outOther // it is of something else, or not to be done
	outNamed // the shot is named by its place, its time, its coffee or by who pulled it
)

// leastTakenOut is how much must speak for a shot taken out. Assumed.
const leastTakenOut = 3

// A takingOut is what a message holds that may take a shot out.
type takingOut struct {
	said    outWord
	strange int  // words that say nothing here
	figured bool // a figure of a shot or what it is measured with is named
	against int  // how much they speak against it
	beside  bool // one stands in a clause without a verb of taking out
}

// takenOut reads that a shot is to be none, in whatever order that is said: "delete the
// second harbour", "wipe my last, it was jo's cup on the scale", "that one doesn't count",
// "that was just a purge".
func takenOut(s *sheet) (Meaning, bool) {
	if s.asks() || len(s.tokens) > mostRemarkTokens || s.shot.Grinder != 0 || s.unsure.Kind != 0 {
		return nil, false
	}
	c, named := s.shotMeant()
	t, ok := s.takingOut(named)
	plainly := t.holds(outNamed) || t.strange == 0 && t.holds(outVerb|outIgnore|outPurge)
	if !ok || s.vocab.Pulled == (Pulled{}) && !plainly || named == (clause{}) && s.numbers > 1 {
		return nil, false
	}
	c.My = slices.ContainsFunc(s.tokens, func(t token) bool { return outWords()[t.low]&outMine != 0 })
	c.Vague = !t.holds(outShot|outMine|outBook|outNamed|outLast|outWhy) && s.holds("scratch", "strike") && !s.holds("one")
	c.Spoilt = t.holds(outMade) || t.holds(outSpoilt|outPurge) && !s.holds(slipWords()...)
	return c, t.enough(s.shot.Coffee != 0)
}

// slipWords say that what was typed was wrong, and not the shot.
func slipWords() []string {
	return []string{
		"typo", "typed", "mistyped", "wrote", "meant", "vertippt", "getippt", "geschrieben", "meinte", "scritto", "intendevo", "écrit", "tapé", "escrito", "escribí", "escrevi",
	}
}

// enough reports whether more speaks for a shot taken out than for talk.
func (t takingOut) enough(coffee bool) bool {
	n := t.said.points() - t.against
	if coffee {
		n++
	}
	surely := t.holds(outShot | outMine | outBook | outNamed)
	if t.beside && !surely && !t.holds(outLast) && (!t.holds(outVerb) || !t.holds(outWhy)) {
		n-- // "cancel that, they went home"
	}
	if t.holds(outIgnore) && t.against == 0 && (t.holds(outMade) || t.figured || t.strange == 0 && t.holds(outThat|outLast|outMine|outWhy)) {
		return true // "ignore that", "forgot to tamp lol ignore", "dose was low so ignore that one"
	}
	of := surely || t.holds(outLast|outThat|outMade) || coffee && t.holds(outWhy)
	return n >= leastTakenOut && of && (t.holds(outVerb|outPurge) || t.holds(outWeakly|outIgnore) && (surely || t.holds(outWhy|outAway)))
}

func (t takingOut) holds(w outWord) bool { return t.said&w != 0 }

// takingOut gathers what a message holds, where a shot is named or not. It is false for one
// that is of something else.
func (s *sheet) takingOut(named clause) (t takingOut, ok bool) {
	for _, part := range s.clauses() {
		said, strange, ok := s.saidOut(part, named)
		verb := said&(outVerb|outWeakly|outIgnore|outCount) != 0 || said&outPurge != 0 && strange == 0 && s.holds(wasWords()...)
		switch denied := said&outNot != 0; {
		case !ok:
			return t, false
		case denied && said&(outCount|outBook) != 0: // "that one doesn't count"
			said |= outVerb
		case denied && verb: // "don't delete that one"
			return t, false
		}
		if t.strange += strange; verb {
			t.against += 3 * strange
		} else { // "it was my mistake" is of no shot of mine
			said &^= outMine
			t.beside = t.beside || strange > 0
		}
		t.said |= said
	}
	t.figured = slices.ContainsFunc(s.tokens, func(t token) bool {
		return t.kind == wordToken && outWords()[t.low] == 0 && hints()[t.low]&(doseHint|yieldHint|dialHint|massHint) != 0
	})
	return t, true
}

// shotMeant reads which shot is to be none, and where it is named.
func (s *sheet) shotMeant() (Correction, clause) {
	for i := range s.tokens {
		w, n := s.which(i)
		coffee := slices.Contains(s.used[i:i+n], true)
		mine := s.at(i).is("my", "mein", "meine", "meinen", "mon", "mi", "meu") && (i+n == len(s.tokens) || s.at(i+n).is(joints()...) || s.at(i+n).is(wasWords()...))
		if n == 0 || w == (Which{}) && !coffee && !mine {
			continue
		}
		c := Correction{Ignore: true, Which: w}
		if coffee {
			c.Of = s.shot.Coffee
		}
		return c, clause{i, i + n}
	}
	return Correction{Ignore: true, Of: s.shot.Coffee}, clause{}
}

// saidOut returns what the words of a clause say, and how many say nothing here. It is false
// for a clause that is of something else. Named is where the shot is named.
func (s *sheet) saidOut(c, named clause) (said outWord, strange int, ok bool) {
	for i := c.from; i < c.to; i++ {
		t := s.tokens[i]
		w := outWords()[t.low]
		switch {
		case t.is("wrong") && s.at(i+1).is("shot"), t.is("happened") && s.at(i-1).is("never"), w == 0 && slices.ContainsFunc([]string{"delete", "remove", "cancel"}, t.nearly):
			said |= outVerb
		case t.is("bin") && !s.at(i+2).is("off") && (s.at(i+1).is("that", "this", "it", "the", "my") || s.at(i+1).is("last") && len(s.tokens) == i+2 || s.oneOf(i+1) != ""):
			said |= outVerb | outSpoilt
		case t.is("wipe") && s.holds("down"):
			return 0, 0, false
		case named.from <= i && i < named.to, s.tastedSo(i):
			said |= outNamed
		case s.used[i], i < s.wrong(), t.kind == symbolToken, t.is("ta") && i+1 == len(s.tokens), t.is("list") && named != (clause{}), w&outCount != 0 && s.at(i+1).is("on", "as"):
		case t.kind == numberToken && !s.vocab.Pulled.has(first(t.num)), w == outOther:
			return 0, 0, false
		case w == 0 && t.kind != numberToken && unitOf(t.low) == noUnit && hints()[t.low]&^otherHint == 0 && !sigh(t) && !slices.Contains(s.vocab.People, strings.TrimSuffix(t.low, "s")):
			strange++
		default:
			said |= w
		}
	}
	return said, strange, true
}

// tastedSo reports whether word i names the writer's last shot by how it was said to taste:
// "the thin one", and not "sweet, leave it".
func (s *sheet) tastedSo(i int) bool {
	t := s.tokens[i]
	named := s.at(i+1).is("one", "shot") || s.at(i-1).is("the", "that", "my", "der", "den", "die", "das", "il", "lo", "la", "quello", "quella", "le", "celui", "el", "ese", "o", "esse")
	if !named || len(s.vocab.Tasted) == 0 || t.kind != wordToken || outWords()[t.low] != 0 {
		return false
	}
	words, _ := s.lex.read(t.text)
	return len(words) == 1 && !words[0].Not && slices.Contains(s.vocab.Tasted, words[0].Term)
}

// points is how much words speak for a shot taken out.
func (w outWord) points() (n int) {
	for _, of := range []struct {
		said   outWord
		points int
	}{{outVerb, 2}, {outWeakly, 1}, {outIgnore, 1}, {outAway, 1}, {outShot, 2}, {outLast, 1}, {outMine, 1}, {outThat, 1}, {outBook, 2}, {outWhy, 1}, {outPurge, 2}, {outNamed, 2}} {
		if w&of.said != 0 {
			n += of.points
		}
	}
	return n
}

// has reports whether a number is one of the shot's.
func (p Pulled) has(x float64) bool {
	return slices.ContainsFunc(placesRight(), func(at place) bool { return p.figure(at) == x })
}

// outWords are the closed words of taking a shot out, in the six languages.
//
//nolint:gochecknoglobals // read once: a constant in all but form
var outWords = sync.OnceValue(func() map[string]outWord {
	all := map[string]outWord{}
	for _, of := range []struct {
		as    outWord
		words string
	}{
		{outVerb, `del quita quítalo togli toglilo enlève retire enlever retirer butta buttalo rid delete delte deleted remove cancel scratch scrap erase undo chuck discount void wipe strike kill rm levalo leva streichen
			lösch lösche löschen streich streiche cancella cancellare elimina eliminalo eliminala annulla
			supprime supprimer efface annule jette borra bórralo borrar elimínalo anula apaga apagar`},
		{outWeakly, `raus bin take nvm nevermind leave never mind lose drop discard skip toss nimm nehmt lascia stare scarta tira`},
		{outIgnore, `ignore ignoriert ignorez ignorate disregard forget ignorier ignoriere vergiss ignora oublie olvida esquece`},
		{outAway, `out off away`},
		{outShot, `shot shots espresso bezug estrazione extraction extracción extração tiro`},
		{outLast, `last latest letzten letzte letzter letztes ultimo l'ultimo ultima l'ultima dernier dernière último última antes prima`},
		{outMine, `mine my meinen mein mio mia mon mi meu minha`},
		{outThat, `that this one it eso ese esa quello quella questo questa celui celui-là ça das den ese esto esse essa isso`},
		{outBook, `post posted posting noter noté notieren notiert segnare anotar log logged logging raus book record recorded entry mean poner messo mettre mettere pôr por postato postate poster postei pôr publicado eingetragen gepostet`},
		{outWhy, `test tests practice spilled spilt bumped knocked decaf rubbish twice sbagliato practise mistake wrong cup numbers accident beans test probe versehen leaked déconnait doida loca prova errore prueba error essai erreur teste erro equivocado`},
		{outWhy | outMade, `tamp tamped channelled channeled puck basket scale tare portafilter balance balança tara báscula tarer sieb waage cestello filtro panier cesta tampen pressare tasser tampear prensar calcar getampt pressato tassé prensado tampeado calcado`},
		{outPurge, `purge purgar purga flush dud spülen spülung spülbezug fehlbezug spurgo`},
		{outSpoilt, `scrap chuck discount void toss scarta butta buttalo jette ignore disregard ignorier ignoriere ignoriert ignora ignorez ignorate counts count zählt conta compte cuenta`},
		{outNot, `not dinnae doesn't doesnt don't dont shouldn't shouldnt didn't didnt nicht non no pas não nao`},
		{outCount, `vale valeu keep contarlo contarla count counts counting zählt zählen conta contare compte compter cuenta contar`},
		{outOther, `his her their your order photo pic if when next tomorrow table number back why wenn si cuando quando foto`},
	} {
		for word := range strings.FieldsSeq(of.words) {
			all[word] |= of.as
		}
	}
	return withoutAccents(all)
})
