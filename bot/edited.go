package bot

import (
	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/cups"
	"shothand/bot/parse"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/shots"
	"shothand/bot/turn"
)

// edited puts an entry right whose message was edited. What the edit does not
// say again stays as it was resolved.
func edited(t *turn.Turn) ([]turn.Out, error) {
	e, reply, ok, err := original(t)
	switch {
	case err != nil:
		return nil, err
	case !ok:
		return text(t) // it had been chat, or was never seen
	}
	if e.Raw == t.Msg.Text { // brought again, or shown anew without a change
		return nil, nil
	}
	if told, err := told(t); err != nil || told {
		return nil, err
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	switch w := e.What.(type) {
	case bar.Setting, bar.Layers:
		return nil, turn.Mistake(t.WriterLang().Say(say.EditedCommand))
	case bar.Sips:
		return cups.EditedSips(t, r, e, w)
	case bar.Shot, bar.Words, bar.Told, bar.Dialled, bar.Held:
	}
	e.Raw, e.Deleted = t.Msg.Text, false
	shot, ok, err := resolve.ReadShot(t.Msg.Text, r.Vocab())
	switch {
	case err != nil:
		return nil, err
	case ok:
		return shots.EditedShot(t, r, e, shot, reply, "")
	}
	meaning, err := parse.Message(t.Msg.Text, r.Vocab())
	if err != nil {
		return nil, err
	}
	switch w := meaning.(type) {
	case parse.Words:
		if s, shot := e.What.(bar.Shot); shot { // the numbers stand, the words are new
			s.Words, s.Unread = w.Words, w.Unread
			e.What = s
			return answer.GiveCorrected(t, r, e, s.Coffee, t.Lang().Say(say.Corrected), reply)
		}
		if _, ok := e.What.(bar.Words); ok {
			return shots.EditedWords(t, r, e, w, reply)
		}
	case parse.Happened:
		if _, ok := e.What.(bar.Told); ok {
			return shots.EditedTold(t, r, e, w, reply)
		}
	case parse.Set:
		if told, ok := e.What.(bar.Told); ok && told.Event == bar.Moved {
			if g, ok := r.Settable(w); ok {
				outs, err := shots.PutSet(t, r, e, w, g)
				if err == nil {
					outs[0].Edits = reply
				}
				return outs, err
			}
		}
	case parse.Shot, parse.Call, parse.Correction, parse.CallIt, parse.Chatter:
	}
	return shots.TakeOut(t, r, e, reply) // it is none any more
}
