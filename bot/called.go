package bot

import (
	"fmt"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/store"
)

// askCall asks, once for a shot, whether a coffee is dialled in that does not
// look it. Whoever says it again or taps it is believed. It returns nothing where
// there is nothing to ask.
func (t *turn) askCall(c bar.Coffee, shot bar.Entry) ([]Out, error) {
	key := callKey(shot.ID)
	asked, err := t.toldOnce(key)
	if err != nil || asked || t.m.Kind == chat.Pressed {
		return nil, err
	}
	h, err := t.history(c.ID)
	if err != nil {
		return nil, err
	}
	o, _ := t.outlook(h, c.ID, t.now)
	why := t.in().Uncalled(c, shot.What.(bar.Shot), o.State == advisor.Drifting)
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

// callKey marks that a call of a shot's coffee was asked about.
func callKey(shot bar.EntryID) string { return fmt.Sprintf("call %d", shot) }
