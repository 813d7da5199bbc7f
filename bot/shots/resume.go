package shots

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
)

// AskAnew asks again what a message meant.
func AskAnew(t *turn.Turn, e bar.Entry) (chat.Post, error) {
	r, err := t.Book()
	if err != nil {
		return chat.Post{}, err
	}
	r.Who.ID = e.Person
	if meaning, err := parse.Message(e.Raw, r.Vocab()); err == nil {
		if set, ok := meaning.(parse.Set); ok {
			return setQuestion(t, r, e, set), nil
		}
	}
	p, ok, err := device.ReadHeld(e, r.Vocab())
	if err != nil || !ok {
		return chat.Post{}, err
	}
	r.Recent = slices.DeleteFunc(r.Recent, func(o bar.Entry) bool { return !recent.Earlier(o, e) })
	question, err := shotQuestion(t, r, p, false)
	switch {
	case question == nil && len(r.OnBar()) == 0:
		return resolve.DoubtPost(t, r, e.ID, p), err
	case question == nil || err != nil:
		return resolve.CoffeePost(t, r, e.ID), err
	}
	return question(e.ID), nil
}
