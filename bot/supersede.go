package bot

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// lookedBack is how many earlier answers are looked at for buttons that are
// over.
const lookedBack = 8

// supersede notes that the buttons under earlier advice on a coffee are over,
// and returns what takes them away: of today, and but for those under the post
// that is edited.
func (t *turn) supersede(tx *store.Tx, r *room, coffee bar.CoffeeID, edited string) ([]Out, error) {
	var outs []Out
	looked := 0
	for _, e := range slices.Backward(r.recent) {
		if looked == lookedBack || e.Day != r.day {
			break
		}
		if e.Message == "" || e.Message == t.m.ID || r.coffeeOf(e) != coffee {
			continue
		}
		looked++
		reply, _, err := tx.ReplyOf(t.bar.ID, e.Message)
		if err != nil {
			return nil, err
		}
		if !reply.Live || reply.Post == "" || reply.Post == chat.Ticked || reply.Post == edited {
			continue
		}
		reply.Live = false
		if err := tx.PutReply(t.bar.ID, reply); err != nil {
			return nil, err
		}
		outs = append(outs, Out{Post: chat.Post{Channel: t.m.Channel}, Edits: reply.Post, Bare: true})
	}
	return outs, nil
}

// passing reports whether the buttons under an advice are over once there is a
// newer one: not those that ask which way a dial goes, or teach a word.
func passing(v say.Advice, notes say.Notes) bool {
	return proposes(v) && len(adviceTaps(v, notes)) > 0 && !notes.Direction && len(notes.Unread) == 0
}

// coffeeOf returns the coffee that a shot, or words about one, is of; else none.
func (r *room) coffeeOf(e bar.Entry) bar.CoffeeID {
	switch w := e.What.(type) {
	case bar.Shot:
		return w.Coffee
	case bar.Words:
		shot, ok := r.newest(func(other bar.Entry, _ bar.Shot) bool { return other.ID == w.Shot })
		if ok {
			return shot.What.(bar.Shot).Coffee
		}
	case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
	}
	return 0
}
