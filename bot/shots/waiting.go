package shots

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/settings"
	"shothand/bot/turn"
	"shothand/store"
)

// waiting returns the last thing that this person did, where it is a shot that waits for
// an answer.
func waiting(r *recent.Book) (e bar.Entry, p parse.Shot, ok bool) {
	for _, e := range slices.Backward(r.Recent) {
		if e.Person != r.Who.ID || e.Deleted {
			continue
		}
		if _, held := e.What.(bar.Held); !held || r.Now.Sub(e.At) > turn.AnswerWindow {
			return e, p, false
		}
		p, ok, err := device.ReadHeld(e, r.Vocab())
		return e, p, ok && err == nil
	}
	return e, p, false
}

// LastHeld returns the last thing that this person did, where it is a shot that waits.
func LastHeld(r *recent.Book) (bar.EntryID, bool) {
	e, _, ok := waiting(r)
	return e.ID, ok
}

// mendWaiting takes what puts the last shot right for the one that waits for an answer.
// It is false where there is none, or where it says nothing of that one.
func mendWaiting(t *turn.Turn, r *recent.Book, p parse.Correction) ([]turn.Out, bool, error) {
	e, shot, ok := waiting(r)
	if !ok || t.Msg.ReplyTo != "" || p.Which != (parse.Which{}) || p.Next || p.Or != 0 || p.By != "" || p.Mine || p.Of != 0 && shot.Coffee != 0 && shot.Coffee != p.Of {
		return nil, false, nil
	}
	switch {
	case p.Ignore:
		outs, err := TakeOut(t, r, e, "")
		return outs, true, err
	case p.Coffee != 0 && (!p.Alone || shot.Coffee == 0):
		outs, err := PressHeld(t, r, e, turn.PressCoffee, turn.IDText(p.Coffee))
		return outs, true, err
	case p.Bare.Said:
		told := asTold(shot)
		if c, ok := r.Which(shot.Coffee); ok {
			told.Coffee = c.ID
		}
		list, sure := figures.Readings(r, told, p.Bare.X, p.Mass)
		if f, ok := figures.Naming(asTold(shot), p.Was); ok {
			list, sure = []say.Figure{f}, true
		}
		if len(list) == 0 {
			return nil, false, nil
		}
		if !sure {
			return figures.Ask(t, e, list, p.Bare.X), true, nil
		}
		p = figures.Only(p, list[0])
	}
	if p.Grind.Odd || p.Grind.Relative || !p.Grind.Said && !p.Dose.Said && !p.Yield.Said && !p.Time.Said {
		return nil, false, nil
	}
	outs, err := putWaiting(t, r, e, shot, p)
	return outs, true, err
}

// asTold returns a shot as a message tells it, with where its dial stood.
func asTold(p parse.Shot) bar.Shot {
	s := p.Told()
	if p.Grind.Said && !p.Grind.Relative && !p.Grind.Odd {
		s.Grind = bar.Value[bar.Dial]{X: bar.Dial(p.Grind.X), From: bar.Said}
	}
	return s
}

// putWaiting puts numbers of a shot right that waits for an answer, and goes on with it.
func putWaiting(t *turn.Turn, r *recent.Book, e bar.Entry, shot parse.Shot, p parse.Correction) ([]turn.Out, error) {
	if err := parse.Fits(p.Dose, p.Yield, p.Time, shot.Marks); err != nil {
		return nil, err
	}
	if err := parse.Check(parse.Shot{Grind: p.Grind}); err != nil {
		return nil, err
	}
	was, held := asTold(shot), e.What.(bar.Held)
	is := was
	changes, _ := figures.Put(t.Lang(), e, &is, p)
	if p.Grind.Said {
		to := bar.Value[bar.Dial]{X: bar.Dial(p.Grind.X), From: bar.Said}
		changes = append(changes, t.Lang().DialChange(bar.Grinder{}, was.Grind, to))
	}
	for _, put := range []struct {
		say.Figure
		said bool
		x    float64
	}{
		{say.DoseFigure, p.Dose.Said, p.Dose.X},
		{say.YieldFigure, p.Yield.Said, p.Yield.X},
		{say.TimeFigure, p.Time.Said, p.Time.X},
		{say.DialFigure, p.Grind.Said, p.Grind.X},
	} {
		if put.said {
			held.Settled = strings.TrimPrefix(held.Settled+","+string(put.Figure)+"="+strconv.FormatFloat(put.x, 'g', -1, 64), ",")
		}
	}
	e.What = held
	putAll(t, r, []bar.Entry{e})
	return goOn(t, r, e, t.Lang().CorrectedFrom(changes))
}

