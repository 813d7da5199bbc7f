package answer

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// lookedBack is how many earlier answers are looked at for buttons that are
// over.
const lookedBack = 8

// supersede notes that the buttons under earlier advice on a coffee are over,
// and returns what takes them away: of today, and but for those under the post
// that is edited.
func supersede(t *turn.Turn, tx *store.Tx, r *recent.Book, coffee bar.CoffeeID, edited string) ([]turn.Out, error) {
	var outs []turn.Out
	looked := 0
	for _, e := range slices.Backward(r.Recent) {
		if looked == lookedBack || e.Day != r.Day {
			break
		}
		if e.Message == "" || e.Message == t.Msg.ID || r.CoffeeOf(e) != coffee {
			continue
		}
		looked++
		reply, live, err := tx.LiveReply(t.Bar.ID, e.Message)
		if err != nil {
			return nil, err
		}
		if !live || reply.Post == "" || reply.Post == chat.Ticked || reply.Post == edited {
			continue
		}
		reply.Live = false
		if err := tx.PutReply(t.Bar.ID, reply); err != nil {
			return nil, err
		}
		outs = append(outs, turn.Out{Post: chat.Post{Channel: t.Msg.Channel}, Edits: reply.Post, Bare: true})
	}
	return outs, nil
}

// passing reports whether the buttons under an advice are over once there is a
// newer one: not those that ask which way a dial goes, or teach a word.
func passing(v say.Advice, notes say.Notes) bool {
	return proposes(v) && len(adviceTaps(v, notes)) > 0 && !notes.Direction && len(notes.Unread) == 0
}
