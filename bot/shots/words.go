package shots

import (
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/bot/which"
	"shothand/store"
)

// Words handles taste words that came without a shot: they belong to the shot
// they answer, or to one just pulled. Otherwise they are chat.
func Words(t *turn.Turn, r *recent.Book, p parse.Words) ([]turn.Out, error) {
	if outs, ours, err := wordsWaiting(t, r, p); ours || err != nil {
		return outs, err
	}
	shot, ok, err := tasted(t, r, p)
	if p.Which != (parse.Which{}) && (p.Of == "" || p.Which != parse.Which{Whose: p.Of}) && t.Msg.ReplyTo == "" && err == nil {
		who := t.Who.ID
		if p.Of != "" {
			who = personNamed(t, r, p.Of)
		}
		own := which.Meant(r, which.OfCoffee(which.SpokenOf(r, who), p.Coffee), p.Which, parse.Number{})
		if ok = len(own) > 0; ok {
			shot = own[0]
		}
	}
	if p.Same && ok {
		p.Words = which.LastTaste(r, t.Who.ID, shot)
		ok = len(p.Words) > 0
	}
	if err != nil || !ok && !p.Set.Grind.Said {
		return nil, err
	}
	if p.Both && ok && t.Msg.ReplyTo == "" {
		fresh := r.Shots(func(e bar.Entry, _ bar.Shot) bool {
			return t.Now.Sub(e.At) <= resolve.TasteWindow && !e.At.After(t.Now)
		})
		if len(fresh) > 1 {
			return nil, turn.Mistake(t.WriterLang().OneCup(which.CoffeesOf(r, fresh[:2]), p.Words))
		}
	}
	if !ok {
		p.Set.Coffee = p.Coffee
		return Set(t, r, p.Set)
	}
	if p.By != "" {
		return heardFrom(t, r, shot, p)
	}
	if shot, err = claim(t, r, shot); err != nil {
		return nil, err
	}
	if revises := which.Revises(r, shot, t.Who.ID, p); len(p.Else) > 0 && !revises && r.TastedBy(shot, t.Who.ID) {
		p.Words, p.Instead = p.Else, true
	} else if revises || !p.Also && which.Contradicts(r, shot, t.Who.ID, p.Words) {
		p.Instead = true
	}
	put := retaste{}
	if p.Instead {
		shot, put = unsay(t, r, shot)
	}
	s, own := shot.What.(bar.Shot)
	if p.Marks == 0 || !own || shot.Person != t.Who.ID {
		return addWords(t, r, shot, p, put)
	}
	was := s.Marks
	s.Marks = recent.Marked(s.Marks, p.Marks)
	if coffee, ok := r.Coffee(s.Coffee); ok && p.Marks.Has(bar.InMilk) {
		s = recent.Assumed(s, coffee.RecipeFor(s.Marks))
	}
	shot.What = s
	if len(p.Words) == 0 {
		lead := notedMarks(t, p.Marks, was == s.Marks)
		if at := ofThrown(p, s.Grinder); at.Said { // "chucked it, left 5.0"
			var more string
			more, shot = stoodAt(t, r, shot, at)
			lead = strings.Trim(lead+"\n"+more, "\n")
		}
		return answer.GiveCorrected(t, r, shot, s.Coffee, lead, "")
	}
	putAll(t, r, []bar.Entry{shot})
	return addWords(t, r, shot, p, put)
}

// ofThrown returns where the dial stood for a shot that was thrown away, where that is said
// beside it and no move of the dial is.
func ofThrown(p parse.Words, g bar.GrinderID) parse.Grind {
	set := p.Set
	if p.At.Said || !p.Marks.Has(bar.Sink) || !set.Weak || set.Grind.Relative || set.Grind.Odd || set.Grinder != 0 && set.Grinder != g {
		return p.At
	}
	return set.Grind
}

// notedMarks says which marks were noted; of practice the advice says it.
func notedMarks(t *turn.Turn, m bar.Marks, known bool) string {
	if m == bar.Practice {
		return ""
	}
	return t.Lang().NotedMarks(m, known)
}

