package bot

import (
	"errors"
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// uncall takes back that the message of a shot called its coffee dialled in.
func (t *turn) uncall(r *room, shot bar.EntryID) error {
	return t.update(func(tx *store.Tx) error {
		for _, e := range r.recent {
			if d, ok := e.What.(bar.Dialled); ok && d.Shot == shot && e.Message == "" {
				e.Deleted = true
				if err := tx.PutEntry(t.bar.ID, e); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// deleted takes out what a deleted message had put in.
func (t *turn) deleted() ([]Out, error) {
	e, reply, ok, err := t.original()
	if err != nil || !ok || e.Deleted {
		return nil, err
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	return t.takeOut(r, e, reply)
}

// original returns the entry that the edited or deleted message made, and the
// id of the post that answered it, if there is one.
func (t *turn) original() (e bar.Entry, reply string, ok bool, err error) {
	err = t.see(func(tx *store.Tx) error {
		if e, ok, err = tx.EntryOf(t.bar.ID, t.m.ID); err != nil || !ok {
			return err
		}
		said, _, err := tx.ReplyOf(t.bar.ID, t.m.ID)
		reply = said.Post
		return err
	})
	return e, reply, ok, err
}

// takeOut marks an entry deleted and advises on what is left.
func (t *turn) takeOut(r *room, e bar.Entry, reply string) ([]Out, error) {
	e.Deleted = true
	switch w := e.What.(type) {
	case bar.Shot:
		if err := errors.Join(t.unlearnDial(r, e, w), t.uncall(r, e.ID), t.untell(r, e), t.bringBack(r, w.Posted)); err != nil {
			return nil, err
		}
		return t.mended(r, e, w.Coffee, t.in().TakenOut(e), reply)
	case bar.Words:
		if err := t.untell(r, e); err != nil {
			return nil, err
		}
		return t.mendedWords(r, e, t.in().TakenOut(e), reply)
	case bar.Setting:
		return t.restore(r, e, w)
	case bar.Dialled:
		return t.mended(r, e, w.Coffee, t.in().TakenOut(e), reply)
	case bar.Told:
		return t.mended(r, e, w.Coffee, t.in().TakenOut(e), reply)
	case bar.Held:
		return t.mended(r, e, 0, t.in().TakenOut(e), reply)
	case bar.Layers, bar.Sips: // what answered them may be the account of all
		return t.mended(r, e, 0, t.in().TakenOut(e), "")
	}
	return nil, nil
}

// mended writes an entry that was put right, and says what to do now. The
// advice is that of the coffee's newest shot, whichever was mended.
func (t *turn) mended(r *room, e bar.Entry, c bar.CoffeeID, lead, reply string) ([]Out, error) {
	coffee, known := r.coffee(c)
	if !known {
		err := t.update(func(tx *store.Tx) error {
			if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
				return err
			}
			return tx.PutEntry(t.bar.ID, e)
		})
		return []Out{{Post: t.post(chat.Recorded, lead), Edits: reply}}, err
	}
	for i := range r.recent {
		if r.recent[i].ID == e.ID {
			r.recent[i] = e
		}
	}
	return t.mending(r, e, coffee, lead, reply).give()
}

// mending is the answer to an entry that was put right.
func (t *turn) mending(r *room, e bar.Entry, coffee bar.Coffee, lead, reply string) answer {
	a := answer{turn: t, room: r, entry: e, coffee: coffee, lead: lead, edits: reply}
	if s, ok := e.What.(bar.Shot); ok && !e.Deleted {
		a.notes.Unread = s.Unread
	}
	return a
}

// mendedWords is mended for words, whose coffee is that of their shot.
func (t *turn) mendedWords(r *room, e bar.Entry, lead, reply string) ([]Out, error) {
	shot, err := t.stored(e.What.(bar.Words).Shot)
	if err != nil {
		return nil, err
	}
	s, _ := shot.What.(bar.Shot)
	return t.mended(r, e, s.Coffee, lead, reply)
}

// undo takes back the last thing this person did today.
func (t *turn) undo() ([]Out, error) {
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	for _, e := range slices.Backward(r.recent) {
		if _, told := e.What.(bar.Told); told && e.Message == "" {
			continue // learnt from a shot, and undone with it
		}
		if e.Person == t.who.ID && e.Day == r.day {
			if outs, done, err := t.uncorrect(e); done || err != nil {
				return outs, err
			}
			if outs, done, err := t.handBack(r, e); done || err != nil {
				return outs, err
			}
			return t.takeOut(r, e, "")
		}
	}
	if outs, done, err := t.uncorrect(bar.Entry{}); done || err != nil {
		return outs, err
	}
	return nil, mistake(t.own().Say(say.NothingToUndo))
}

// moved returns a shot that was of another coffee than it was taken for. What
// came from that coffee's recipe or grinder comes from this one's.
func (r *room) moved(e bar.Entry, s bar.Shot, to bar.Coffee) bar.Shot {
	if s.Dose.From != bar.Said {
		s.Dose = bar.Value[bar.Grams]{X: to.Recipe.Dose, From: bar.Assumed}
	}
	if s.Yield.From != bar.Said {
		s.Yield = bar.Value[bar.Grams]{X: to.Recipe.Yield, From: bar.Assumed}
	}
	if s.Grinder != to.Grinder {
		g, _ := r.grinder(to.Grinder)
		s.Grind, s.Turned = r.grind(e, parse.Grind{}, g, store.Said{}, false)
	}
	s.Coffee, s.Grinder = to.ID, to.Grinder
	return s
}

// otherGrinder returns the only other grinder there is.
func (r *room) otherGrinder(than bar.GrinderID) bar.GrinderID {
	var others []bar.GrinderID
	for _, g := range r.inUse() {
		if g.ID != than {
			others = append(others, g.ID)
		}
	}
	if len(others) != 1 {
		return 0
	}
	return others[0]
}

// ignored returns a shot that is to be no shot at all, also not as a device
// posted it.
func ignored(e bar.Entry) bar.Entry {
	if s, ok := e.What.(bar.Shot); ok {
		s.Posted = 0
		e.What = s
	}
	return e
}

// correct puts this person's last shot right by what they say of it.
func (t *turn) correct(r *room, p parse.Correction) ([]Out, error) {
	if p.Yesterday {
		return t.correctYesterday(r, p)
	}
	if outs, ours, err := t.otherwise(r, p); ours || err != nil {
		return outs, err
	}
	shots := r.spokenOf(t.who.ID)
	if held, kept := r.heldPost(); kept && p.Coffee != 0 && t.m.ReplyTo == "" && (len(shots) == 0 || held.ID > shots[0].ID) {
		return t.pressHeld(r, held, pressCoffee, idText(p.Coffee))
	}
	if t.m.ReplyTo != "" {
		e, ok, err := t.answered()
		if err != nil {
			return nil, err
		}
		if ok {
			shots = []bar.Entry{e}
		}
	}
	if len(shots) == 0 {
		if outs, ours := t.correctOther(r, p); ours {
			return outs, nil
		}
	}
	if p.Weak && (len(shots) == 0 || isOpen(shots[0])) {
		return nil, nil // talk
	}
	if len(shots) == 0 {
		return nil, mistake(t.own().Say(say.NothingToCorrect))
	}
	if s, ok := shots[0].What.(bar.Shot); ok && p.Still {
		if _, moved := r.lastMove(bar.Entry{At: t.now}, s.Grinder); moved {
			return t.set(r, parse.Set{Grind: p.Grind, Grinder: s.Grinder, Instead: true})
		}
	}
	if p.Ignore {
		return t.ignore(r, shots[0])
	}
	return t.correctShot(r, shots[0], p)
}

// correctShot puts a shot right by what is said of it.
func (t *turn) correctShot(r *room, e bar.Entry, p parse.Correction) ([]Out, error) {
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil, mistake(t.own().Say(say.NothingToCorrect))
	}
	if p.Or != 0 {
		return t.askThat(r, e, p), nil
	}
	if p.Bare.Said {
		g, _ := r.grinder(s.Grinder)
		list, sure := readings(s, g, p.Bare.X, p.Mass)
		if f, ok := figureThatIs(s, p.Was); ok {
			list, sure = []say.Figure{f}, true
		} else if p.Only || p.Weak && (len(list) > 2 || (p.Bare.X < 10 || list[0] == say.DialFigure) && p.Bare.X == math.Trunc(p.Bare.X)) {
			return nil, nil // talk
		}
		if len(list) == 0 {
			list, sure = []say.Figure{say.TimeFigure}, true // which refuses it, and says why
		}
		if !sure {
			return t.askFigure(e, list, p.Bare.X), nil
		}
		p = only(p, list[0])
	}
	if far := t.farFixed(r, e, s, p); far != nil && parse.Fits(p.Dose, p.Yield, p.Time, s.Marks) == nil {
		return far, nil
	}
	e, err := t.claim(r, e)
	if err != nil {
		return nil, err
	}
	s = e.What.(bar.Shot)
	was := s
	if p.Dose.Said || p.Yield.Said || p.Time.Said {
		return t.putRight(r, e, s, p, bar.Said)
	}
	if p.Coffee != 0 {
		c, _ := r.coffee(p.Coffee)
		s = r.moved(e, s, c)
	}
	if p.Other {
		if p.Grinder = r.otherGrinder(s.Grinder); p.Grinder == 0 {
			return nil, mistake(t.own().WhichGrinder(r.inUse()))
		}
	}
	if p.Grinder != 0 && p.Grinder != s.Grinder {
		g, _ := r.grinder(p.Grinder)
		s.Grinder = g.ID
		s.Grind, s.Turned = r.grind(e, parse.Grind{}, g, store.Said{}, false)
	}
	if p.Grind.Said {
		g, err := t.learnDial(r, s.Grinder, p.Grind, e)
		if err != nil {
			return nil, err
		}
		if p.Grind = r.settle(e, p.Grind, g); p.Grind.Odd {
			return nil, mistake(t.own().Unplaced(g, say.Notes{Odd: p.Grind.Text, Beyond: p.Grind.Beyond}))
		}
		s.Marks &^= bar.Unplaced
		switch {
		case p.Grind.Relative && s.Grind.From == bar.None && g.Step > 0:
			s.Turned = p.Grind.X
		case p.Grind.Relative:
			s.Grind, s.Turned = bar.Value[bar.Dial]{X: g.Turn(s.Grind.X, p.Grind.X), From: bar.Said, Rough: p.Grind.Rough}, 0
		default:
			s.Grind, s.Turned = bar.Value[bar.Dial]{X: bar.Dial(p.Grind.X), From: bar.Said, Rough: p.Grind.Rough}, 0
		}
	}
	e.What = s
	coffee, known := r.coffee(s.Coffee)
	if !known {
		return t.mended(r, e, s.Coffee, t.in().Say(say.Corrected), "")
	}
	return t.movedRight(r, e, was, coffee)
}

// askThat asks of which of two coffees a shot is that were both named.
func (t *turn) askThat(r *room, e bar.Entry, p parse.Correction) []Out {
	post := t.post(chat.Question, t.in().Say(say.ThatQuestion))
	for _, id := range []bar.CoffeeID{p.Coffee, p.Or} {
		c, _ := r.coffee(id)
		post.Buttons = append(post.Buttons, chat.Button{Label: say.Clip(c.Name), State: pressState(pressThat, e.ID, idText(id))})
	}
	return []Out{{Post: post}}
}

// pressThat moves a shot to one of them.
func (t *turn) pressThat(r *room, e bar.Entry, arg string) ([]Out, error) {
	id, ok := idOf(r, arg)
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	return t.correctShot(r, e, parse.Correction{Coffee: id})
}

// movedRight writes down a shot whose dial, coffee or grinder was put right, and
// says from what to what.
func (t *turn) movedRight(r *room, e bar.Entry, was bar.Shot, coffee bar.Coffee) ([]Out, error) {
	s := e.What.(bar.Shot)
	state := backState(e, say.DialFigure, float64(was.Grind.X), was.Grind.From)
	var changes []string
	if s.Coffee != was.Coffee || s.Grinder != was.Grinder {
		state = ""
		changes = append(changes, r.elsewhere(was, s)...)
	}
	if s.Grinder == was.Grinder && s.Grind != was.Grind {
		g, _ := r.grinder(s.Grinder)
		changes = append(changes, t.in().DialChange(g, was.Grind, s.Grind))
	}
	if state == "" {
		state = wasState(e, was)
	}
	r.recent = with(r.recent, e)
	lead := r.corrected(e, s, changes)
	a := t.mending(r, e, coffee, lead, "")
	a.back = chat.Button{Label: t.in().Say(say.BackLabel), State: state}
	return a.give()
}

// corrected says what was changed of a shot, and of which where it is not the
// coffee's newest.
func (r *room) corrected(e bar.Entry, s bar.Shot, changes []string) string {
	newest, ok := r.newest(func(_ bar.Entry, o bar.Shot) bool { return o.Coffee == s.Coffee })
	switch {
	case len(changes) == 0:
		return r.in().Say(say.Corrected)
	case ok && newest.ID != e.ID:
		return r.in().CorrectedOf(e, r.name(e.Person), changes)
	}
	return r.in().CorrectedFrom(changes)
}

// elsewhere says of a shot of which coffee and grinder it was taken to be, and of
// which it is.
func (r *room) elsewhere(was, is bar.Shot) (changes []string) {
	if was.Coffee != is.Coffee {
		from, _ := r.coffee(was.Coffee)
		to, _ := r.coffee(is.Coffee)
		changes = append(changes, r.in().CoffeeChange(from, to))
	}
	if was.Grinder != is.Grinder {
		from, _ := r.grinder(was.Grinder)
		to, _ := r.grinder(is.Grinder)
		changes = append(changes, r.in().GrinderChange(from, to))
	}
	return changes
}
