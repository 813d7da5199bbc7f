package bot

import (
	"fmt"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/say"
	"shothand/store"
)

// alert returns what is to be told of a coffee that has begun to drift, once
// for each drift, and not outside the bar's hours. What moves two coffees at
// once is what they share, and is told once a day.
func (a answer) alert(h bar.History, advice advisor.Advice, other bar.Coffee) (outs []Out, write func(*store.Tx) error, err error) {
	nothing := func(*store.Tx) error { return nil }
	if advice.State != advisor.Drifting || a.entry.Deleted || a.turn.clock().Quiet() {
		return nil, nothing, nil
	}
	deeds, err := a.deeds()
	if err != nil {
		return nil, nothing, err
	}
	d := advice.Drift
	name := fmt.Sprintf("drift-%d-%d-%d", a.coffee.ID, d.Called.Unix(), d.Nth)
	if _, told := deedOf(deeds, name); told {
		return nil, nothing, nil
	}
	both, seen := other.ID != 0, false
	if both {
		if seen, err = a.toldTogether(); err != nil {
			return nil, nothing, err
		}
	}
	deed := store.Deed{Name: name, State: store.Passed, Kind: string(chat.Alert), At: a.now}
	if !seen {
		deed.State = store.Intended
		v := say.AdviceOf(h, advice)
		text := a.in().Alert(v, a.room.mentioned())
		if both {
			text = a.in().Both(v, other, a.room.mentioned())
		}
		post := a.dayPost(chat.Alert, name, text)
		post.Thread, post.Due = a.m.Thread, false
		if post.Files, err = lookback.DriftFiles(say.In(h.Bar.Language), h, a.coffee, advice.Shot, a.now); err != nil {
			return nil, nothing, err
		}
		outs = []Out{{Post: post, deed: &deedRef{bar: a.bar.ID, day: a.day(), name: name}}}
	}
	return outs, func(tx *store.Tx) error {
		if both {
			if err := tx.TellOnce(a.bar.ID, a.togetherKey(), a.now); err != nil {
				return err
			}
		}
		return tx.PutDeed(a.bar.ID, a.day(), deed)
	}, nil
}

// leaning returns another coffee that was called dialled in and has moved since,
// or is about to, as the one that an advice is on; without one, none.
func (t *turn) leaning(r *room, a advisor.Advice) (bar.Coffee, error) {
	if a.State != advisor.Drifting {
		return bar.Coffee{}, nil
	}
	for _, c := range r.onBar() {
		if c.ID == a.Coffee {
			continue
		}
		o, err := t.look(c)
		if err != nil {
			return bar.Coffee{}, err
		}
		if o.Leans == a.Drift.Way() {
			return c, nil
		}
	}
	return bar.Coffee{}, nil
}

// mentioned returns the names of those who want to be told.
func (r *room) mentioned() []string {
	var names []string
	for _, p := range r.people {
		if p.Mention && p.Name != "" {
			names = append(names, say.Clip(p.Name))
		}
	}
	return names
}
