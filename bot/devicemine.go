package bot

import (
	"cmp"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// A shot that a device posted is nobody's until somebody makes it theirs, and
// what is said without a name is about what was shown last.

// pulledBy returns an open shot as the person of the turn has pulled it: when it
// was posted, whoever had the last advice was taken to have done so.
func (t *turn) pulledBy(r *room, e bar.Entry, s bar.Shot) (bar.Shot, error) {
	before, ok := r.newest(func(other bar.Entry, o bar.Shot) bool { return o.Coffee == s.Coffee && earlier(other, e) })
	if !ok {
		return s, nil
	}
	var said store.Said
	err := t.see(func(tx *store.Tx) (err error) {
		said, ok, err = tx.AdviceOf(t.bar.ID, before.ID)
		return err
	})
	if err != nil || !ok || said.Person == 0 || said.Person == t.who.ID {
		return s, err
	}
	g, _ := r.grinder(s.Grinder)
	c, _ := r.coffee(s.Coffee)
	s.Grind, s.Turned = r.grind(e, parse.Grind{}, g, store.Said{}, false)
	recipe := c.RecipeFor(s.Marks)
	if s.Dose.From == bar.Advised {
		s.Dose = bar.Value[bar.Grams]{X: recipe.Dose, From: bar.Assumed}
	}
	if s.Yield.From == bar.Advised {
		s.Yield = bar.Value[bar.Grams]{X: recipe.Yield, From: bar.Assumed}
	}
	return s, nil
}

// claim makes an open shot, and the advice on it, the person's. Any other stays
// as it is.
func (t *turn) claim(r *room, e bar.Entry) (bar.Entry, error) {
	if !isOpen(e) || t.who.ID == 0 {
		return e, nil
	}
	s, err := t.pulledBy(r, e, e.What.(bar.Shot))
	if err != nil {
		return e, err
	}
	e.Person, e.What = t.who.ID, s
	err = t.update(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(t.bar.ID, e.ID)
		if err != nil {
			return err
		}
		if ok && said.Person == 0 {
			said.Person = t.who.ID
			if err := tx.PutAdvice(t.bar.ID, said); err != nil {
				return err
			}
		}
		return tx.PutEntry(t.bar.ID, e)
	})
	r.recent = with(r.recent, e)
	return e, err
}

// lastOpen returns the shot that was put in the book last of those that are
// nobody's and still asked about.
func (r *room) lastOpen() (bar.Entry, bool) {
	return lastKept(r.shots(func(e bar.Entry, _ bar.Shot) bool {
		return isOpen(e) && r.now.Sub(e.At) <= tasteWindow && !e.At.After(r.now)
	}))
}

// lastKept returns the entry that was put in the book last: what people have seen
// last. One that is told late is not the last by its time.
func lastKept(list []bar.Entry) (bar.Entry, bool) {
	if len(list) == 0 {
		return bar.Entry{}, false
	}
	return slices.MaxFunc(list, func(a, b bar.Entry) int { return cmp.Compare(a.ID, b.ID) }), true
}

// spokenOf returns the shots that a person may put right without a name, the one
// that is meant first: what a device has posted since their own last is.
func (r *room) spokenOf(who bar.PersonID) []bar.Entry {
	own := r.shots(func(e bar.Entry, _ bar.Shot) bool { return e.Person == who && e.Day == r.day })
	if open, ok := r.lastOpen(); ok && (len(own) == 0 || open.ID > own[0].ID) {
		return append([]bar.Entry{open}, own...)
	}
	return own
}

// heldPost returns what a device posted last of what is kept until somebody says
// what it is.
func (r *room) heldPost() (bar.Entry, bool) {
	for _, e := range slices.Backward(r.recent) {
		if h, ok := e.What.(bar.Held); ok && h.Device != 0 && r.now.Sub(e.At) <= answerWindow && !e.At.After(r.now) {
			return e, true
		}
	}
	return bar.Entry{}, false
}

