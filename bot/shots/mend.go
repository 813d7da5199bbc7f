package shots

import (
	"math"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/figures"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/settings"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// uncall takes back that the message of a shot called its coffee dialled in.
func uncall(t *turn.Turn, r *recent.Book, shot bar.EntryID) {
	for _, e := range r.Recent {
		if d, ok := e.What.(bar.Dialled); ok && d.Shot == shot && e.Message == "" {
			e.Deleted = true
			t.Put(e)
		}
	}
}

// putAll writes entries with the answer.
func putAll(t *turn.Turn, r *recent.Book, entries []bar.Entry) {
	for _, e := range entries {
		r.Recent = recent.With(r.Recent, t.Put(e))
	}
}

// TakeOut marks an entry deleted and advises on what is left.
func TakeOut(t *turn.Turn, r *recent.Book, e bar.Entry, reply string) ([]turn.Out, error) {
	e.Deleted = true
	switch w := e.What.(type) {
	case bar.Shot:
		t.Later(func(tx *store.Tx) error { return t.KeepGone(tx, e.ID) })
		resolve.UnlearnDial(t, r, e, w)
		uncall(t, r, e.ID)
		untell(t, r, e)
		back := takenOutOf(t, r, e.Message)
		if err := device.BringBack(t, r, w.Posted); err != nil {
			return nil, err
		}
		return answer.GiveCorrected(t, r, e, w.Coffee, t.Lang().TakenOut(e)+back, reply)
	case bar.Words:
		untell(t, r, e)
		return mendedWords(t, r, e, t.Lang().TakenOut(e), reply)
	case bar.Setting:
		return settings.Restore(t, r, e, w)
	case bar.Dialled:
		return answer.GiveCorrected(t, r, e, w.Coffee, t.Lang().TakenOut(e), reply)
	case bar.Told:
		untell(t, r, e)
		return answer.GiveCorrected(t, r, e, w.Coffee, t.Lang().TakenOut(e)+takenOutOf(t, r, e.Message), reply)
	case bar.Held:
		return answer.GiveCorrected(t, r, e, 0, t.Lang().TakenOut(e), reply)
	case bar.Layers, bar.Sips: // what answered them may be the account of all
		return answer.GiveCorrected(t, r, e, 0, t.Lang().TakenOut(e), "")
	}
	return nil, nil
}

// mendedWords is answer.Mended for words, whose coffee is that of their shot.
func mendedWords(t *turn.Turn, r *recent.Book, e bar.Entry, lead, reply string) ([]turn.Out, error) {
	shot, err := t.Stored(e.What.(bar.Words).Shot)
	if err != nil {
		return nil, err
	}
	s, _ := shot.What.(bar.Shot)
	return answer.GiveCorrected(t, r, e, s.Coffee, lead, reply)
}

// movedTo returns a shot that was of another coffee than it was taken for. What
// came from that coffee's recipe or grinder comes from this one's.
func movedTo(t *turn.Turn, r *recent.Book, e bar.Entry, s bar.Shot, to bar.Coffee) (bar.Shot, error) {
	weighed := func(from bar.Provenance) bool { return from == bar.Said || from == bar.Last }
	if !weighed(s.Dose.From) {
		s.Dose = bar.Value[bar.Grams]{X: to.Recipe.Dose, From: bar.Assumed}
	}
	if !weighed(s.Yield.From) {
		s.Yield = bar.Value[bar.Grams]{X: to.Recipe.Yield, From: bar.Assumed}
	}
	if s.Grinder != to.Grinder {
		g, _ := r.Grinder(to.Grinder)
		return resolve.On(t, r, e, s, dialOf(r, e, to, g), to)
	}
	s.Coffee = to.ID
	return s, nil
}

// dialOf returns where the message of a shot says that the dial stood, where it was that
// coffee's after all, or where that is near where its dial is known to stand.
func dialOf(r *recent.Book, e bar.Entry, c bar.Coffee, g bar.Grinder) parse.Grind {
	p, ok, err := resolve.ReadShot(e.Raw, r.Vocab())
	at := r.Settle(e, p.Grind, g)
	if !ok || err != nil || at.Relative || at.Odd {
		return parse.Grind{}
	}
	stands, known := r.Stands(e, g)
	whole := at.X/g.Step - math.Round(at.X/g.Step)
	near := known && g.Step > 0 && stepsBetween(stands, at.X, g) <= resolve.FarMove/2 && math.Abs(whole) < 1e-6
	if p.Coffee == c.ID || near {
		return at
	}
	return parse.Grind{}
}

// Correct puts this person's last shot right by what they say of it.
func Correct(t *turn.Turn, r *recent.Book, p parse.Correction) ([]turn.Out, error) {
	if p.Yesterday {
		return correctYesterday(t, r, p)
	}
	if err := parse.Check(parse.Shot{Grind: p.Grind}); err != nil {
		return nil, err
	}
	for _, takes := range []func(*turn.Turn, *recent.Book, parse.Correction) ([]turn.Out, bool, error){mendWaiting, otherwise, otherEvent} {
		if outs, ours, err := takes(t, r, p); ours || err != nil {
			return outs, err
		}
	}
	shots := which.SpokenOf(r, t.Who.ID)
	if p.Wrong && p.Of != 0 && (len(shots) == 0 || r.Now.Sub(shots[0].At) > resolve.TasteWindow || shots[0].What.(bar.Shot).Coffee != p.Of) {
		return nil, nil // talk: no shot was taken for that coffee
	}
	shots = which.OfCoffee(shots, p.Of)
	if held, kept := heldPost(r); kept && p.Coffee != 0 && p.Which == (parse.Which{}) && t.Msg.ReplyTo == "" && (len(shots) == 0 || held.ID > shots[0].ID) {
		return PressHeld(t, r, held, turn.PressCoffee, turn.IDText(p.Coffee))
	}
	if t.Msg.ReplyTo != "" {
		e, ok, err := answered(t)
		if err != nil {
			return nil, err
		}
		if ok {
			shots = []bar.Entry{e}
		}
	} else {
		shots = which.Meant(r, shots, p.Which, p.Was)
	}
	if p.Alone && (p.Next || !which.Nameless(r, shots, p.Coffee)) {
		return nextCoffee(t, r, p.Coffee)
	}
	if p.By != "" || p.Mine {
		return pulledBy(t, r, shots, p)
	}
	if whose, other := ofAnother(t, r, shots, p); other {
		outs, ours := correctOther(t, r, p, whose)
		if !ours && whose != 0 && p.To == "" {
			return nil, turn.Mistake(t.WriterLang().NoneBy(r.NameOf(whose)))
		}
		if ours {
			return outs, nil
		}
		if p.Yours {
			return nil, turn.Mistake(t.WriterLang().Say(say.NothingToCorrect))
		}
	}
	if of := which.OfCoffee(which.SpokenOf(r, t.Who.ID), p.Of); len(shots) == 0 && len(of) > 0 {
		return nil, turn.Mistake(t.WriterLang().Say(say.NoneSuch))
	}
	if c, ok := r.Coffee(p.Of); ok && len(shots) == 0 {
		return nil, turn.Mistake(t.WriterLang().NoneOf(c))
	}
	if p.Which.Had.Said && len(shots) > 1 { // "the 28 one", of two
		if outs, ours := offer(t, r, p, shots[0]); ours {
			return outs, nil
		}
	}
	if p.Weak && (len(shots) == 0 || recent.IsOpen(shots[0])) {
		return nil, nil // talk
	}
	if len(shots) == 0 {
		return nil, turn.Mistake(t.WriterLang().Say(say.NothingToCorrect))
	}
	if outs, ours, err := stillFigure(t, r, shots[0], p); ours || err != nil {
		return outs, err
	}
	if s, ok := shots[0].What.(bar.Shot); ok && p.Still {
		if _, moved := r.LastMove(bar.Entry{At: t.Now}, s.Grinder); moved {
			return Set(t, r, parse.Set{Grind: p.Grind, Grinder: s.Grinder, Instead: true})
		}
	}
	if p.Ignore {
		if p.Spoilt {
			stillStands(t, r, shots[0])
		}
		return ignore(t, r, shots, p.Which.Last == 2)
	}
	if p.Which.Last > 1 {
		return standAt(t, r, shots, p)
	}
	return correctShot(t, r, shots[0], p)
}

// correctShot puts a shot right by what is said of it.
func correctShot(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Correction) ([]turn.Out, error) {
	s, ok := e.What.(bar.Shot)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.NothingToCorrect))
	}
	if p.Or != 0 || p.Wrong {
		return askThat(t, r, e, p), nil
	}
	if p.Bare.Said {
		list, sure := figures.Readings(r, s, p.Bare.X, p.Mass)
		if f, ok := figures.Naming(s, p.Was); ok {
			list, sure = []say.Figure{f}, true
		} else if p.Only || p.Weak && (len(list) > 2 || (p.Bare.X < 10 || list[0] == say.DialFigure) && p.Bare.X == math.Trunc(p.Bare.X)) {
			return nil, nil // talk
		}
		if len(list) == 0 {
			list, sure = []say.Figure{say.TimeFigure}, true // which refuses it, and says why
		}
		if !sure || !figures.Near(s, list[0], p.Was) {
			return figures.Ask(t, e, list, p.Bare.X), nil
		}
		p = figures.Only(p, list[0])
	}
	if far := farFixed(t, r, e, s, p); far != nil && parse.Fits(p.Dose, p.Yield, p.Time, s.Marks) == nil {
		return far, nil
	}
	e, err := claim(t, r, e)
	if err != nil {
		return nil, err
	}
	s = e.What.(bar.Shot)
	was := s
	if p.Dose.Said || p.Yield.Said || p.Time.Said {
		return figures.PutRight(t, r, e, s, p, bar.Said)
	}
	if p.Coffee != 0 {
		c, _ := r.Coffee(p.Coffee)
		if s, err = movedTo(t, r, e, s, c); err != nil {
			return nil, err
		}
	}
	if p.Other {
		if p.Grinder = which.OtherGrinder(r, s.Grinder); p.Grinder == 0 {
			return nil, turn.Mistake(t.WriterLang().WhichGrinder(r.InUse()))
		}
	}
	if p.Grinder != 0 && p.Grinder != s.Grinder {
		g, _ := r.Grinder(p.Grinder)
		s.Grinder = g.ID
		s.Grind, s.Turned, s.TurnedFrom = resolve.Grind(r, e, parse.Grind{}, g, store.Said{}, false)
	}
	if p.Grind.Said {
		if s, err = dialPut(t, r, e, s, p.Grind); err != nil {
			return nil, err
		}
	}
	e.What = s
	coffee, known := r.Coffee(s.Coffee)
	if !known {
		return answer.GiveCorrected(t, r, e, s.Coffee, t.Lang().Say(say.Corrected), "")
	}
	return movedRight(t, r, e, was, coffee)
}