// goOn asks again what is still to be asked of a shot that waits, or records it.
func goOn(t *turn.Turn, r *recent.Book, e bar.Entry, lead string) ([]turn.Out, error) {
	p, _, err := device.ReadHeld(e, r.Vocab())
	if err != nil {
		return nil, err
	}
	if p.Half && p.Dose.Said && p.Yield.Said && p.Time.Said { // nothing else has all three
		p.Doubt = nil
	}
	question := doubt(t, r, p, false)
	if question == nil {
		outs, err := PressHeld(t, r, e, turn.PressShot, say.ShotYes)
		if len(outs) > 0 {
			outs[0].Text = strings.TrimSpace(lead + "\n" + outs[0].Text)
		}
		return outs, err
	}
	post := question(e.ID)
	post.Text = strings.TrimSpace(lead + "\n" + post.Text)
	return []turn.Out{{Post: post}}, nil
}

// pieced puts a message with numbers behind the one before of the same person that waits and
// has not all of a shot's: "19,3 in", then "42 out", then "27 sec". It is false where the two
// are not one shot.
func pieced(t *turn.Turn, r *recent.Book, p parse.Shot) ([]turn.Out, bool, error) {
	e, before, ok := waiting(r)
	held, _ := e.What.(bar.Held)
	whole := func(p parse.Shot) bool { return p.Dose.Said && p.Yield.Said && p.Time.Said }
	twice := before.Dose.Said && p.Dose.Said || before.Yield.Said && p.Yield.Said || before.Time.Said && p.Time.Said
	if !ok || held.Device != 0 || t.Msg.ReplyTo != "" || whole(before) || twice || r.Now.Sub(e.At) > resolve.TasteWindow {
		return nil, false, nil
	}
	sum := func(a, b, both parse.Number) bool { return both.X == a.X+b.X }
	for _, e.Raw = range []string{e.Raw + ", " + t.Msg.Text, t.Msg.Text + ", " + e.Raw} {
		one, ok, err := device.ReadHeld(e, r.Vocab())
		if ok && err == nil && sum(before.Dose, p.Dose, one.Dose) && sum(before.Yield, p.Yield, one.Yield) && sum(before.Time, p.Time, one.Time) {
			putAll(t, r, []bar.Entry{e})
			outs, err := goOn(t, r, e, "")
			return outs, true, err
		}
	}
	return nil, false, nil
}

// overtaken takes a weight out that was kept, where the shot says it again.
func overtaken(t *turn.Turn, r *recent.Book, p parse.Shot) {
	if e, before, ok := waiting(r); ok && before.Weight && (!before.Dose.Said || before.Dose == p.Dose) && (!before.Yield.Said || before.Yield == p.Yield) {
		e.Deleted = true
		putAll(t, r, []bar.Entry{e})
	}
}

