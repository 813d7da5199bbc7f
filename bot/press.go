package bot

import (
	"cmp"
	"slices"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// pressed handles a button. Its state says all; pressing it again changes
// nothing.
func (t *turn) pressed() ([]Out, error) {
	if t.m.Press == pressForget {
		return t.forgetMe()
	}
	if message, ok := strings.CutPrefix(t.m.Press, pressMeant+":"); ok {
		return t.pressMeant(message)
	}
	verb, id, arg, ok := readPress(t.m.Press)
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	if verb == pressUnteach {
		return t.pressUnteach(arg)
	}
	var e bar.Entry
	err := t.see(func(tx *store.Tx) (err error) {
		if tx.Seen(t.bar.ID, t.m.ID) {
			return store.ErrSeen
		}
		if e, err = tx.Entry(t.bar.ID, id); err != nil {
			return mistake(t.own().Say(say.OldButton))
		}
		e, err = standing(tx, t.bar.ID, e)
		return err
	})
	if err != nil {
		return nil, err
	}
	if e.Deleted && verb != pressBack {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	switch verb {
	case pressDid:
		return t.pressDid(r, e, true)
	case pressStill:
		return t.pressDid(r, e, false)
	case pressDialled:
		if s, ok := e.What.(bar.Shot); ok {
			return t.dialled(r, s.Coffee)
		}
	case pressUncall:
		if _, ok := e.What.(bar.Dialled); ok {
			return t.takeOut(r, e, "")
		}
	case pressStood:
		return t.pressStood(r, e, arg)
	case pressTaste:
		return t.pressTaste(r, e, arg)
	case pressCups, pressReveal, pressPair, pressBetter, pressMove, pressLeave:
		return t.pressLayers(r, e, verb, arg)
	case pressUnset, pressOf:
		return t.pressUnset(r, e, verb, arg)
	case pressCoffee, pressNear, pressOrder, pressShot, pressLast, pressOn, pressTo, pressFar:
		if _, shot := e.What.(bar.Shot); shot {
			return t.pressEdit(r, e, verb, arg)
		}
		return t.pressHeld(r, e, verb, arg)
	case pressPosted:
		return t.pressHeld(r, e, verb, arg)
	case pressApart:
		return t.split(r, e)
	case pressBack:
		return t.putBackPosted(r, e)
	case pressThat:
		return t.pressThat(r, e, arg)
	case pressPut:
		return t.pressPut(r, e, arg)
	case pressWas:
		return t.pressWas(r, e, arg)
	case pressFiner:
		return t.pressFiner(r, e, arg)
	case pressTeach:
		return t.pressTeach(e, arg)
	case pressMeans:
		return t.pressMeans(e, arg)
	}
	return nil, mistake(t.own().Say(say.OldButton))
}

// pressDid notes whether the advice on a shot was done.
func (t *turn) pressDid(r *room, e bar.Entry, done bool) ([]Out, error) {
	text := t.in().Say(say.Still)
	err := t.update(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(t.bar.ID, e.ID)
		if err != nil {
			return err
		}
		if !ok {
			return mistake(t.own().Say(say.OldButton))
		}
		text = t.in().Say(say.Still)
		said.Followed, said.Voided = done, !done
		at, own := r.movedSince(said)
		if done {
			grinders, err := tx.Grinders(t.bar.ID)
			if err != nil {
				return err
			}
			to, unit := said.To, said.Unit
			if own { // that is what they did
				to, unit = float64(at), advisor.DialUnit
			}
			g, _ := bar.GrinderOf(grinders, said.Grinder)
			said.Person, text = t.who.ID, t.in().Did(said.Lever, unit, to, g)
		}
		if said.Lever == bar.Grind && (!own || !done) {
			if err := t.unmoved(tx, r, said.Grinder); err != nil {
				return err
			}
		}
		if err := tx.PutAdvice(t.bar.ID, said); err != nil {
			return err
		}
		return tx.MarkSeen(t.bar.ID, t.m.ID, t.now)
	})
	return t.say(chat.Recorded, text), err
}

// movedSince returns where somebody has said that the dial was put since it was
// advised to turn it.
func (r *room) movedSince(said store.Said) (bar.Dial, bool) {
	e, ok := r.lastMove(bar.Entry{At: r.now}, said.Grinder)
	if !ok || said.Lever != bar.Grind || e.At.Before(said.At) {
		return 0, false
	}
	w := e.What.(bar.Told)
	return w.Dial.X, w.Dial.From != bar.None
}

// pressTaste takes a tapped word for how the shot tasted.
func (t *turn) pressTaste(r *room, e bar.Entry, word string) ([]Out, error) {
	for _, old := range r.recent { // a second tap says nothing new
		if w, ok := old.What.(bar.Words); ok && w.Shot == e.ID && old.Person == t.who.ID && old.Raw == word {
			return nil, nil
		}
	}
	meaning, err := parse.Message(word, parse.Vocab{}) // a tap is a word of ours, whatever coffees are called
	if err != nil {
		return nil, err
	}
	words, ok := meaning.(parse.Words)
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	t.m.Text = word
	if e, err = t.claim(r, e); err != nil {
		return nil, err
	}
	return t.addWords(r, e, words)
}

// pressHeld makes a shot of a message that was asked about.
func (t *turn) pressHeld(r *room, e bar.Entry, verb, arg string) ([]Out, error) {
	held, ok := e.What.(bar.Held)
	if !ok {
		return nil, nil // answered already
	}
	if verb == pressShot && arg == say.ShotNo {
		return t.takeOut(r, e, "")
	}
	if meaning, err := parse.Message(e.Raw, r.vocab()); err == nil {
		if p, ok := meaning.(parse.Set); ok {
			return t.heldSet(r, e, p, verb, arg)
		}
	}
	p, ok, err := readHeld(e, r.vocab())
	if err != nil {
		return nil, err
	}
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	if verb == pressLast {
		return t.heldLast(r, e, p)
	}
	which, settled := arg, ""
	switch verb {
	case pressOrder:
		var order string
		if order, which, _ = strings.Cut(arg, ":"); order == say.OrderBetter {
			p.Dose, p.Yield, p.Time = p.Better.Dose, p.Better.Yield, p.Better.Time
		}
	case pressShot, pressPosted:
		which = ""
	case pressFar:
		which, settled, _ = strings.Cut(arg, ":")
		if err := settle(t.in(), &p, settled); err != nil {
			return nil, err
		}
		which = strings.TrimPrefix(which, idText(bar.CoffeeID(0))) // none was named
	}
	if which != "" {
		if p.Coffee, ok = idOf(r, which); !ok {
			return nil, mistake(t.own().Say(say.OldButton))
		}
	}
	p.Swapped = p.Swapped && verb != pressOrder && verb != pressFar
	if p.Swapped {
		return []Out{{Post: t.orderPost(e.ID, p)}}, nil
	}
	if err := parse.Check(p); err != nil {
		return nil, err
	}
	same, err := t.twinOf(r, e, p, verb, arg)
	if err != nil {
		return nil, err
	}
	if same != nil {
		p.Coffee = cmp.Or(p.Coffee, same.coffee())
	}
	coffee, known := r.which(p.Coffee)
	if !known && len(r.onBar()) > 1 {
		return []Out{{Post: t.coffeePost(r, e.ID)}}, nil
	}
	if off, far := r.farOff(p, coffee, settled); far && known && same == nil && verb != pressOrder { // one question about the numbers is enough
		return []Out{{Post: t.farPost(e.ID, p, off, settled)}}, nil
	}
	if held.Device != 0 {
		return t.heldPosted(r, e, held.Device, p, coffee, known)
	}
	return t.record(r, e, p, coffee, known, same)
}

// readShot reads text that was a shot before, in free text or by command.
func readShot(text string, v parse.Vocab) (parse.Shot, bool, error) {
	meaning, err := parse.Message(text, v)
	if err != nil {
		return parse.Shot{}, false, err
	}
	if call, ok := meaning.(parse.Call); ok && call.Command.Name == "shot" {
		s, err := parse.ShotOf(call.Command, v)
		return s, err == nil, err
	}
	s, ok := meaning.(parse.Shot)
	return s, ok, nil
}

// orderPost asks in which order the numbers of a held message stand.
func (t *turn) orderPost(e bar.EntryID, p parse.Shot) chat.Post {
	post := t.post(chat.Question, t.in().OrderQuestion(p))
	post.Buttons = orderButtons(t.in(), e, p)
	return post
}

// strangerPost asks which coffee a held message means by a name that is none.
func (t *turn) strangerPost(r *room, e bar.EntryID, p parse.Shot) chat.Post {
	coffees := r.onBar()
	slices.SortStableFunc(coffees, func(a, b bar.Coffee) int { return cmp.Compare(far(a, p.Near), far(b, p.Near)) })
	near, _ := r.coffee(p.Near)
	post := t.post(chat.Question, t.in().StrangerQuestion(p, near.Name))
	post.Buttons = coffeeButtons(e, coffees)
	if p.Near != 0 {
		post.Buttons[0].State = pressState(pressNear, e, idText(p.Near))
	}
	if len(post.Buttons) == maxButtons {
		post.Buttons = post.Buttons[:maxButtons-1]
	}
	post.Buttons = append(post.Buttons, noShotButton(t.in(), e))
	return post
}

// far is 0 for the coffee that is near.
func far(c bar.Coffee, near bar.CoffeeID) int {
	if c.ID == near {
		return 0
	}
	return 1
}

// doubtPost asks whether a held message is a shot.
func (t *turn) doubtPost(r *room, e bar.EntryID, p parse.Shot) chat.Post {
	coffee, _ := r.which(p.Coffee)
	post := t.post(chat.Question, t.in().DoubtQuestion(p, coffee.Name))
	post.Buttons = []chat.Button{{Label: t.in().Say(say.YesLabel), State: pressState(pressShot, e, say.ShotYes)}, noShotButton(t.in(), e)}
	return post
}

// coffeePost asks which coffee a held message is about.
func (t *turn) coffeePost(r *room, e bar.EntryID) chat.Post {
	post := t.post(chat.Question, t.in().CoffeeQuestion(r.onBar()))
	post.Buttons = coffeeButtons(e, r.onBar())
	return post
}

// idOf returns the coffee a button names, if it is on the bar.
func idOf(r *room, arg string) (bar.CoffeeID, bool) {
	for _, c := range r.onBar() {
		if idText(c.ID) == arg {
			return c.ID, true
		}
	}
	return 0, false
}

// pressFiner takes which way the dial of a shot's grinder goes.
func (t *turn) pressFiner(r *room, e bar.Entry, arg string) ([]Out, error) {
	finer, err := parse.Direction(arg)
	if err != nil {
		return nil, err
	}
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	g, ok := r.grinder(s.Grinder)
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	if g.Finer != bar.Unknown && g.Finer != finer && !t.m.Manager { // a setting by now
		return nil, mistake(t.own().Say(say.NotManager))
	}
	g.Finer = finer
	err = t.update(func(tx *store.Tx) error {
		if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
			return err
		}
		return tx.PutGrinder(t.bar.ID, &g)
	})
	if err != nil {
		return nil, err
	}
	post, err := t.again(s.Coffee, t.in().Direction(g))
	return []Out{{Post: post}}, err
}