// dialPut returns a shot with where its dial stood, as it was said.
func dialPut(t *turn.Turn, r *recent.Book, e bar.Entry, s bar.Shot, at parse.Grind) (bar.Shot, error) {
	g := resolve.LearnDial(t, r, s.Grinder, at, e)
	if at = r.Settle(e, at, g); at.Odd {
		return s, turn.Mistake(t.WriterLang().Unplaced(g, say.Notes{Odd: at.Text, Beyond: at.Beyond}))
	}
	s.Marks &^= bar.Unplaced
	switch {
	case at.Relative && s.Grind.From == bar.None && g.Step > 0:
		s.Turned, s.TurnedFrom = at.X, bar.Said
	case at.Relative:
		s.Grind, s.Turned = bar.Value[bar.Dial]{X: g.Turn(s.Grind.X, at.X), From: bar.Said, Rough: at.Rough}, 0
	default:
		s.Grind, s.Turned = bar.Value[bar.Dial]{X: bar.Dial(at.X), From: bar.Said, Rough: at.Rough}, 0
	}
	return s, nil
}

// askThat asks of which coffee a shot is: of two that were both named, or of any other.
func askThat(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Correction) []turn.Out {
	s, _ := e.What.(bar.Shot)
	post := t.Post(chat.Question, t.Lang().Say(say.ThatQuestion))
	for _, c := range r.OnBar() {
		named := c.ID == p.Coffee || c.ID == p.Or || p.Wrong && c.ID != s.Coffee
		if named && len(post.Buttons) < turn.MaxButtons {
			post.Buttons = append(post.Buttons, chat.Button{Label: say.Clip(c.Name), State: turn.PressState(turn.PressThat, e.ID, turn.IDText(c.ID))})
		}
	}
	return []turn.Out{{Post: post}}
}

