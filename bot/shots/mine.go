package shots

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// claim makes an open shot, and the advice on it, the person's. Any other stays
// as it is.
func claim(t *turn.Turn, r *recent.Book, e bar.Entry) (bar.Entry, error) {
	if !recent.IsOpen(e) || t.Who.ID == 0 {
		return e, nil
	}
	s, err := device.PulledBy(t, r, e, e.What.(bar.Shot))
	if err != nil {
		return e, err
	}
	e.Person, e.What = t.Who.ID, s
	t.Later(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(t.Bar.ID, e.ID)
		if err != nil || !ok || said.Person != 0 {
			return err
		}
		said.Person = t.Who.ID
		return tx.PutAdvice(t.Bar.ID, said)
	})
	r.Recent = recent.With(r.Recent, t.Put(e))
	return e, nil
}

// heldPost returns what a device posted last of what is kept until somebody says
// what it is.
func heldPost(r *recent.Book) (bar.Entry, bool) {
	for _, e := range slices.Backward(r.Recent) {
		if h, ok := e.What.(bar.Held); ok && h.Device != 0 && r.Now.Sub(e.At) <= turn.AnswerWindow && !e.At.After(r.Now) {
			return e, true
		}
	}
	return bar.Entry{}, false
}

// ClaimPosted makes the shot that was posted last, or the one that is answered, the
// person's, with what else they say. It is false if there is none.
func ClaimPosted(t *turn.Turn, r *recent.Book, rest string) ([]turn.Out, bool, error) {
	e, ok := which.LastOpen(r)
	if t.Msg.ReplyTo != "" {
		var err error
		if e, ok, err = answered(t); err != nil {
			return nil, false, err
		}
		if recent.PostedBy(e) != 0 {
			e.Person = 0 // whoever tapped first
		}
	} else if held, kept := heldPost(r); kept && (!ok || held.ID > e.ID) {
		return mineKept(t, r, held, rest)
	}
	if !ok || !recent.IsOpen(e) {
		return nil, false, nil
	}
	dial, rest := parse.MineAt(rest)
	words, said, err := wordsOf(r, rest)
	if err != nil || !said && rest != "" {
		return nil, false, err
	}
	if e, err = claim(t, r, e); err != nil {
		return nil, true, err
	}
	var outs []turn.Out
	if rest != "" {
		if outs, err = addWords(t, r, e, words, retaste{}); err != nil {
			return nil, true, err
		}
	}
	switch {
	case dial.Said:
		outs, err = correctShot(t, r, e, parse.Correction{Grind: dial})
	case rest == "":
		outs, err = nowMine(t, r, e)
	}
	return outs, true, err
}

// wordsOf reads how a shot tasted. It is false for what says nothing of that.
func wordsOf(r *recent.Book, text string) (words parse.Words, ok bool, err error) {
	if text == "" {
		return words, false, nil
	}
	meaning, err := parse.Message(text, r.Vocab())
	words, ok = meaning.(parse.Words)
	return words, ok, err
}

// nowMine says which shot is somebody's now.
func nowMine(t *turn.Turn, r *recent.Book, e bar.Entry) ([]turn.Out, error) {
	s := e.What.(bar.Shot)
	coffee, _ := r.Coffee(s.Coffee)
	lead := setup.In(t.Lang()).NowMine(t.Who.Name)
	newest, _ := r.Newest(func(_ bar.Entry, o bar.Shot) bool { return o.Coffee == s.Coffee })
	if newest.ID != e.ID {
		lead = setup.In(t.Lang()).NowMineOf(t.Who.Name, coffee, e, s)
	}
	a := answer.CorrectionOf(t, r, e, coffee, lead, "")
	a.OfIt = true
	return a.Give()
}

// mineKept makes a shot that is kept the person's who says which coffee it was,
// or asks again. What else they say waits until that is known.
func mineKept(t *turn.Turn, r *recent.Book, held bar.Entry, coffee string) ([]turn.Out, bool, error) {
	id, stranger := parse.CoffeeCalled(strings.Trim(coffee, " .!"), r.Vocab())
	if id == 0 || stranger != "" {
		return []turn.Out{{Post: resolve.CoffeePost(t, r, held.ID)}}, true, nil
	}
	outs, err := PressHeld(t, r, held, turn.PressCoffee, turn.IDText(id))
	if err != nil {
		return nil, true, err
	}
	if r, err = t.Book(); err != nil {
		return nil, true, err
	}
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.ID == held.ID })
	if !ok || !recent.IsOpen(e) { // more is to be asked, or it was told by somebody
		return outs, true, nil
	}
	if e, err = claim(t, r, e); err != nil {
		return nil, true, err
	}
	outs, err = nowMine(t, r, e)
	return outs, true, err
}

