package bot

import (
	"shothand/advisor/bar"
	"shothand/bot/turn"
	"shothand/store"
)

// Thread returns the thread into which it goes.
func (b *Bot) Thread(o turn.Out) string {
	if o.InThread {
		return b.threadOf(*o.Deed)
	}
	return o.Thread
}

// Sent notes as what a post was sent: a deed of the day, or the reply to a message.
func (b *Bot) Sent(channel string, o turn.Out, isReply bool, id string) error {
	switch {
	case o.Deed != nil:
		return b.done(*o.Deed, id)
	case isReply:
		return b.noteSent(channel, o, id)
	}
	return nil
}

// noteSent notes as what a reply was sent. If its message has been edited
// meanwhile, there is another one to be sent.
func (b *Bot) noteSent(channel string, out turn.Out, id string) error {
	var here bar.ID
	kept := false
	err := b.inBar(channel, func(tx *store.Tx, id bar.ID) (err error) {
		here = id
		kept, err = tx.Replied(id, out.Cause)
		return err
	})
	if err != nil || !kept {
		return err // an answer that is not kept costs no write
	}
	return b.tools.Store.Update(func(tx *store.Tx) error {
		reply, kept, err := tx.ReplyOf(here, out.Cause)
		if err != nil || !kept {
			return err
		}
		if reply.Post = id; reply.At.Equal(out.At) {
			reply.State = store.Sent
		}
		return tx.PutReply(here, reply)
	})
}

// reply returns the reply that is kept of a cause in a channel.
func (b *Bot) reply(channel, cause string) (r store.Reply, kept bool, err error) {
	err = b.inBar(channel, func(tx *store.Tx, here bar.ID) error {
		r, kept, err = tx.ReplyOf(here, cause)
		return err
	})
	return r, kept, err
}
