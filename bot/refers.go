package bot

import (
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// pressLast says that a held message is of the shot before.
const pressLast = "last"

// referred returns this person's last shot where a message may be of it: one of
// the last minutes.
func (r *room) referred(p parse.Shot, before bar.Entry) (bar.Entry, bool) {
	e, ok := r.newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == r.who.ID && earlier(e, before) })
	return e, ok && p.Refers && before.At.Sub(e.At) <= tasteWindow
}

// referPost asks whether a message is of the last shot or of a new one.
func (t *turn) referPost(e bar.EntryID, last bar.Entry) chat.Post {
	post := t.post(chat.Question, t.in().ReferQuestion(last.What.(bar.Shot)))
	post.Buttons = []chat.Button{
		{Label: t.in().Say(say.LastOneLabel), State: pressState(pressLast, e)},
		{Label: t.in().Say(say.NewShotLabel), State: pressState(pressShot, e, say.ShotYes)},
		noShotButton(t.in(), e),
	}
	return post
}

// heldLast puts the shot before a held message right by it.
func (t *turn) heldLast(r *room, held bar.Entry, p parse.Shot) ([]Out, error) {
	e, ok := r.newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == held.Person && earlier(e, held) })
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	held.Deleted = true
	if err := t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, held) }); err != nil {
		return nil, err
	}
	r.recent = with(r.recent, held)
	s := e.What.(bar.Shot)
	was := s
	var changes []string
	if p.Time.Said {
		changes, _ = figures(t.in(), e, &s, parse.Correction{Time: p.Time})
	}
	s.Marks = marked(s.Marks, p.Marks&^bar.First)
	s.Words, s.Unread = slices.Concat(s.Words, p.Words), slices.Concat(s.Unread, p.Unread)
	if err := parse.Fits(parse.Number{}, parse.Number{}, p.Time, s.Marks); err != nil {
		return nil, err
	}
	e.What = s
	r.recent = with(r.recent, e)
	coffee, _ := r.coffee(s.Coffee)
	a := t.mending(r, e, coffee, r.corrected(e, s, changes), "")
	a.back = chat.Button{Label: t.in().Say(say.BackLabel), State: wasState(e, was)}
	return a.give()
}

// farFixed asks whether a number was meant that a correction puts far off; it is
// nil where none is.
func (t *turn) farFixed(r *room, e bar.Entry, s bar.Shot, p parse.Correction) []Out {
	coffee, known := r.coffee(s.Coffee)
	look := parse.Shot{Grinder: s.Grinder, Dose: p.Dose, Yield: p.Yield, Time: p.Time, Marks: s.Marks}
	if !p.Grind.Relative && !p.Grind.Odd {
		look.Grind = p.Grind
	}
	off, far := r.farOff(look, coffee, "")
	if !known || !far {
		return nil
	}
	post := t.post(chat.Question, t.in().FarEditQuestion(off))
	for _, x := range []float64{off.X, off.Instead} {
		if x != 0 {
			post.Buttons = append(post.Buttons, chat.Button{Label: t.in().FarLabel(off, x), State: putState(e.ID, off.Figure, x, bar.Said)})
		}
	}
	post.Buttons = append(post.Buttons, chat.Button{Label: t.in().Say(say.LeaveEditLabel), State: pressState(pressShot, e.ID, say.ShotNo)})
	return []Out{{Post: post}}
}

