package bot

import (
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// pressForget is the state of the button by which people are forgotten:
// whoever presses it, and nobody else.
const pressForget = "forget"

// forget asks the person who wrote whether they mean it.
func (t *turn) forget() ([]Out, error) {
	p := t.post(chat.Question, t.in().ForgetQuestion(t.m.From.Name))
	p.Private = true
	p.Buttons = []chat.Button{{Label: t.in().Say(say.ForgetLabel), State: pressForget}}
	return []Out{{Post: p}}, nil
}

// forgetMe takes the name of the person who pressed out of every bar they are
// known in, and writes the file anew so that it is on no page of it.
func (t *turn) forgetMe() ([]Out, error) {
	known := false
	err := t.update(func(tx *store.Tx) error {
		known = false
		bars, err := tx.Bars()
		for _, bar := range bars {
			forgotten, err := tx.Forget(bar.ID, t.m.From.ID)
			if err != nil {
				return err
			}
			known = known || forgotten
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	if known {
		t.unlook()
		if _, _, err := t.store.Compact(); err != nil {
			return nil, err
		}
	}
	return t.private(t.in().Say(say.Forgotten))
}
