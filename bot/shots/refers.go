package shots

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// PressLast says that a held message is of the shot before.
const PressLast = "last"

// referPost asks whether a message is of the last shot or of a new one.
func referPost(t *turn.Turn, e bar.EntryID, last bar.Entry) chat.Post {
	post := t.Post(chat.Question, t.Lang().ReferQuestion(last.What.(bar.Shot)))
	post.Buttons = []chat.Button{
		{Label: t.Lang().Say(say.LastOneLabel), State: turn.PressState(PressLast, e)},
		{Label: t.Lang().Say(say.NewShotLabel), State: turn.PressState(turn.PressShot, e, say.ShotYes)},
		resolve.NoShotButton(t.Lang(), e),
	}
	return post
}

// heldLast puts the shot before a held message right by it.
func heldLast(t *turn.Turn, r *recent.Book, held bar.Entry, p parse.Shot) ([]turn.Out, error) {
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == held.Person && recent.Earlier(e, held) })
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	held.Deleted = true
	putAll(t, r, []bar.Entry{held})
	return timed(t, r, e, p)
}

// BareTime takes a number alone for the time of this person's last shot, where that has
// none, or waits for more than its time. It is false where the number may be something else.
func BareTime(t *turn.Turn, r *recent.Book) ([]turn.Out, bool, error) {
	x, ok := parse.BareTime(t.Msg.Text)
	if !ok || t.Msg.ReplyTo != "" || t.Msg.Kind != chat.Text {
		return nil, false, nil
	}
	if e, p, ok := waiting(r); ok {
		if p.Time.Said || p.Refers {
			return nil, false, nil
		}
		outs, err := putWaiting(t, r, e, p, parse.Correction{Time: x})
		return outs, true, err
	}
	e, ok := which.Unsaid(r, parse.Shot{Time: x})
	if !ok {
		return nil, false, nil
	}
	outs, err := timed(t, r, e, parse.Shot{Time: x})
	return outs, true, err
}

// timed puts the numbers, the words, the marks and the coffee of a message to a shot.
func timed(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Shot) (outs []turn.Out, err error) {
	s := e.What.(bar.Shot)
	was := s
	if to, ok := r.Coffee(p.Coffee); ok && to.ID != s.Coffee {
		if s, err = movedTo(t, r, e, s, to); err != nil {
			return nil, err
		}
		p = differing(p, s)
	}
	if p.Grind.Said {
		if s, err = dialPut(t, r, e, s, p.Grind); err != nil {
			return nil, err
		}
	}
	changes, _ := figures.Put(t.Lang(), e, &s, parse.Correction{Dose: p.Dose, Yield: p.Yield, Time: p.Time})
	changes = append(elsewhere(r, was, s), changes...)
	if g, ok := r.Grinder(s.Grinder); ok && p.Grind.Said && g.ID == was.Grinder {
		changes = append(changes, t.Lang().DialChange(g, was.Grind, s.Grind))
	}
	s.Marks = recent.Marked(s.Marks, p.Marks&^bar.First)
	s.Words, s.Unread = slices.Concat(s.Words, p.Words), slices.Concat(s.Unread, p.Unread)
	if err := parse.Fits(p.Dose, p.Yield, p.Time, s.Marks); err != nil {
		return nil, err
	}
	e.What = s
	r.Recent = recent.With(r.Recent, e)
	coffee, _ := r.Coffee(s.Coffee)
	a := answer.CorrectionOf(t, r, e, coffee, answer.Corrected(r, e, was, s, changes), "")
	if !answer.Alike(was, s) {
		a.Back = chat.Button{Label: t.Lang().Say(say.BackLabel), State: figures.WasState(e, was)}
	}
	return a.Give()
}

// differing leaves out of what was said of a shot the numbers that it was said to have before.
func differing(p parse.Shot, s bar.Shot) parse.Shot {
	if s.Dose.From == bar.Said && p.Dose.X == float64(s.Dose.X) {
		p.Dose = parse.Number{}
	}
	if s.Yield.From == bar.Said && p.Yield.X == float64(s.Yield.X) {
		p.Yield = parse.Number{}
	}
	if s.Time.From == bar.Said && p.Time.X == float64(s.Time.X) {
		p.Time = parse.Number{}
	}
	return p
}

