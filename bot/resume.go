package bot

import (
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/store"
)

// lateAtMost is the age at which an answer is no longer worth sending.
const lateAtMost = 12 * time.Hour

// PendingChannels returns the channels of bars with replies that were written
// and perhaps not sent when the program last stopped.
func (b *Bot) PendingChannels() ([]string, error) {
	var channels []string
	err := b.tools.store.View(func(tx *store.Tx) error {
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
func (b *Bot) Resume(channel string) []Out {
	t, ok, err := b.looking(chat.Message{Channel: channel})
	if err != nil || !ok {
		return nil
	}
	var replies []store.Reply
	err = b.tools.store.View(func(tx *store.Tx) error {
		replies, err = tx.PendingReplies(t.bar.ID)
		return err
	})
	if err != nil {
		b.tools.log.Error("resume", "channel", channel, "err", err)
		return nil
	}
	var outs []Out
	for _, reply := range replies {
		out, ok, err := b.late(t, reply)
		if err != nil {
			b.tools.log.Error("resume", "cause", reply.Cause, "err", err)
		}
		if ok && err == nil {
			outs = append(outs, out)
			continue
		}
		if t.now.Sub(reply.At) > lateAtMost {
			b.tools.log.Warn("reply given up", "cause", reply.Cause, "of", reply.At)
		}
		reply.State = store.Sent
		if err := b.tools.store.Update(func(tx *store.Tx) error { return tx.PutReply(t.bar.ID, reply) }); err != nil {
			b.tools.log.Error("resume", "cause", reply.Cause, "err", err)
		}
	}
	return outs
}

// LeftBehind makes the answer to a message from how things stand, if one is kept and
// not sent.
func (b *Bot) LeftBehind(m chat.Message) []Out {
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
	return []Out{out}
}

// unmade says that an answer could not be made, if that is why there is none.
func (b *Bot) unmade(cause string, err error) []Out {
	if err != nil {
		b.tools.log.Warn("an answer cannot be made", "cause", cause, "err", err)
	}
	return nil
}

// late makes a reply anew. It is false for one that has nothing to say any
// more.
func (b *Bot) late(looking *turn, reply store.Reply) (Out, bool, error) {
	t := &turn{tools: b.tools, bar: looking.bar, now: reply.At, m: chat.Message{ID: reply.Cause, Channel: looking.m.Channel, At: reply.At}}
	if looking.now.Sub(reply.At) > lateAtMost {
		return Out{}, false, nil
	}
	e, err := t.stored(reply.Entry)
	if err != nil {
		return Out{}, false, err
	}
	t.who.ID = e.Person
	post, err := t.answerAnew(e, chat.KindOf(reply.Kind))
	if err != nil || post.Text == "" {
		return Out{}, false, err
	}
	post.Again = true
	return Out{Post: post, Edits: reply.Post}, true, nil
}

// answerAnew makes the answer to an entry as things stand, which was of a kind.
func (t *turn) answerAnew(e bar.Entry, was chat.PostKind) (chat.Post, error) {
	lead := ""
	if e.Deleted {
		lead = t.in().TakenOut(e)
	}
	switch w := e.What.(type) {
	case bar.Shot:
		if was == chat.Question {
			if post, asks, err := t.editAnew(e); asks || err != nil {
				return post, err
			}
		}
		newer, err := t.newer(e, w.Coffee)
		if newer || err != nil {
			return t.post(chat.Recorded, t.in().Receipt(w, lead)), err
		}
		if !isOpen(e) {
			return t.again(w.Coffee, lead)
		}
		d, err := t.deviceOf(w.Device)
		if err != nil {
			return chat.Post{}, err
		}
		post, err := t.again(w.Coffee, t.in().Posted(d))
		return asksWhose(t.in(), post, e.ID), err
	case bar.Dialled:
		return t.again(w.Coffee, lead)
	case bar.Words:
		shot, err := t.stored(w.Shot)
		if err != nil {
			return chat.Post{}, err
		}
		s, _ := shot.What.(bar.Shot)
		return t.again(s.Coffee, lead)
	case bar.Held:
		if e.Deleted {
			return t.post(chat.Recorded, lead), nil
		}
		return t.askAnew(e)
	case bar.Layers, bar.Sips:
		if !e.Deleted {
			return t.layersAnew(e)
		}
	case bar.Told, bar.Setting:
	}
	return t.post(chat.Recorded, lead), nil
}

// newer reports whether there is a newer shot of a coffee, whose answer has the
// advice.
func (t *turn) newer(than bar.Entry, c bar.CoffeeID) (bool, error) {
	r, err := t.room()
	if err != nil {
		return false, err
	}
	_, newer := r.newest(func(e bar.Entry, s bar.Shot) bool { return s.Coffee == c && earlier(than, e) })
	return newer, nil
}

// askAnew asks again what a message meant.
func (t *turn) askAnew(e bar.Entry) (chat.Post, error) {
	r, err := t.room()
	if err != nil {
		return chat.Post{}, err
	}
	r.who.ID = e.Person
	if meaning, err := parse.Message(e.Raw, r.vocab()); err == nil {
		if set, ok := meaning.(parse.Set); ok {
			return t.setQuestion(r, e, set), nil
		}
	}
	p, ok, err := readHeld(e, r.vocab())
	if err != nil || !ok {
		return chat.Post{}, err
	}
	r.recent = slices.DeleteFunc(r.recent, func(o bar.Entry) bool { return !earlier(o, e) })
	question, err := t.shotQuestion(r, p, false)
	if question == nil || err != nil {
		return t.coffeePost(r, e.ID), err
	}
	return question(e.ID), nil
}