// HandBack gives a shot back that a person undoes: to nobody, if it is one
// that a device posted. It is false for any other.
func HandBack(t *turn.Turn, r *recent.Book, e bar.Entry) ([]turn.Out, bool, error) {
	s, ok := e.What.(bar.Shot)
	if !ok || recent.PostedBy(e) == 0 {
		return nil, false, nil
	}
	d, err := device.Of(t, s.Device)
	if err != nil {
		return nil, true, err
	}
	e.Person = 0
	r.Recent = recent.With(r.Recent, e)
	coffee, _ := r.Coffee(s.Coffee)
	outs, err := answer.CorrectionOf(t, r, e, coffee, setup.In(t.Lang()).HandedBack(d), "").Give()
	return outs, true, err
}

// PutBackPosted lets a shot stand again that was taken out, and another with it.
func PutBackPosted(t *turn.Turn, r *recent.Book, e bar.Entry, arg string) ([]turn.Out, error) {
	s, ok := e.What.(bar.Shot)
	coffee, known := r.Coffee(s.Coffee)
	if !ok || !known || !e.Deleted {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	stand := []bar.Entry{e}
	if id, err := strconv.ParseUint(arg, 10, 64); err == nil {
		other, err := t.Stored(bar.EntryID(id))
		if err != nil {
			return nil, err
		}
		stand = append(stand, other)
	}
	for i := range stand {
		stand[i].Deleted = false
		r.Recent = recent.With(r.Recent, stand[i])
	}
	e = stand[0]
	err := t.Update(func(tx *store.Tx) (err error) { // their words count again
		for _, e := range stand {
			err = errors.Join(err, tx.PutEntry(t.Bar.ID, e))
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	return answer.CorrectionOf(t, r, e, coffee, t.Lang().Say(say.PutBackWhole), "").Give()
}

// ignore takes out a shot that is to be none at all, or the two last, which can be put
// back.
func ignore(t *turn.Turn, r *recent.Book, shots []bar.Entry, two bool) ([]turn.Out, error) {
	back := turn.PressState(turn.PressBack, shots[0].ID)
	lead := ""
	if two && len(shots) > 1 {
		older := shots[1]
		back = turn.PressState(turn.PressBack, shots[0].ID, turn.IDText(older.ID))
		older = recent.Ignored(older)
		older.Deleted = true
		uncall(t, r, older.ID)
		untell(t, r, older)
		putAll(t, r, []bar.Entry{older})
		lead = t.Lang().TakenOut(older) + "\n"
	}
	e := shots[0]
	_, ok := e.What.(bar.Shot)
	outs, err := TakeOut(t, r, recent.Ignored(e), "")
	if ok && err == nil && len(outs) > 0 {
		outs[0].Text = lead + outs[0].Text
		if len(outs[0].Buttons) < turn.MaxButtons {
			outs[0].Buttons = append(outs[0].Buttons, chat.Button{Label: t.Lang().Say(say.BackLabel), State: back})
		}
	}
	return outs, err
}

// stillStands writes down where the dial stood for a shot that went wrong, before that is taken
// out: it stands there still, if nothing later says where.
func stillStands(t *turn.Turn, r *recent.Book, e bar.Entry) {
	s, _ := e.What.(bar.Shot)
	g, ok := r.Grinder(s.Grinder)
	_, learnt := r.Begun(g.ID, e)
	later, pulled := r.Newest(func(o bar.Entry, other bar.Shot) bool { return other.Grinder == g.ID })
	move, moved := r.LastMove(bar.Entry{At: t.Now}, g.ID)
	before, known := r.Stands(e, g)
	far := known && g.Step > 0 && stepsBetween(before, float64(s.Grind.X), g) > resolve.FarMove // a slip as well
	if !ok || learnt || far || !(g.Step > 0) || s.Grind.From != bar.Said || pulled && later.ID != e.ID || moved && recent.Earlier(e, move) {
		return
	}
	at := bar.Told{Event: bar.Moved, Grinder: g.ID, Dial: s.Grind}
	putAll(t, r, []bar.Entry{{With: t.Msg.ID, Person: e.Person, At: e.At, Day: e.Day, Raw: e.Raw, What: at}})
}

// PressPuller is the state of a button that says who pulled a shot.
const PressPuller = "puller"

// pulledBy makes the first of some shots somebody else's, "that was jo's". Where who writes has
// none that it can be, or says whose it was taken to be, it asks about the other's. A name
// of nobody's is talk.
func pulledBy(t *turn.Turn, r *recent.Book, shots []bar.Entry, p parse.Correction) ([]turn.Out, error) {
	to, than := personNamed(t, r, p.By), personNamed(t, r, p.Than)
	if p.Mine {
		to = t.Who.ID
	}
	if to == 0 || to == than {
		return nil, nil
	}
	others := which.Meant(r, r.Shots(func(e bar.Entry, s bar.Shot) bool {
		taken := e.Person != 0 && e.Person != to && e.Person != t.Who.ID && (than == 0 || e.Person == than) && (p.Of == 0 || s.Coffee == p.Of)
		return taken && t.Now.Sub(e.At) <= resolve.LateTaste && !e.At.After(t.Now)
	}), p.Which, parse.Number{})
	own := len(shots) > 0 && shots[0].Person != to && (than == 0 || than == shots[0].Person)
	if own && (t.Msg.ReplyTo != "" || t.Now.Sub(shots[0].At) <= resolve.LateTaste && (than != 0 || len(others) == 0 || recent.Earlier(others[0], shots[0]))) {
		return pullerPut(t, r, shots[0], to)
	}
	newest, _ := r.Newest(func(e bar.Entry, s bar.Shot) bool { return !e.At.After(t.Now) && (p.Of == 0 || s.Coffee == p.Of) })
	if len(others) == 0 || newest.Person == to && than == 0 && p.Which == (parse.Which{}) {
		return nil, nil
	}
	e := others[0]
	s, _ := e.What.(bar.Shot)
	coffee, _ := r.Coffee(s.Coffee)
	yes := turn.PressState(PressPuller, e.ID, turn.IDText(to))
	return askOther(t, e, t.Lang().PullerQuestion(r.NameOf(e.Person), coffee, e, r.NameOf(to)), yes), nil
}

// askOther asks whether a shot that somebody else has told of is to be changed.
func askOther(t *turn.Turn, e bar.Entry, question, yes string) []turn.Out {
	post := t.Post(chat.Question, question)
	post.Buttons = []chat.Button{
		{Label: t.Lang().Say(say.YesLabel), State: yes},
		{Label: t.Lang().Say(say.NoLabel), State: turn.PressState(turn.PressShot, e.ID, say.ShotNo)},
	}
	t.Later(func(tx *store.Tx) error { return t.AskAlso(tx, e.Person, post.Buttons) })
	return []turn.Out{{Post: post}}
}

// personNamed returns one of the bar's people, 0 for nobody.
func personNamed(t *turn.Turn, r *recent.Book, name string) bar.PersonID {
	if name == parse.Me {
		return t.Who.ID
	}
	for _, p := range r.People {
		if strings.EqualFold(p.Name, name) {
			return p.ID
		}
	}
	return 0
}

// toldFor makes an entry somebody's, and keeps who told it.
func toldFor(e bar.Entry, who bar.PersonID) bar.Entry {
	if e.Typed == 0 {
		e.Typed = e.Person
	}
	if e.Person = who; e.Typed == who {
		e.Typed = 0
	}
	return e
}

// PutPuller makes a shot a person's again.
func PutPuller(t *turn.Turn, r *recent.Book, e bar.Entry, arg string) ([]turn.Out, error) {
	for _, p := range r.People {
		if turn.IDText(p.ID) == arg {
			return pullerPut(t, r, e, p.ID)
		}
	}
	return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
}

func pullerPut(t *turn.Turn, r *recent.Book, e bar.Entry, who bar.PersonID) ([]turn.Out, error) {
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	was := e.Person
	e = toldFor(e, who)
	t.Later(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(t.Bar.ID, e.ID)
		if err != nil || !ok || said.Person != was {
			return err
		}
		said.Person = who
		return tx.PutAdvice(t.Bar.ID, said)
	})
	r.Recent = recent.With(r.Recent, e)
	coffee, _ := r.Coffee(s.Coffee)
	a := answer.CorrectionOf(t, r, e, coffee, t.Lang().CorrectedFrom([]string{r.NameOf(was) + " → " + r.NameOf(who)}), "")
	a.Back = chat.Button{Label: t.Lang().Say(say.BackLabel), State: turn.PressState(PressPuller, e.ID, turn.IDText(was))}
	return a.Give()
}