// correctOther asks whether a correction is of what somebody else has just pulled,
// by a person who has pulled nothing; false where there is no such shot.
func (t *turn) correctOther(r *room, p parse.Correction) ([]Out, bool) {
	e, ok := r.newest(func(e bar.Entry, _ bar.Shot) bool {
		return t.now.Sub(e.At) <= tasteWindow && !e.At.After(t.now) && e.Person != 0
	})
	if !ok {
		return nil, false
	}
	s := e.What.(bar.Shot)
	g, _ := r.grinder(s.Grinder)
	switch list, sure := readings(s, g, p.Bare.X, p.Mass); {
	case p.Bare.Said && sure:
		p = only(p, list[0])
	case p.Bare.Said && !p.Weak && len(list) > 0:
		return t.askFigure(e, list, p.Bare.X), true
	}
	changes, _ := figures(t.in(), e, &s, p)
	if len(changes) != 1 {
		return nil, false
	}
	f, x := say.TimeFigure, p.Time.X
	if p.Dose.Said {
		f, x = say.DoseFigure, p.Dose.X
	} else if p.Yield.Said {
		f, x = say.YieldFigure, p.Yield.X
	}
	post := t.post(chat.Question, t.in().OthersQuestion(r.name(e.Person), changes))
	post.Buttons = []chat.Button{
		{Label: t.in().Say(say.YesLabel), State: putState(e.ID, f, x, bar.Said)},
		{Label: t.in().Say(say.NoLabel), State: pressState(pressShot, e.ID, say.ShotNo)},
	}
	return []Out{{Post: post}}, true
}

// notThat asks what a far number was, once it was said that it was not that.
func (t *turn) notThat(taps []store.Tap) []Out {
	post := t.post(chat.Question, t.in().Say(say.NotThatQuestion))
	if len(taps) > 2 {
		taps = taps[1:] // which was denied
	}
	for _, tap := range taps {
		post.Buttons = append(post.Buttons, chat.Button{Label: tap.Label, State: tap.State})
	}
	return []Out{{Post: post}}
}

// deniedFar reports whether this person has just said that a far number was not
// meant.
func (t *turn) deniedFar() (bool, error) {
	list, err := t.asked()
	i := slices.IndexFunc(list, func(q asking) bool { return q.who == t.who.ID })
	if err != nil || i < 0 {
		return false, err
	}
	taps := list[i].taps
	verb, _, _, _ := readPress(taps[0].State)
	return verb == pressFar && !strings.HasPrefix(taps[0].Label, t.in().Say(say.YesLabel)), nil
}

// repeated reports whether the same was told of the bar minutes ago.
func (r *room) repeated(w bar.Told) (bar.Entry, bool) {
	for _, e := range slices.Backward(r.recent) {
		if o, ok := e.What.(bar.Told); ok && !e.Deleted && o == w && w.Event != bar.Moved && r.now.Sub(e.At) < 5*time.Minute {
			return e, true
		}
		if _, shot := e.What.(bar.Shot); shot {
			break
		}
	}
	return bar.Entry{}, false
}

// revises reports whether words deny what the same person has said of a shot, or
// say that it was not that: "no balanced" after "sour".
func (r *room) revises(shot bar.Entry, who bar.PersonID, p parse.Words) bool {
	before := map[string]bool{}
	note := func(words []bar.Word) {
		for _, w := range words {
			before[w.Term] = before[w.Term] || !w.Not && !w.Than
		}
	}
	if s, ok := shot.What.(bar.Shot); ok && shot.Person == who {
		note(s.Words)
	}
	for _, e := range r.recent {
		if w, ok := e.What.(bar.Words); ok && w.Shot == shot.ID && e.Person == who && !e.Deleted {
			note(w.Words)
		}
	}
	return slices.ContainsFunc(p.Words, func(w bar.Word) bool { return w.Not && before[w.Term] })
}

// heldCoffee returns the button of a coffee that was put on the bar after the
// question which coffee it was.
func (r *room) heldCoffee(taps []store.Tap, text string) (string, bool) {
	if len(taps) == 0 {
		return "", false
	}
	verb, id, _, _ := readPress(taps[0].State)
	if verb != pressCoffee && verb != pressNear {
		return "", false
	}
	for _, c := range r.onBar() {
		if plain(c.Name) == plain(text) {
			return pressState(pressCoffee, id, idText(c.ID)), true
		}
	}
	m, err := parse.Message(text, r.vocab())
	if p, ok := m.(parse.Correction); ok && err == nil && p.Coffee != 0 && p.Or == 0 { // "sorry that was tide"
		return pressState(pressCoffee, id, idText(p.Coffee)), true
	}
	return "", false
}