// PressThat moves a shot to one of them.
func PressThat(t *turn.Turn, r *recent.Book, e bar.Entry, arg string) ([]turn.Out, error) {
	id, ok := idOf(r, arg)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	return correctShot(t, r, e, parse.Correction{Coffee: id})
}

// movedRight writes down a shot whose dial, coffee or grinder was put right, and
// says from what to what.
func movedRight(t *turn.Turn, r *recent.Book, e bar.Entry, was bar.Shot, coffee bar.Coffee) ([]turn.Out, error) {
	s := e.What.(bar.Shot)
	state := figures.BackState(e, say.DialFigure, float64(was.Grind.X), was.Grind.From)
	var changes []string
	if s.Coffee != was.Coffee || s.Grinder != was.Grinder {
		state = ""
		changes = append(changes, elsewhere(r, was, s)...)
	}
	g, _ := r.Grinder(s.Grinder)
	switch {
	case s.Grinder != was.Grinder:
	case s.Grind == was.Grind && !(g.Step > 0) && len(changes) == 0: // it has no numbers to tell
		changes = append(changes, coffee.Name)
	case s.Grind != was.Grind || len(changes) == 0 && s.Grind.From != bar.None:
		changes = append(changes, t.Lang().DialChange(g, was.Grind, s.Grind))
	}
	if state == "" {
		state = figures.WasState(e, was)
	}
	r.Recent = recent.With(r.Recent, e)
	lead := answer.Corrected(r, e, was, s, changes)
	a := answer.CorrectionOf(t, r, e, coffee, lead, "")
	if answer.Alike(was, s) {
		return a.Give()
	}
	a.Back = chat.Button{Label: t.Lang().Say(say.BackLabel), State: state}
	return a.Give()
}

// elsewhere says of a shot of which coffee and grinder it was taken to be, and of
// which it is.
func elsewhere(r *recent.Book, was, is bar.Shot) (changes []string) {
	if was.Coffee != is.Coffee {
		from, _ := r.Coffee(was.Coffee)
		to, _ := r.Coffee(is.Coffee)
		changes = append(changes, r.Lang().CoffeeChange(from, to))
	}
	if was.Grinder != is.Grinder {
		from, _ := r.Grinder(was.Grinder)
		to, _ := r.Grinder(is.Grinder)
		changes = append(changes, r.Lang().GrinderChange(from, to))
	}
	return changes
}