// NewName takes a name that none here has for the answer to which coffee a shot was that
// waits: it is asked about as if the shot had named it. It is false for a text that is no
// such name.
func NewName(t *turn.Turn, r *recent.Book, taps []store.Tap) ([]turn.Out, bool, error) {
	e, shot, ok := waiting(r)
	verb, id, _, _ := turn.ReadPress(taps[0].State)
	which := verb == turn.PressCoffee || verb == turn.PressNear || verb == turn.PressShot && len(r.Coffees) == 0 && (shot.Guess || shot.Stranger == "")
	if !ok || id != e.ID || shot.Coffee != 0 || !which {
		return nil, false, nil
	}
	if verb != turn.PressShot && slices.Contains(noneWords(), turn.Plain(t.Msg.Text)) {
		return nil, true, turn.Mistake(t.WriterLang().Say("What is it called, then? Type its name, or “never mind”, and the shot is dropped."))
	}
	name, surely, ok := parse.Named(t.Msg.Text, r.Vocab())
	if !ok || r.IsPerson(name) || verb == turn.PressShot && !surely && !strings.Contains(strings.ToLower(e.Raw), strings.ToLower(name)) {
		return nil, false, nil
	}
	held := e.What.(bar.Held)
	held.Named = say.ShownName(name)
	e.What = held
	putAll(t, r, []bar.Entry{e})
	if verb == turn.PressShot { // it was asked whether it is a shot
		outs, err := PressHeld(t, r, e, turn.PressShot, say.ShotYes)
		return outs, true, err
	}
	outs, err := goOn(t, r, e, "")
	return outs, true, err
}

// NameFirst takes what a bar's first coffee is said to be called, "it was harbour", just
// after a shot whose coffee had no name. A name alone is one where that shot had the word.
func NameFirst(t *turn.Turn, r *recent.Book) ([]turn.Out, bool, error) {
	on := r.OnBar()
	if len(on) != 1 || on[0].Name != r.Lang().Say(say.HouseName) || t.Msg.Kind != chat.Text || t.Msg.ReplyTo != "" || manyNumbers(t.Msg.Text) {
		return nil, false, nil
	}
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == r.Who.ID })
	if !ok || r.Now.Sub(e.At) > turn.AnswerWindow {
		return nil, false, nil
	}
	shot := e.What.(bar.Shot)
	name, surely, ok := parse.Named(t.Msg.Text, r.Vocab())
	if !ok || r.IsPerson(name) || !surely && !slices.Contains(shot.Unread, name) {
		return nil, false, nil
	}
	outs, err := settings.CoffeeEdit(t, r, chat.Command{Name: "coffee edit", Options: []chat.Option{{Name: "name", Value: on[0].Name}, {Name: "rename", Value: name}}})
	if err != nil {
		return nil, true, err
	}
	shot.Unread = slices.DeleteFunc(slices.Clone(shot.Unread), func(word string) bool { return strings.Contains(name, word) })
	e.What = shot
	t.Put(e)
	return outs, true, nil
}

// AskedLast returns the last thing in the book, where it is a shot of somebody else that
// waits for an answer since a moment.
func AskedLast(r *recent.Book) (bar.Entry, bool) {
	if len(r.Recent) == 0 {
		return bar.Entry{}, false
	}
	e := r.Recent[len(r.Recent)-1]
	held, ok := e.What.(bar.Held)
	return e, ok && held.Device == 0 && !e.Deleted && e.Person != r.Who.ID && r.Now.Sub(e.At) <= 2*time.Minute
}

// AskOpen asks again about an older shot of this person that still waits, once another
// question, which a button with that state has answered, needs no asking any more.
func AskOpen(t *turn.Turn, list []turn.Asking, state string) []turn.Out {
	_, answered, _, _ := turn.ReadPress(state)
	r, err := t.Book()
	if err != nil || len(list) == 0 {
		return nil
	}
	for _, e := range slices.Backward(r.Recent) {
		held, ok := e.What.(bar.Held)
		if !ok || held.Device != 0 || e.Deleted || e.Person != r.Who.ID || e.ID == answered || r.Now.Sub(e.At) > resolve.TasteWindow {
			continue
		}
		p, ok, err := device.ReadHeld(e, r.Vocab())
		if !ok || err != nil {
			continue
		}
		question := doubt(t, r, p, false)
		switch {
		case question != nil:
			return []turn.Out{{Post: question(e.ID)}}
		case p.Coffee == 0 && len(r.OnBar()) > 1:
			return []turn.Out{{Post: resolve.CoffeePost(t, r, e.ID)}}
		}
	}
	return nil
}