// mine makes the shot that was posted last, or the one that is answered, the
// person's, with what else they say. It is false if there is none.
func (t *turn) mine(r *room, rest string) ([]Out, bool, error) {
	e, ok := r.lastOpen()
	if t.m.ReplyTo != "" {
		var err error
		if e, ok, err = t.answered(); err != nil {
			return nil, false, err
		}
		if postedBy(e) != 0 {
			e.Person = 0 // whoever tapped first
		}
	} else if held, kept := r.heldPost(); kept && (!ok || held.ID > e.ID) {
		return t.mineKept(r, held, rest)
	}
	if !ok || !isOpen(e) {
		return nil, false, nil
	}
	dial, rest := parse.MineAt(rest)
	words, said, err := t.wordsOf(r, rest)
	if err != nil || !said && rest != "" {
		return nil, false, err
	}
	if e, err = t.claim(r, e); err != nil {
		return nil, true, err
	}
	var outs []Out
	if rest != "" {
		if outs, err = t.addWords(r, e, words); err != nil {
			return nil, true, err
		}
	}
	switch {
	case dial.Said:
		outs, err = t.correctShot(r, e, parse.Correction{Grind: dial})
	case rest == "":
		outs, err = t.nowMine(r, e)
	}
	return outs, true, err
}

// wordsOf reads how a shot tasted. It is false for what says nothing of that.
func (t *turn) wordsOf(r *room, text string) (words parse.Words, ok bool, err error) {
	if text == "" {
		return words, false, nil
	}
	meaning, err := parse.Message(text, r.vocab())
	words, ok = meaning.(parse.Words)
	return words, ok, err
}

// nowMine says which shot is somebody's now.
func (t *turn) nowMine(r *room, e bar.Entry) ([]Out, error) {
	s := e.What.(bar.Shot)
	coffee, _ := r.coffee(s.Coffee)
	lead := t.in().NowMine(t.who.Name)
	newest, _ := r.newest(func(_ bar.Entry, o bar.Shot) bool { return o.Coffee == s.Coffee })
	if newest.ID != e.ID {
		lead = t.in().NowMineOf(t.who.Name, coffee, e, s)
	}
	a := t.mending(r, e, coffee, lead, "")
	a.ofIt = true
	return a.give()
}

// mineKept makes a shot that is kept the person's who says which coffee it was,
// or asks again. What else they say waits until that is known.
func (t *turn) mineKept(r *room, held bar.Entry, coffee string) ([]Out, bool, error) {
	id, stranger := parse.CoffeeCalled(strings.Trim(coffee, " .!"), r.vocab())
	if id == 0 || stranger != "" {
		return []Out{{Post: t.coffeePost(r, held.ID)}}, true, nil
	}
	outs, err := t.pressHeld(r, held, pressCoffee, idText(id))
	if err != nil {
		return nil, true, err
	}
	if r, err = t.room(); err != nil {
		return nil, true, err
	}
	e, ok := r.newest(func(e bar.Entry, _ bar.Shot) bool { return e.ID == held.ID })
	if !ok || !isOpen(e) { // more is to be asked, or it was told by somebody
		return outs, true, nil
	}
	if e, err = t.claim(r, e); err != nil {
		return nil, true, err
	}
	outs, err = t.nowMine(r, e)
	return outs, true, err
}

// handBack gives a shot back that a person undoes: to nobody, if it is one
// that a device posted. It is false for any other.
func (t *turn) handBack(r *room, e bar.Entry) ([]Out, bool, error) {
	s, ok := e.What.(bar.Shot)
	if !ok || postedBy(e) == 0 {
		return nil, false, nil
	}
	d, err := t.deviceOf(s.Device)
	if err != nil {
		return nil, true, err
	}
	e.Person = 0
	r.recent = with(r.recent, e)
	coffee, _ := r.coffee(s.Coffee)
	outs, err := t.mending(r, e, coffee, t.in().HandedBack(d), "").give()
	return outs, true, err
}

// putBackPosted lets a device's shot stand again that was taken out.
func (t *turn) putBackPosted(r *room, e bar.Entry) ([]Out, error) {
	s, ok := e.What.(bar.Shot)
	coffee, known := r.coffee(s.Coffee)
	if !ok || !known || !e.Deleted {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	e.Deleted = false
	r.recent = with(r.recent, e)
	err := t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, e) }) // its words count again
	if err != nil {
		return nil, err
	}
	return t.mending(r, e, coffee, t.in().Say(say.PutBackWhole), "").give()
}

// ignore takes out a shot that is to be none at all. What a device posted can be
// put back.
func (t *turn) ignore(r *room, e bar.Entry) ([]Out, error) {
	s, ok := e.What.(bar.Shot)
	outs, err := t.takeOut(r, ignored(e), "")
	if ok && s.Device != 0 && err == nil && len(outs) > 0 && len(outs[0].Buttons) < maxButtons {
		outs[0].Buttons = append(outs[0].Buttons, chat.Button{Label: t.in().Say(say.BackLabel), State: pressState(pressBack, e.ID)})
	}
	return outs, err
}
