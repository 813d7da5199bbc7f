package bot

import (
	"fmt"
	"math"
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/store"
)

// askCall asks, once for a shot, whether a coffee is dialled in that does not
// look it. Whoever says it again or taps it is believed. It returns nothing where
// there is nothing to ask.
func (t *turn) askCall(r *room, c bar.Coffee, shot bar.Entry) ([]Out, error) {
	key := callKey(shot.ID)
	asked, err := t.toldOnce(key)
	if err != nil || asked || t.m.Kind == chat.Pressed {
		return nil, err
	}
	h, err := t.history(c.ID)
	if err != nil {
		return nil, err
	}
	o := t.outlook(h, c.ID, t.now)
	why := t.in().Uncalled(c, shot.What.(bar.Shot), r.tastedToday(c.ID), o.State == advisor.Drifting)
	if why == "" {
		return nil, nil
	}
	err = t.update(func(tx *store.Tx) error {
		if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
			return err
		}
		return tx.TellOnce(t.bar.ID, key, t.now)
	})
	post := t.post(chat.Question, t.in().CallQuestion(c, why))
	post.Buttons = []chat.Button{callButton(t.in(), shot.ID)}
	return []Out{{Post: post}}, err
}

// tastedToday reports whether anybody has said how a shot of the coffee tasted today.
func (r *room) tastedToday(c bar.CoffeeID) bool {
	_, ok := r.newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c && e.Day == r.day && r.tastedBy(e, 0) })
	return ok
}

// callIt calls a coffee dialled in by what was said, or takes such a call back.
func (t *turn) callIt(r *room, p parse.CallIt) ([]Out, error) {
	coffee, ok := r.which(p.Coffee)
	if !ok || !p.Not && !p.Grind.Said {
		return t.dialled(r, p.Coffee)
	}
	if p.Not {
		for _, e := range slices.Backward(r.recent) {
			if d, ok := e.What.(bar.Dialled); ok && d.Coffee == coffee.ID && e.Day == r.day && !e.Deleted {
				return t.takeOut(r, e, "")
			}
		}
		return nil, mistake(t.own().NotCalled(coffee))
	}
	last, ok := r.newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == coffee.ID && e.Day == r.day })
	if ok {
		s := last.What.(bar.Shot)
		g, _ := r.grinder(s.Grinder)
		if at := r.settle(last, p.Grind, g); !at.Odd && s.Grind.From != bar.None && math.Abs(at.X-float64(s.Grind.X)) > 1e-9 {
			return nil, mistake(t.own().CalledElsewhere(coffee, g, s.Grind.X, bar.Dial(at.X)))
		}
	}
	return t.dialled(r, coffee.ID)
}

// callOn returns the call that a shot was called dialled in by, or zero.
func (r *room) callOn(shot bar.Entry) bar.Entry {
	for _, e := range slices.Backward(r.recent) {
		if d, ok := e.What.(bar.Dialled); ok && d.Shot == shot.ID && !e.Deleted {
			return e
		}
	}
	return bar.Entry{}
}

// callKey marks that a call of a shot's coffee was asked about.
func callKey(shot bar.EntryID) string { return fmt.Sprintf("call %d", shot) }