// addWords records words about a shot and advises again.
func addWords(t *turn.Turn, r *recent.Book, shot bar.Entry, p parse.Words, put retaste) ([]turn.Out, error) {
	s, ok := shot.What.(bar.Shot)
	if !ok {
		return nil, nil
	}
	coffee, _ := r.Coffee(s.Coffee)
	set, notes := "", say.Notes{Unread: p.Unread}
	if p.At.Said {
		set, shot = stoodAt(t, r, shot, p.At)
		s = shot.What.(bar.Shot)
	}
	if p.Set.Grind.Said {
		var err error
		if set, err = setBeside(t, r, t.Now, s, p.Set); err != nil {
			return nil, err
		}
		notes.Moved, notes.MovedTo = movedBeside(t, r, s.Grinder)
		notes.Purged = p.Set.Purged
	}
	a := answer.Answer{Turn: t, Book: r, Coffee: coffee, Lead: set, Notes: notes, Entry: bar.Entry{
		Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text,
		What: bar.Words{Shot: shot.ID, Words: p.Words, Unread: p.Unread},
	}}
	if p.Instead {
		a.Called = r.CallOn(shot)
	}
	set = strings.TrimSpace(put.lead(t.Lang(), p.Words, t.Msg.Text) + "\n" + set)
	a.Lead, a.Back = set, put.back(t.Lang(), shot.ID)
	newest := r.Shots(func(_ bar.Entry, other bar.Shot) bool { return other.Coffee == s.Coffee })
	if len(newest) > 0 && newest[0].ID != shot.ID { // the advice is on that one
		a.Lead = strings.TrimSpace(t.Lang().NotedFor(shot, r.NameOf(shot.Person), t.Lang().Echoed(p.Words, t.Msg.Text)) + "\n" + set)
	}
	return a.Give()
}

// movedBeside reports whether the message moved a grinder's dial as well, and where to.
func movedBeside(t *turn.Turn, r *recent.Book, id bar.GrinderID) (moved bool, to bar.Dial) {
	for _, e := range r.Recent {
		w, told := e.What.(bar.Told)
		if told && w.Event == bar.Moved && w.Grinder == id && e.With == t.Msg.ID && !e.Deleted {
			moved = true
		}
	}
	g, _ := r.Grinder(id)
	to, _ = r.StandsNow(g)
	return moved, to
}

// stoodAt puts right where the dial stood for a shot, beside words about it, and returns
// what to say of that.
func stoodAt(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Grind) (string, bar.Entry) {
	s := e.What.(bar.Shot)
	g, _ := r.Grinder(s.Grinder)
	if _, to, _ := putTo(r, e, p, g); farSet(r, e, parse.Set{Grind: p}, g) {
		return t.Lang().FarBeside(g, to), e
	}
	g = resolve.LearnDial(t, r, s.Grinder, p, e)
	if p = r.Settle(e, p, g); p.Odd || s.Grind.From != bar.None && s.Grind.X == bar.Dial(p.X) {
		return "", e
	}
	was := s.Grind
	s.Grind, s.Turned, s.Marks = bar.Value[bar.Dial]{X: bar.Dial(p.X), From: bar.Said, Rough: p.Rough}, 0, s.Marks&^bar.Unplaced
	e.What = s
	putAll(t, r, []bar.Entry{e})
	return t.Lang().CorrectedFrom([]string{t.Lang().DialChange(g, was, s.Grind)}), e
}

// tasted returns the shot that words without numbers are about: the one
// answered, else the one whose taste this person was asked for in the last quarter of an
// hour, else their own of the last minutes, else anybody's. Who has said how their own
// tastes speaks of the next one of that coffee. "It was bitter" is of one's own last
// shot for longer.
func tasted(t *turn.Turn, r *recent.Book, p parse.Words) (bar.Entry, bool, error) {
	coffee := p.Coffee
	if t.Msg.ReplyTo != "" {
		return answered(t)
	}
	if p.Of != "" {
		e, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool {
			return strings.EqualFold(r.NameOf(e.Person), p.Of) && t.Now.Sub(e.At) <= resolve.LateTaste && !e.At.After(t.Now) && (coffee == 0 || s.Coffee == coffee)
		})
		return e, ok, nil
	}
	fresh := r.Shots(func(e bar.Entry, s bar.Shot) bool {
		return (!p.Tried || e.Person != t.Who.ID) && t.Now.Sub(e.At) <= resolve.TasteWindow && !e.At.After(t.Now) && (coffee == 0 || s.Coffee == coffee)
	})
	window := resolve.TasteWindow
	if len(fresh) > 0 || describes(p.Words) { // else it may be said of anything
		window = turn.AnswerWindow
	}
	if e, ok := askedTaste(t, r, coffee, window); ok {
		return e, true, nil
	}
	if e, ok := which.OwnWithin(r, turn.AnswerWindow); ok && !p.Tried && coffee != 0 && len(fresh) == 0 { // "owl is lovely now"
		if s, is := e.What.(bar.Shot); is && s.Coffee == coffee {
			return e, true, nil
		}
	}
	last, ok := which.LastKept(fresh)
	for _, e := range fresh {
		if e.Person == t.Who.ID && (!r.TastedBy(e, t.Who.ID) || r.TastedBy(last, 0) && !next(r, e, last)) {
			return e, true, nil
		}
	}
	if own := which.SpokenOf(r, t.Who.ID); (!ok && p.Was || p.Own) && len(own) > 0 && t.Now.Sub(own[0].At) <= resolve.LateTaste {
		s, _ := own[0].What.(bar.Shot)
		return own[0], coffee == 0 || s.Coffee == coffee, nil
	}
	return last, ok, nil
}

