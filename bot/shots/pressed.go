package shots

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// PressDid notes whether the advice on a shot was done.
func PressDid(t *turn.Turn, r *recent.Book, e bar.Entry, done bool) ([]turn.Out, error) {
	text := t.Lang().Say(say.Still)
	err := t.Update(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(t.Bar.ID, e.ID)
		if err != nil {
			return err
		}
		if !ok {
			return turn.Mistake(t.WriterLang().Say(say.OldButton))
		}
		text = t.Lang().Say(say.Still)
		said.Followed, said.Voided = done, !done
		if said.Lever != bar.Grind {
			text = t.Lang().Say(say.NotDone)
		}
		at, own := movedSince(r, said)
		if done {
			grinders, err := tx.Grinders(t.Bar.ID)
			if err != nil {
				return err
			}
			to, unit := said.To, said.Unit
			if own { // that is what they did
				to, unit = float64(at), advisor.DialUnit
			}
			g, _ := bar.GrinderOf(grinders, said.Grinder)
			said.Person, text = t.Who.ID, t.Lang().Did(said.Lever, unit, to, g)
		}
		if said.Lever == bar.Grind && (!own || !done) {
			if err := unmoved(t, tx, r, said.Grinder); err != nil {
				return err
			}
		}
		if err := tx.PutAdvice(t.Bar.ID, said); err != nil {
			return err
		}
		return tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now)
	})
	return t.Says(chat.Recorded, text), err
}

// movedSince returns where somebody has said that the dial was put since it was
// advised to turn it.
func movedSince(r *recent.Book, said store.Said) (bar.Dial, bool) {
	e, ok := r.LastMove(bar.Entry{At: r.Now}, said.Grinder)
	if !ok || said.Lever != bar.Grind || e.At.Before(said.At) {
		return 0, false
	}
	w := e.What.(bar.Told)
	return w.Dial.X, w.Dial.From != bar.None
}

// PressTaste takes a tapped word for how the shot tasted.
func PressTaste(t *turn.Turn, r *recent.Book, e bar.Entry, word string) ([]turn.Out, error) {
	for _, old := range r.Recent { // a second tap says nothing new
		if w, ok := old.What.(bar.Words); ok && w.Shot == e.ID && old.Person == t.Who.ID && old.Raw == word {
			return nil, nil
		}
	}
	meaning, err := parse.Message(word, parse.Vocab{}) // a tap is a word of ours, whatever coffees are called
	if err != nil {
		return nil, err
	}
	words, ok := meaning.(parse.Words)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	t.Msg.Text = word
	if e, err = claim(t, r, e); err != nil {
		return nil, err
	}
	return addWords(t, r, e, words, retaste{})
}

// PressHeld makes a shot of a message that was asked about.
func PressHeld(t *turn.Turn, r *recent.Book, e bar.Entry, verb, arg string) ([]turn.Out, error) {
	held, ok := e.What.(bar.Held)
	if !ok {
		return nil, nil // answered already
	}
	if verb == turn.PressShot && arg == say.ShotNo {
		return TakeOut(t, r, e, "")
	}
	meaning, err := parse.Message(e.Raw, r.Vocab())
	if parse.IsSeveral(err) {
		return heldSeveral(t, r, e, verb, arg)
	}
	if err == nil {
		if p, ok := meaning.(parse.Set); ok {
			return heldSet(t, r, e, p, verb, arg)
		}
		if p, ok := meaning.(parse.Happened); ok {
			return heldTold(t, r, e, p, arg)
		}
		if p, ok := meaning.(parse.Words); ok {
			return heldWords(t, r, e, p, verb, arg)
		}
	}
	p, ok, err := device.ReadHeld(e, r.Vocab())
	if err != nil {
		return nil, err
	}
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	if verb == PressLast {
		return heldLast(t, r, e, p)
	}
	which, settled := arg, ""
	switch verb {
	case turn.PressOrder:
		var order string
		if order, which, _ = strings.Cut(arg, ":"); order == say.OrderBetter {
			p.Dose, p.Yield, p.Time = p.Better.Dose, p.Better.Yield, p.Better.Time
		}
	case turn.PressShot, turn.PressPosted:
		if which = ""; arg == say.ShotNameless {
			p.Unread, p.Stranger = append(p.Unread, p.Stranger), ""
		}
	case turn.PressFar:
		which, settled, _ = strings.Cut(arg, ":")
		if err := resolve.Settle(t.Lang(), &p, settled); err != nil {
			return nil, err
		}
		which = strings.TrimPrefix(which, turn.IDText(bar.CoffeeID(0))) // none was named
	}
	if which != "" {
		if p.Coffee, ok = idOf(r, which); !ok {
			return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
		}
	}
	p.Swapped = p.Swapped && verb != turn.PressOrder && verb != turn.PressFar
	if p.Swapped {
		return []turn.Out{{Post: resolve.OrderPost(t, e.ID, p)}}, nil
	}
	if err := parse.Check(p); err != nil {
		return nil, err
	}
	same, err := device.TwinOf(t, r, e, p, verb, arg)
	if err != nil {
		return nil, err
	}
	if same != nil {
		p.Coffee = cmp.Or(p.Coffee, same.Coffee())
	}
	coffee, known := r.Which(p.Coffee)
	if !known && len(r.OnBar()) > 1 {
		return []turn.Out{{Post: resolve.CoffeePost(t, r, e.ID)}}, nil
	}
	if off, far := resolve.FarOff(r, p, coffee, settled); far && known && same == nil && verb != turn.PressOrder { // one question about the numbers is enough
		return []turn.Out{{Post: resolve.FarPost(t, e.ID, p, off, settled)}}, nil
	}
	if held.Device != 0 {
		return device.HeldPosted(t, r, e, held.Device, p, coffee, known)
	}
	return record(t, r, e, p, coffee, known, same)
}

