package bot

import (
	"time"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/cups"
	"shothand/bot/device"
	"shothand/bot/recent"
	"shothand/bot/say/setup"
	"shothand/bot/shots"
	"shothand/bot/turn"
	"shothand/store"
)

// lateAtMost is the age at which an answer is no longer worth sending.
const lateAtMost = 12 * time.Hour

// PendingChannels returns the channels of bars with replies that were written
// and perhaps not sent when the program last stopped.
func (b *Bot) PendingChannels() ([]string, error) {
	var channels []string
	err := b.tools.Store.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		channels = nil
		for _, bar := range bars {
			replies, err := tx.PendingReplies(bar.ID)
			if err != nil {
				return err
			}
			if len(replies) == 0 {
				continue
			}
			channel, err := tx.ChannelOf(bar.ID)
			if err != nil {
				return err
			}
			channels = append(channels, channel)
		}
		return err
	})
	return channels, err
}

// Resume returns the replies of a channel that may not have been sent, made
// anew from how things stand. The service finds out which are there already.
func (b *Bot) Resume(channel string) []turn.Out {
	t, ok, err := b.looking(chat.Message{Channel: channel})
	if err != nil || !ok {
		return nil
	}
	var replies []store.Reply
	err = b.tools.Store.View(func(tx *store.Tx) error {
		replies, err = tx.PendingReplies(t.Bar.ID)
		return err
	})
	if err != nil {
		b.tools.Log.Error("resume", "channel", channel, "err", err)
		return nil
	}
	var outs []turn.Out
	for _, reply := range replies {
		out, ok, err := b.late(t, reply)
		if err != nil {
			b.tools.Log.Error("resume", "cause", reply.Cause, "err", err)
		}
		if ok && err == nil {
			outs = append(outs, out)
			continue
		}
		if t.Now.Sub(reply.At) > lateAtMost {
			b.tools.Log.Warn("reply given up", "cause", reply.Cause, "of", reply.At)
		}
		reply.State = store.Sent
		if err := b.tools.Store.Update(func(tx *store.Tx) error { return tx.PutReply(t.Bar.ID, reply) }); err != nil {
			b.tools.Log.Error("resume", "cause", reply.Cause, "err", err)
		}
	}
	return outs
}

// LeftBehind makes the answer to a message from how things stand, if one is kept and
// not sent.
func (b *Bot) LeftBehind(m chat.Message) []turn.Out {
	t, ok, err := b.looking(chat.Message{Channel: m.Channel})
	if err != nil || !ok {
		return b.unmade(m.ID, err)
	}
	reply, kept, err := b.reply(m.Channel, m.ID)
	if err != nil || !kept || reply.State != store.Pending {
		return b.unmade(m.ID, err)
	}
	out, ok, err := b.late(t, reply)
	if err != nil || !ok {
		return b.unmade(m.ID, err)
	}
	out.Again = false // it was never sent; send knows if another was
	return []turn.Out{out}
}

// unmade says that an answer could not be made, if that is why there is none.
func (b *Bot) unmade(cause string, err error) []turn.Out {
	if err != nil {
		b.tools.Log.Warn("an answer cannot be made", "cause", cause, "err", err)
	}
	return nil
}

// late makes a reply anew. It is false for one that has nothing to say any
// more.
func (b *Bot) late(looking *turn.Turn, reply store.Reply) (turn.Out, bool, error) {
	t := &turn.Turn{Tools: b.tools, Bar: looking.Bar, Now: reply.At, Msg: chat.Message{ID: reply.Cause, Channel: looking.Msg.Channel, At: reply.At}}
	if looking.Now.Sub(reply.At) > lateAtMost {
		return turn.Out{}, false, nil
	}
	e, err := t.Stored(reply.Entry)
	if err != nil {
		return turn.Out{}, false, err
	}
	t.Who.ID = e.Person
	post, err := answerAnew(t, e, chat.KindOf(reply.Kind))
	if err != nil || post.Text == "" {
		return turn.Out{}, false, err
	}
	post.Again = true
	return turn.Out{Post: post, Edits: reply.Post}, true, nil
}

// answerAnew makes the answer to an entry as things stand, which was of a kind.
func answerAnew(t *turn.Turn, e bar.Entry, was chat.PostKind) (chat.Post, error) {
	lead := ""
	if e.Deleted {
		lead = t.Lang().TakenOut(e)
	}
	switch w := e.What.(type) {
	case bar.Shot:
		if was == chat.Question {
			if post, asks, err := shots.EditAnew(t, e); asks || err != nil {
				return post, err
			}
		}
		newer, err := newer(t, e, w.Coffee)
		if newer || err != nil {
			return t.Post(chat.Recorded, t.Lang().Receipt(w, lead)), err
		}
		if !recent.IsOpen(e) {
			return answer.Again(t, w.Coffee, lead)
		}
		d, err := device.Of(t, w.Device)
		if err != nil {
			return chat.Post{}, err
		}
		post, err := answer.Again(t, w.Coffee, setup.In(t.Lang()).Posted(d))
		return answer.AsksWhose(t.Lang(), post, e.ID), err
	case bar.Dialled:
		return answer.Again(t, w.Coffee, lead)
	case bar.Words:
		shot, err := t.Stored(w.Shot)
		if err != nil {
			return chat.Post{}, err
		}
		s, _ := shot.What.(bar.Shot)
		return answer.Again(t, s.Coffee, lead)
	case bar.Held:
		if e.Deleted {
			return t.Post(chat.Recorded, lead), nil
		}
		return shots.AskAnew(t, e)
	case bar.Layers, bar.Sips:
		if !e.Deleted {
			return cups.LayersAnew(t, e)
		}
	case bar.Told, bar.Setting:
	}
	return t.Post(chat.Recorded, lead), nil
}

// newer reports whether there is a newer shot of a coffee, whose answer has the
// advice.
func newer(t *turn.Turn, than bar.Entry, c bar.CoffeeID) (bool, error) {
	r, err := t.Book()
	if err != nil {
		return false, err
	}
	_, newer := r.Newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c && recent.Earlier(than, e) })
	return newer, nil
}