// describes reports whether a word says how a cup is, and not only that somebody likes it,
// which is said of much else.
func describes(words []bar.Word) bool {
	return slices.ContainsFunc(words, func(w bar.Word) bool {
		entry, _ := taste.Default().Entry(w.Term)
		return entry.Kind == taste.Taste || entry.Kind == taste.Body || entry.Kind == taste.Finish || entry.Kind == taste.Faulty
	})
}

// askedTaste returns the shot that this person was asked about within a window and has not
// tasted yet, however old it is.
func askedTaste(t *turn.Turn, r *recent.Book, coffee bar.CoffeeID, window time.Duration) (bar.Entry, bool) {
	if len(t.Asking.Taps) == 0 || t.Asking.At.Before(t.Now.Add(-window)) {
		return bar.Entry{}, false
	}
	verb, id, _, _ := turn.ReadPress(t.Asking.Taps[0].State)
	asked, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool {
		return verb == turn.PressTaste && e.ID == id && e.Day == r.Day && (coffee == 0 || s.Coffee == coffee) && !r.TastedBy(e, r.Who.ID)
	})
	_, since := r.Newest(func(e bar.Entry, s bar.Shot) bool { // they speak of what they have pulled since
		return e.Person == r.Who.ID && recent.Earlier(asked, e) && (coffee == 0 || s.Coffee == coffee) && !r.TastedBy(e, r.Who.ID)
	})
	return asked, ok && !since
}

// next reports whether the last shot is another one of the same coffee, which who
// writes has not tasted.
func next(r *recent.Book, own, last bar.Entry) bool {
	a, b := own.What.(bar.Shot), last.What.(bar.Shot)
	return own.ID != last.ID && a.Coffee == b.Coffee && !r.TastedBy(last, r.Who.ID)
}

// answered returns the shot that the message, or the post, it answers is about.
func answered(t *turn.Turn) (e bar.Entry, ok bool, err error) {
	err = t.See(func(tx *store.Tx) error {
		if e, ok, err = tx.EntryOf(t.Bar.ID, t.Msg.ReplyTo); err != nil {
			return err
		}
		if !ok {
			reply, found, err := tx.ReplyByPost(t.Bar.ID, t.Msg.ReplyTo)
			if err != nil || !found || reply.Entry == 0 {
				return err
			}
			if e, err = tx.Entry(t.Bar.ID, reply.Entry); err != nil {
				return err
			}
		}
		if w, words := e.What.(bar.Words); words {
			e, err = tx.Entry(t.Bar.ID, w.Shot)
		}
		if err == nil {
			e, err = turn.StandsFor(tx, t.Bar.ID, e)
		}
		_, shot := e.What.(bar.Shot)
		ok = shot && !e.Deleted
		return err
	})
	return e, ok, err
}

// note records an entry that is no shot, and says so.
func note(t *turn.Turn, r *recent.Book, w bar.What, text string) ([]turn.Out, error) {
	post := t.Post(chat.Recorded, text)
	err := t.Update(func(tx *store.Tx) error {
		id, err := tx.AddEntry(t.Bar.ID, bar.Entry{
			Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text, What: w,
		})
		if err != nil {
			return err
		}
		if err := tx.PutReply(t.Bar.ID, store.Reply{Cause: t.Msg.ID, Entry: id, Kind: post.Kind.String(), At: t.Now}); err != nil {
			return err
		}
		return t.Remember(tx, post)
	})
	return []turn.Out{{Post: post}}, err
}

// Dialled calls a coffee dialled in, as its last shot was pulled.
func Dialled(t *turn.Turn, r *recent.Book, named bar.CoffeeID) ([]turn.Out, error) {
	coffee, ok := r.Which(named)
	if !ok {
		return nil, turn.Mistake(t.WriterLang().WhichCoffee(r.OnBar()))
	}
	shots := r.Shots(func(e bar.Entry, s bar.Shot) bool {
		return s.Coffee == coffee.ID && e.Day == r.Day && !s.Marks.Has(bar.Practice)
	})
	if len(shots) == 0 {
		return nil, turn.Mistake(t.WriterLang().NotPulled(coffee))
	}
	grinder, _ := r.Grinder(coffee.Grinder)
	last := r.AsNumbered(shots[0]).What.(bar.Shot)
	for _, e := range r.Recent {
		if d, ok := e.What.(bar.Dialled); ok && d.Coffee == coffee.ID && d.Shot == shots[0].ID { // called already
			return t.Says(chat.Info, t.Lang().Dialled(coffee, grinder, last, r.NameOf(e.Person))), nil
		}
	}
	if asked, err := askCall(t, r, coffee, shots[0]); asked != nil || err != nil {
		return asked, err
	}
	return note(t, r, bar.Dialled{Coffee: coffee.ID, Shot: shots[0].ID}, t.Lang().Dialled(coffee, grinder, last, t.Who.Name))
}
