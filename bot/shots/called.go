package shots

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
	"shothand/store"
)

// askCall asks, once for a shot, whether a coffee is dialled in that does not
// look it. Whoever says it again or taps it is believed, and whoever does what was
// advised is not asked. It returns nothing where
// there is nothing to ask.
func askCall(t *turn.Turn, r *recent.Book, c bar.Coffee, shot bar.Entry) ([]turn.Out, error) {
	key := answer.CallKey(shot.ID)
	asked, err := t.ToldOnce(key)
	if err != nil || asked || t.Msg.Kind == chat.Pressed {
		return nil, err
	}
	if kept, err := saidToCall(t, shot.ID); err != nil || kept {
		return nil, err
	}
	h, err := t.History(c.ID)
	if err != nil {
		return nil, err
	}
	o := t.Outlook(h, c.ID, t.Now)
	why := t.Lang().Uncalled(c, shot.What.(bar.Shot), r.TastedAs(shot), o)
	if why == "" {
		return nil, nil
	}
	t.Later(func(tx *store.Tx) error { return tx.TellOnce(t.Bar.ID, key, t.Now) })
	post := t.Post(chat.Question, t.Lang().CallQuestion(c, why))
	post.Buttons = []chat.Button{answer.CallButton(t.Lang(), shot.ID)}
	return []turn.Out{{Post: post}}, nil
}

// saidToCall reports whether calling it dialled in is what was advised after a shot.
func saidToCall(t *turn.Turn, shot bar.EntryID) (bool, error) {
	said, ok, err := t.AdviceOf(shot)
	return ok && said.Lever == bar.Keep && !said.Voided, err
}

// uncallOwn takes back that a coffee was called dialled in, where that is the last thing
// this person did, minutes ago.
func uncallOwn(t *turn.Turn, r *recent.Book) ([]turn.Out, error) {
	for _, e := range slices.Backward(r.Recent) {
		if e.Person != t.Who.ID || e.Deleted {
			continue
		}
		if _, called := e.What.(bar.Dialled); called && r.Now.Sub(e.At) <= resolve.TasteWindow {
			return TakeOut(t, r, e, "")
		}
		break
	}
	return nil, nil
}

// CallIt calls a coffee dialled in by what was said, or takes such a call back.
func CallIt(t *turn.Turn, r *recent.Book, p parse.CallIt) ([]turn.Out, error) {
	if p.Weak {
		return uncallOwn(t, r)
	}
	coffee, ok := r.Which(p.Coffee)
	if !ok || !p.Not && !p.Grind.Said {
		return Dialled(t, r, p.Coffee)
	}
	if p.Not {
		for _, e := range slices.Backward(r.Recent) {
			if d, ok := e.What.(bar.Dialled); ok && d.Coffee == coffee.ID && e.Day == r.Day && !e.Deleted {
				return TakeOut(t, r, e, "")
			}
		}
		if p.Yet {
			return nil, nil
		}
		return nil, turn.Mistake(t.WriterLang().NotCalled(coffee))
	}
	last, ok := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == coffee.ID && e.Day == r.Day })
	if ok {
		s := last.What.(bar.Shot)
		g, _ := r.Grinder(s.Grinder)
		if at := r.Settle(last, p.Grind, g); !at.Odd && s.Grind.From != bar.None && math.Abs(at.X-float64(s.Grind.X)) > 1e-9 {
			return nil, turn.Mistake(t.WriterLang().CalledElsewhere(coffee, g, s.Grind.X, bar.Dial(at.X)))
		}
	}
	return Dialled(t, r, coffee.ID)
}