// farFixed asks whether a number was meant that a correction puts far off; it is
// nil where none is.
func farFixed(t *turn.Turn, r *recent.Book, e bar.Entry, s bar.Shot, p parse.Correction) []turn.Out {
	coffee, known := r.Coffee(s.Coffee)
	look := parse.Shot{Grinder: s.Grinder, Dose: p.Dose, Yield: p.Yield, Time: p.Time, Marks: s.Marks}
	if !p.Grind.Relative && !p.Grind.Odd {
		look.Grind = p.Grind
	}
	off, far := resolve.FarOff(r, look, coffee, "")
	if !known || !far {
		return nil
	}
	post := t.Post(chat.Question, t.Lang().FarEditQuestion(off))
	for _, x := range []float64{off.X, off.Instead} {
		if x != 0 {
			post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().FarLabel(off, x), State: figures.ButtonState(e.ID, off.Figure, x, bar.Said)})
		}
	}
	post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Say(say.LeaveEditLabel), State: turn.PressState(turn.PressShot, e.ID, say.ShotNo)})
	return []turn.Out{{Post: post}}
}

// ofAnother reports whether a correction is of what somebody else has pulled, and of whom,
// 0 where that was not said: who writes names them, has pulled nothing that it can be of, or
// speaks of the coffee of a shot that another has just pulled.
func ofAnother(t *turn.Turn, r *recent.Book, own []bar.Entry, p parse.Correction) (bar.PersonID, bool) {
	if t.Msg.ReplyTo != "" {
		return 0, len(own) == 0
	}
	if p.Yours {
		return 0, true
	}
	if whose := personNamed(t, r, p.Which.Whose); p.Which.Whose != "" {
		return whose, whose != t.Who.ID
	}
	if had := func(e bar.Entry) bool { return which.Had(e, p.Was) }; p.Was.Said && p.Which == (parse.Which{}) && !slices.ContainsFunc(own, had) {
		_, other := r.Newest(func(e bar.Entry, s bar.Shot) bool {
			return had(e) && e.Person != 0 && e.Person != t.Who.ID && t.Now.Sub(e.At) <= resolve.TasteWindow && !e.At.After(t.Now) && (p.Of == 0 || s.Coffee == p.Of)
		})
		if other {
			return 0, true
		}
	}
	last, pulled := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return !e.At.After(t.Now) })
	since := pulled && last.Person != t.Who.ID && last.Person != 0 && t.Now.Sub(last.At) <= resolve.TasteWindow
	if since && p.To != "" && personNamed(t, r, p.To) == last.Person {
		return last.Person, true
	}
	if s, _ := last.What.(bar.Shot); since && p.Ignore && !p.My && p.Of != 0 && s.Coffee == p.Of && (len(own) == 0 || recent.Earlier(own[0], last)) { // "undo the last tide"
		return 0, true
	}
	if s, _ := last.What.(bar.Shot); since && p.Coffee != 0 && len(own) > 0 && p.Which == (parse.Which{}) {
		is := own[0].What.(bar.Shot).Coffee
		return 0, is == p.Coffee && s.Coffee != p.Coffee || p.Not != 0 && is != p.Not && s.Coffee == p.Not
	}
	return 0, len(own) == 0
}

// correctOther asks whether a correction is of what somebody else has pulled: the shot that
// it names, else what was pulled in the last minutes. False where there is no such shot.
func correctOther(t *turn.Turn, r *recent.Book, p parse.Correction, whose bar.PersonID) ([]turn.Out, bool) {
	named := p.Of != 0 || p.Which != (parse.Which{})
	list := which.Meant(r, r.Shots(func(e bar.Entry, s bar.Shot) bool {
		fits := e.Person != 0 && e.Person != t.Who.ID && (whose == 0 || e.Person == whose) && !e.At.After(t.Now) && (p.Of == 0 || s.Coffee == p.Of)
		return fits && (named && e.Day == r.Day || t.Now.Sub(e.At) <= resolve.TasteWindow)
	}), p.Which, p.Was)
	if len(list) == 0 || p.Yesterday || p.Which.Last > 0 {
		return nil, false
	}
	return offer(t, r, p, list[0])
}

