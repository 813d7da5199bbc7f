package bot

import (
	"math"
	"strconv"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// pressStood says where the dial stood in the last shots, where nobody had said so.
const pressStood = "stood"

// stoodButtons are the places where the dial may stand.
func stoodButtons(v say.Advice) []chat.Button {
	var list []chat.Button
	for _, x := range v.Stands[max(0, len(v.Stands)-maxButtons):] {
		arg := strconv.FormatFloat(float64(x), 'g', -1, 64)
		list = append(list, chat.Button{Label: v.Position(float64(x)), State: pressState(pressStood, v.Shot, arg)})
	}
	return list
}

// pressStood puts the dial of the last shots where it stood, as far as they are
// believed to have been pulled beyond that.
func (t *turn) pressStood(r *room, e bar.Entry, arg string) ([]Out, error) {
	x, err := strconv.ParseFloat(arg, 64)
	last, ok := e.What.(bar.Shot)
	if err != nil || !ok || math.IsNaN(x) {
		return nil, mistake(say.OldButton)
	}
	g, ok := r.grinder(last.Grinder)
	if !ok || !g.Holds(bar.Dial(x)) {
		return nil, mistake(say.OldButton)
	}
	stood := bar.Dial(x)
	changed := r.atOne(e, last, stood)
	err = t.update(func(tx *store.Tx) error {
		for _, e := range changed {
			if err := tx.PutEntry(t.bar.ID, e); err != nil {
				return err
			}
		}
		return tx.MarkSeen(t.bar.ID, t.m.ID, t.now)
	})
	if err != nil {
		return nil, err
	}
	post, err := t.again(last.Coffee, t.in().StoodIn(g, stood, len(changed)))
	return []Out{{Post: post}}, err
}

// atOne returns the shot, and those before it that nobody said the dial of and that
// are believed to have been pulled beyond where it stood, as they were then.
func (r *room) atOne(e bar.Entry, last bar.Shot, at bar.Dial) []bar.Entry {
	shots := r.shots(func(o bar.Entry, s bar.Shot) bool {
		return s.Coffee == last.Coffee && s.Grinder == last.Grinder && o.Day == e.Day && !earlier(e, o)
	})
	way := last.Grind.X - at
	var changed []bar.Entry
	for _, o := range shots { // newest first
		s := o.What.(bar.Shot)
		if !s.Grind.From.Supposed() || o.ID != e.ID && !((s.Grind.X-at)*way > 0) {
			break
		}
		s.Grind, s.Turned = bar.Value[bar.Dial]{X: at, From: bar.Said}, 0
		o.What = s
		changed = append(changed, o)
	}
	return changed
}
