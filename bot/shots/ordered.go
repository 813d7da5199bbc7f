package shots

import (
	"math"
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// ordered keeps that somebody was told to turn the dial otherwise than was advised, "go 3
// finer mara". It is noted once they say that it is done; until then nobody knows where the
// dial stands.
func ordered(t *turn.Turn, r *recent.Book, p parse.Set) ([]turn.Out, error) {
	last, g, ok := orderedOf(r, bar.Entry{At: t.Now}, p)
	if !ok {
		return nil, nil // talk
	}
	said, ok, err := t.AdviceOf(last.ID)
	if err != nil || !ok || said.Lever != bar.Grind || said.Followed || said.Voided || said.Grinder != g.ID {
		return nil, err
	}
	at, known := r.Stands(bar.Entry{At: t.Now}, g)
	to := p.Grind.On(g).X
	if said.Unit == advisor.DialUnit {
		to = float64(g.Turn(at, to))
	}
	if (known || said.Unit != advisor.DialUnit) && math.Abs(to-said.To) < 1e-6 {
		return nil, nil // as was advised
	}
	return resolve.Ask(t, r, func(e bar.EntryID) chat.Post {
		post := t.Post(chat.Question, t.Lang().OrderedQuestion(g, t.Msg.Text))
		post.Buttons = []chat.Button{
			{Label: t.Lang().Say(say.DidItLabel), State: turn.PressState(turn.PressShot, e, say.ShotYes)},
			{Label: t.Lang().Say(say.NoLabel), State: turn.PressState(turn.PressShot, e, say.ShotNo)},
		}
		return post
	})
}

// orderedOf returns the shot that an order follows, and the grinder that it is of.
func orderedOf(r *recent.Book, before bar.Entry, p parse.Set) (last bar.Entry, g bar.Grinder, ok bool) {
	last, ok = r.Newest(func(e bar.Entry, s bar.Shot) bool {
		return recent.Earlier(e, before) && (p.Coffee == 0 || s.Coffee == p.Coffee) && (p.Grinder == 0 || s.Grinder == p.Grinder)
	})
	if !ok || before.At.Sub(last.At) > resolve.TasteWindow {
		return last, g, false
	}
	g, ok = r.Grinder(last.What.(bar.Shot).Grinder)
	return last, g, ok
}

// orderDone returns the order that waits to be done, if there is one since the last shot.
func orderDone(r *recent.Book) (bar.Entry, bool) {
	for _, e := range slices.Backward(r.Recent) {
		switch e.What.(type) {
		case bar.Shot:
			if !e.Deleted {
				return e, false
			}
		case bar.Held:
			m, err := parse.Message(e.Raw, r.Vocab())
			if p, ok := m.(parse.Set); ok && err == nil && p.Order && !e.Deleted {
				return e, true
			}
		case bar.Told, bar.Words, bar.Dialled, bar.Setting, bar.Layers, bar.Sips:
		}
	}
	return bar.Entry{}, false
}