// offer asks whether a correction is of a shot. False where it is of nothing that shot has.
func offer(t *turn.Turn, r *recent.Book, p parse.Correction, e bar.Entry) ([]turn.Out, bool) {
	s := e.What.(bar.Shot)
	coffee, _ := r.Coffee(s.Coffee)
	ask := func(changes []string, yes string) ([]turn.Out, bool) {
		return askOther(t, e, t.Lang().OthersQuestion(r.NameOf(e.Person), coffee, e, changes), yes), true
	}
	switch {
	case p.Ignore:
		return askOther(t, e, t.Lang().OutQuestion(r.NameOf(e.Person), coffee, e), turn.PressState(PressOut, e.ID)), true
	case p.Coffee != 0 && (p.Or != 0 || p.Coffee == s.Coffee || p.Alone):
		return nil, false
	case p.Coffee != 0:
		to, _ := r.Coffee(p.Coffee)
		return ask([]string{t.Lang().CoffeeChange(coffee, to)}, turn.PressState(turn.PressThat, e.ID, turn.IDText(to.ID)))
	}
	f, fits := figures.Naming(s, p.Was)
	switch could, sure := figures.Readings(r, s, p.Bare.X, p.Mass); {
	case p.Bare.Said && fits:
		p = figures.Only(p, f)
	case p.Bare.Said && p.Was.Said:
		return nil, false
	case p.Bare.Said && sure:
		p = figures.Only(p, could[0])
	case p.Bare.Said && !p.Weak && len(could) > 0:
		return figures.Ask(t, e, could, p.Bare.X), true
	}
	changes, _ := figures.Put(t.Lang(), e, &s, p)
	f, x, said := figureSaid(p)
	if g, ok := r.Grinder(s.Grinder); ok && p.Grind.Said && !p.Grind.Relative && !p.Grind.Odd && len(changes) == 0 {
		f, x, said = say.DialFigure, p.Grind.X, true
		changes = append(changes, t.Lang().DialChange(g, s.Grind, bar.Value[bar.Dial]{X: bar.Dial(x), From: bar.Said}))
	}
	if len(changes) != 1 || !said {
		return nil, false
	}
	return ask(changes, figures.ButtonState(e.ID, f, x, bar.Said))
}

// PressOut is the state of a button that takes a shot out that somebody else has told of.
const PressOut = "out"

// TakeOther takes it out, which can be taken back.
func TakeOther(t *turn.Turn, r *recent.Book, e bar.Entry) ([]turn.Out, error) {
	return ignore(t, r, []bar.Entry{e}, false)
}

// AskDenied asks what a far number was, once it was said that it was not that.
func AskDenied(t *turn.Turn, taps []store.Tap) []turn.Out {
	post := t.Post(chat.Question, t.Lang().Say(say.NotThatQuestion))
	if len(taps) > 2 {
		taps = taps[1:] // which was denied
	}
	for _, tap := range taps {
		post.Buttons = append(post.Buttons, chat.Button{Label: tap.Label, State: tap.State})
	}
	return []turn.Out{{Post: post}}
}

// deniedFar reports whether this person has just said that a far number was not
// meant.
func deniedFar(t *turn.Turn) (bool, error) {
	list, err := t.Asked()
	i := slices.IndexFunc(list, func(q turn.Asking) bool { return q.Who == t.Who.ID })
	if err != nil || i < 0 {
		return false, err
	}
	taps := list[i].Taps
	verb, _, _, _ := turn.ReadPress(taps[0].State)
	return verb == turn.PressFar && !strings.HasPrefix(taps[0].Label, t.Lang().Say(say.YesLabel)), nil
}

// HeldCoffee returns the button of a coffee that was put on the bar after the
// question which coffee it was.
func HeldCoffee(r *recent.Book, taps []store.Tap, text string) (string, bool) {
	if len(taps) == 0 {
		return "", false
	}
	verb, id, _, _ := turn.ReadPress(taps[0].State)
	if verb != turn.PressCoffee && verb != turn.PressNear {
		return "", false
	}
	for _, c := range r.OnBar() {
		if turn.Plain(c.Name) == turn.Plain(text) {
			return turn.PressState(turn.PressCoffee, id, turn.IDText(c.ID)), true
		}
	}
	m, err := parse.Message(text, r.Vocab())
	if p, ok := m.(parse.Correction); ok && err == nil && p.Coffee != 0 && p.Or == 0 { // "sorry that was tide"
		return turn.PressState(turn.PressCoffee, id, turn.IDText(p.Coffee)), true
	}
	return "", false
}