// AlsoOf returns this person's other shots that wait for an answer to the question that a
// button answers, which coffee it was: an answer that is typed is of all of them.
func AlsoOf(t *turn.Turn, r *recent.Book, state string) (ids []bar.EntryID) {
	verb, answered, arg, _ := turn.ReadPress(state)
	coffee, ok := idOf(r, arg)
	c, _ := r.Which(coffee)
	if verb != turn.PressCoffee || !ok {
		return nil
	}
	for _, e := range r.Recent {
		held, ok := e.What.(bar.Held)
		if !ok || held.Device != 0 || e.Deleted || e.Person != r.Who.ID || e.ID == answered || r.Now.Sub(e.At) > turn.AnswerWindow {
			continue
		}
		p, ok, err := device.ReadHeld(e, r.Vocab())
		if !ok || err != nil || p.Coffee != 0 || p.Stranger != "" || resolve.FitsAnother(r, p, c) {
			continue
		}
		if p.Coffee = coffee; doubt(t, r, p, false) == nil {
			ids = append(ids, e.ID)
		}
	}
	return ids
}

// PressAll presses a button for some shots that wait, and then for its own.
func PressAll(t *turn.Turn, ids []bar.EntryID, state string) (outs []turn.Out, err error) {
	verb, own, arg, _ := turn.ReadPress(state)
	for _, id := range append(ids, own) {
		r, err := t.Book()
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(r.Recent, func(e bar.Entry) bool { return e.ID == id && !e.Deleted })
		if i < 0 {
			continue
		}
		more, err := PressHeld(t, r, r.Recent[i], verb, arg)
		if err != nil {
			return outs, err
		}
		outs = append(outs, more...)
	}
	return outs, nil
}

// HeldPlace returns the button that a number makes which answers whether a dial was put
// so far: where it stands.
func HeldPlace(r *recent.Book, taps []store.Tap, said string) (string, bool) {
	if len(taps) == 0 {
		return "", false
	}
	verb, id, arg, _ := turn.ReadPress(taps[0].State)
	x, err := parse.Position(said)
	i := slices.IndexFunc(r.Recent, func(e bar.Entry) bool { return e.ID == id })
	if verb != turn.PressShot || arg != say.ShotYes || err != nil || i < 0 || x <= float64(len(taps)) && x == math.Trunc(x) {
		return "", false
	}
	m, err := parse.Message(r.Recent[i].Raw, r.Vocab())
	p, ok := m.(parse.Set)
	if !ok || err != nil {
		return "", false
	}
	if p.Grind.X == x {
		return taps[0].State, true
	}
	return DialButton(id, x), true
}

// NoneOf reports whether somebody says that it is none of some.
func NoneOf(said string) bool { return slices.Contains(noneWords(), said) }

// noneWords answer which of some it is, if it is none of them.
func noneWords() []string {
	return []string{
		"neither", "none", "no", "nope", "nah", "nein", "non", "não", "none of them", "none of those", "none of these", "another", "another one", "a different one", "something else",
		"nessuno", "nessuno di questi", "un altro", "keiner", "keine", "keiner davon", "ein anderer", "aucun", "aucun des deux", "un autre",
		"ninguno", "ninguno de esos", "otro", "nenhum", "nenhum desses", "outro",
	}
}

// wordsWaiting puts words to a shot that waits for an answer, as if they had been typed
// behind it.
func wordsWaiting(t *turn.Turn, r *recent.Book, p parse.Words) ([]turn.Out, bool, error) {
	e, shot, ok := waiting(r)
	if !ok || t.Msg.ReplyTo != "" || p.By != "" || p.Of != "" || p.Which != (parse.Which{}) || p.Both || r.Now.Sub(e.At) > resolve.TasteWindow || p.Coffee != 0 && p.Coffee != shot.Coffee {
		return nil, false, nil
	}
	e.Raw += ", " + t.Msg.Text
	if _, ok, err := device.ReadHeld(e, r.Vocab()); !ok || err != nil {
		return nil, false, nil //nolint:nilerr // then they are of no shot
	}
	putAll(t, r, []bar.Entry{e})
	outs, err := goOn(t, r, e, "")
	return outs, true, err
}
