package bot

import (
	"crypto/subtle"
	"errors"
	"strconv"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/parse"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// A PostAnswer is what came of a post from outside the chat.
type PostAnswer struct {
	Recorded bool             // the shot is in the book, by this post or by an earlier one
	Repeated bool             // by an earlier one
	Refused  bool             // it cannot be taken, and Text says why; to send it again is of no use
	Text     string           // what was said in the chat, or would be
	Advice   any              // as programs read it, or nil
	Shot     *turn.PostedShot // as it stands in the book, or nil
}

// Message is what a device posts from outside the chat, as a message.
func (from Sender) Message(text string, at time.Time) chat.Message {
	m := chat.Message{
		Kind: chat.Text, Channel: from.channel, Device: true, At: at, Text: text,
		From: chat.Person{ID: device.OutsidePrefix + strconv.FormatUint(from.Device, 10)},
	}
	m.ID = m.From.ID + " " + strconv.FormatInt(at.UnixNano(), 36)
	return m
}

// AnswerOf makes the answer to a post of what it came to, and whether that was
// nothing through a fault of ours.
func AnswerOf(outs []turn.Out) (a PostAnswer, failed bool) {
	if len(outs) == 0 { // the device was taken out while its post waited
		return PostAnswer{Refused: true, Text: string(setup.NoShotPosted)}, false
	}
	first := outs[0]
	a = PostAnswer{Text: first.Text, Advice: first.Data, Repeated: first.Repeated, Shot: first.Shot}
	a.Recorded = first.Shot != nil || first.Repeated && first.Kind == chat.Recorded
	if first.Err != nil {
		a.Refused = theirs(first.Err)
	}
	return a, !a.Refused && first.Err != nil
}

// theirs reports whether an error is for whoever sent something, and not for us.
func theirs(err error) bool {
	_, read := errors.AsType[parse.Mistake](err)
	_, said := errors.AsType[turn.Mistake](err)
	return read || said
}

// A Sender is a device that has shown its secret.
type Sender struct {
	Bar     uint64
	Device  uint64
	channel string
}

// Admit returns the device whose secret was shown. It is false for one that
// nobody has, or that was taken back.
func (b *Bot) Admit(secret string) (from Sender, ok bool) {
	here, rest, _ := strings.Cut(secret, ".")
	number, _, _ := strings.Cut(rest, ".")
	h, err1 := strconv.ParseUint(here, 10, 64)
	id, err2 := strconv.ParseUint(number, 10, 64)
	if err1 != nil || err2 != nil {
		return Sender{}, false
	}
	err := b.tools.Store.View(func(tx *store.Tx) (err error) {
		if from.channel, err = tx.ChannelOf(bar.ID(h)); err != nil {
			return err
		}
		all, err := tx.Devices(bar.ID(h))
		for _, d := range all {
			if uint64(d.ID) == id && !d.Retired && d.Secret != "" {
				ok = subtle.ConstantTimeCompare([]byte(d.Secret), []byte(device.Hashed(secret))) == 1
			}
		}
		return err
	})
	from.Bar, from.Device = h, id
	return from, ok && err == nil
}