// heldSeveral makes the shots of a message that tells several: the first stands for it.
func heldSeveral(t *turn.Turn, r *recent.Book, e bar.Entry, verb, arg string) (outs []turn.Out, err error) {
	for i, text := range parse.Shots(e.Raw, r.Vocab()) {
		if r, err = t.Book(); err != nil {
			return nil, err
		}
		m, err := parse.Message(text, r.Vocab())
		p, ok := m.(parse.Shot)
		if !ok || err != nil {
			return outs, turn.Mistake(t.WriterLang().Say(say.OldButton))
		}
		entry := e
		entry.Raw = text
		if i > 0 {
			entry = bar.Entry{Person: e.Person, At: e.At.Add(time.Duration(i) * time.Second), Day: e.Day, Raw: text}
		}
		if id, ok := idOf(r, arg); ok && verb == turn.PressCoffee && p.Coffee == 0 {
			p.Coffee = id
		}
		coffee, known := r.Which(p.Coffee)
		if !known && len(r.OnBar()) > 1 {
			return []turn.Out{{Post: resolve.CoffeePost(t, r, e.ID)}}, nil
		}
		more, err := record(t, r, entry, p, coffee, known, nil)
		if err != nil {
			return outs, err
		}
		outs = append(outs, more...)
	}
	return outs, nil
}

// idOf returns the coffee a button names, if it is on the bar.
func idOf(r *recent.Book, arg string) (bar.CoffeeID, bool) {
	for _, c := range r.OnBar() {
		if turn.IDText(c.ID) == arg {
			return c.ID, true
		}
	}
	return 0, false
}

// PressFiner takes which way the dial of a shot's grinder goes.
func PressFiner(t *turn.Turn, r *recent.Book, e bar.Entry, arg string) ([]turn.Out, error) {
	finer, err := parse.Direction(arg)
	if err != nil {
		return nil, err
	}
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	g, ok := r.Grinder(s.Grinder)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	if g.Finer != bar.Unknown && g.Finer != finer && !t.Msg.Manager { // a setting by now
		return nil, turn.Mistake(t.WriterLang().Say(say.NotManager))
	}
	g.Finer = finer
	t.PutGrinder(g)
	t.Later(func(tx *store.Tx) error { return tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now) })
	post, err := answer.Again(t, s.Coffee, t.Lang().Direction(g))
	return []turn.Out{{Post: post}}, err
}

// PressPut puts a number of a shot right, or back, by a tap.
func PressPut(t *turn.Turn, r *recent.Book, e bar.Entry, arg string) ([]turn.Out, error) {
	s, ok := e.What.(bar.Shot)
	held, kept := e.What.(bar.Held)
	name, rest, _ := strings.Cut(arg, "=")
	text, _, _ := strings.Cut(rest, "/")
	v, read := figures.ReadValue[float64](rest)
	if !ok && !kept || !read || v.From < bar.Said {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	n := parse.Number{X: v.X, Said: true}
	f := say.Figure(name)
	if !slices.Contains([]say.Figure{say.DoseFigure, say.YieldFigure, say.TimeFigure, say.DialFigure}, f) {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	p := figures.Only(parse.Correction{Bare: n, Grind: parse.Grind{X: v.X, Said: true, Text: text}}, f)
	if kept && held.Device == 0 {
		shot, _, err := device.ReadHeld(e, r.Vocab())
		if err != nil {
			return nil, err
		}
		return putWaiting(t, r, e, shot, p)
	}
	return figures.PutRight(t, r, e, s, p, v.From)
}
