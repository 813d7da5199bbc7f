package bot

import (
	"shothand/bot/chat"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// pressForget is the state of the button by which people are forgotten:
// whoever presses it, and nobody else.
const pressForget = "forget"

// forget asks the person who wrote whether they mean it.
func forget(t *turn.Turn) ([]turn.Out, error) {
	p := t.PrivatePost(chat.Question, setup.In(t.Lang()).ForgetQuestion(t.Msg.From.Name))
	p.Buttons = []chat.Button{{Label: t.Lang().Say(setup.ForgetLabel), State: pressForget}}
	return []turn.Out{{Post: p}}, nil
}

// forgetMe takes the name of the person who pressed out of every bar they are
// known in, and writes the file anew so that it is on no page of it.
func forgetMe(t *turn.Turn) ([]turn.Out, error) {
	known := false
	err := t.Update(func(tx *store.Tx) error {
		known = false
		bars, err := tx.Bars()
		for _, bar := range bars {
			forgotten, err := tx.Forget(bar.ID, t.Msg.From.ID)
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
		t.Unlook()
		if _, _, err := t.Store.Compact(); err != nil {
			return nil, err
		}
	}
	return t.Private(t.Lang().Say(setup.Forgotten))
}
