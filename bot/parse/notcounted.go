package parse

import (
	"slices"
	"strings"
	"sync"
)

// An outWord is what a word says where a shot is to be taken out, or several at once.
type outWord int

const (
	outNothing outWord = 1 << iota
	outVerb            // "delete"
	outWeakly          // "take", which is said of much else
	outShot            // "shot"
	outLast            // "last"
	outMine            // "mine"
	outThat            // "that one"
	outBook            // "posted", "the list"
	outWhy             // "test", "tamp"
	outNot             // "not", "doesn't": with "count"
	outCount
	outOther // it is of something else, or not to be done
)

// leastTakenOut is how much must speak for a shot taken out. Assumed.
const leastTakenOut = 3

// notCounted reads that the writer's last shot is to be none, in whatever order that is said:
// "wipe my last, it was jo's cup on the scale", "that one doesn't count".
func notCounted(s *sheet) (Meaning, bool) {
	if s.vocab.Pulled == (Pulled{}) || s.asks() || len(s.tokens) > mostRemarkTokens || s.shot.Grinder != 0 {
		return nil, false
	}
	if s.numbers > 1 {
		return nil, false
	}
	all, n, beside := outWord(0), 0, false
	for _, c := range s.clauses() {
		said, strange, ok := s.saidOut(c)
		verb := said&(outVerb|outWeakly|outCount) != 0
		switch denied := said&outNot != 0; {
		case !ok:
			return nil, false
		case denied && said&(outCount|outBook) != 0: // "that one doesn't count"
			said |= outVerb
		case denied && verb: // "don't delete that one"
			return nil, false
		}
		if verb {
			n -= 2 * strange
		} else { // "it was my mistake" is of no shot of mine
			said &^= outMine
			beside = beside || strange > 0
		}
		all |= said
	}
	holds := func(w outWord) bool { return all&w != 0 }
	n += all.points()
	if s.shot.Coffee != 0 {
		n++
	}
	surely := holds(outShot | outMine | outBook)
	if beside && !surely && !holds(outLast) && (!holds(outVerb) || !holds(outWhy)) {
		n-- // "cancel that, they went home"
	}
	of := surely || holds(outLast|outThat)
	return Correction{Ignore: true, Of: s.shot.Coffee}, n >= leastTakenOut && of && (holds(outVerb) || holds(outWeakly) && (surely || holds(outWhy)))
}

// saidOut returns what the words of a clause say, and how many say nothing here. It is false
// for a clause that is of something else.
func (s *sheet) saidOut(c clause) (said outWord, strange int, ok bool) {
	for i := c.from; i < c.to; i++ {
		t := s.tokens[i]
		w := outWords()[t.low]
		switch {
		case s.used[i], t.kind == symbolToken, w == outCount && s.at(i+1).is("on", "as"), t.is("never") && s.at(i+1).is("mind"):
		case t.kind == numberToken && !s.vocab.Pulled.has(first(t.num)), w == outOther:
			return 0, 0, false
		case w == 0 && t.kind != numberToken && unitOf(t.low) == noUnit && !slices.Contains(s.vocab.People, strings.TrimSuffix(t.low, "s")):
			strange++
		default:
			said |= w
		}
	}
	return said, strange, true
}

// points is how much words speak for a shot taken out.
func (w outWord) points() (n int) {
	for _, of := range []struct {
		said   outWord
		points int
	}{{outVerb, 2}, {outWeakly, 1}, {outShot, 2}, {outLast, 1}, {outMine, 1}, {outThat, 1}, {outBook, 2}, {outWhy, 1}} {
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
		{outNothing, `pls please plz ta thx thanks sorry oh oops no can could you u the a an i it's its it's was is be to of from in on for me just actually and off out away again get got ok so hey guys mate we what which i've i used she forgot forgotten um told about had pretend there grad whole vergessen dimenticato dimenticata oublié olvidé esqueci
			bitte danke den der die das dem mir mich von nur weg wieder zum ich hab gerade eben es war ist mal doch sorry kannst du könnt ihr können wir
			il lo la un una di da del per favore x era è ho mi scusa scusate via che ho appena quel di prima va
			le la les un une de du s'il te plaît stp svp c'était est dsl désolé pardon que je de viens j'ai moi pas ce faut
			el la lo un una de del por favor porfa era es me que acabo q perdón antes se me
			o a os um uma de do por favor pf pfv era é me que acabei desculpa aqui só`},
		{outVerb, `del butta buttalo rid delete delte deleted remove cancel scratch scrap erase undo disregard
			lösch lösche löschen streich streiche
			cancella cancellare elimina eliminalo eliminala annulla
			supprime supprimer efface annule
			borra bórralo borrar elimina elimínalo anula
			apaga apagar elimina anula remove`},
		{outWeakly, `bin wipe strike take ignore nvm nevermind chuck leave forget mind lose drop discard skip toss
			vergiss ignorier ignoriere nimm nehmt
			togli toglilo ignora lascia stare scarta
			enlève retire oublie ignore enlever retirer
			quita quítalo ignora olvida
			tira ignora esquece`},
		{outShot, `shot shots espresso bezug estrazione extraction extracción extração tiro`},
		{outLast, `last latest letzten letzte letzter letztes ultimo l'ultimo ultima l'ultima dernier dernière último última`},
		{outMine, `mine my meinen mein mio mia mon mi meu minha`},
		{outThat, `that this one it eso ese esa quello quella questo questa celui celui-là ça das den ese esto esse essa isso`},
		{outBook, `post posted posting noter noté notieren notiert segnare anotar log logged logging raus book record recorded entry mean poner messo mettre mettere pôr por postato postate poster postei pôr publicado eingetragen gepostet`},
		{outWhy, `test tests practice spilled spilt bumped knocked decaf rubbish twice sbagliato practise flush purge mistake wrong tamp tamped channelled channeled puck basket scale tare cup numbers accident purgar purga beans spülen test probe versehen prova errore tara báscula prueba error essai erreur tarer teste erro sieb waage cestello filtro equivocado panier cesta`},
		{outNot, `not never dinnae doesn't doesnt don't dont shouldn't shouldnt didn't didnt nicht non no pas não nao`},
		{outCount, `keep contarlo contarla count counts counting zählt zählen conta contare compte compter cuenta contar`},
		{outOther, `his her their your order photo pic if when next tomorrow table why wenn si cuando quando foto`},
	} {
		for word := range strings.FieldsSeq(of.words) {
			if all[word] == 0 || of.as > all[word] {
				all[word] = of.as
			}
		}
	}
	return withoutAccents(all)
})
