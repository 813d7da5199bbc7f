package bot

import (
	"errors"
	"strconv"
	"time"

	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
)

// A PostAnswer is what came of a post from outside the chat.
type PostAnswer struct {
	Recorded bool        // the shot is in the book, by this post or by an earlier one
	Repeated bool        // by an earlier one
	Refused  bool        // it cannot be taken, and Text says why; to send it again is of no use
	Text     string      // what was said in the chat, or would be
	Advice   any         // as programs read it, or nil
	Shot     *PostedShot // as it stands in the book, or nil
}

// Message is what a device posts from outside the chat, as a message.
func (from Sender) Message(text string, at time.Time) chat.Message {
	m := chat.Message{
		Kind: chat.Text, Channel: from.channel, Device: true, At: at, Text: text,
		From: chat.Person{ID: outsidePrefix + strconv.FormatUint(from.Device, 10)},
	}
	m.ID = m.From.ID + " " + strconv.FormatInt(at.UnixNano(), 36)
	return m
}

// AnswerOf makes the answer to a post of what it came to, and whether that was
// nothing through a fault of ours.
func AnswerOf(outs []Out) (a PostAnswer, failed bool) {
	if len(outs) == 0 { // the device was taken out while its post waited
		return PostAnswer{Refused: true, Text: string(say.NoShotPosted)}, false
	}
	first := outs[0]
	a = PostAnswer{Text: first.Text, Advice: first.Data, Repeated: first.again, Shot: first.shot}
	a.Recorded = first.shot != nil || first.again && first.Kind == chat.Recorded
	if first.err != nil {
		a.Refused = theirs(first.err)
	}
	return a, !a.Refused && first.err != nil
}

// theirs reports whether an error is for whoever sent something, and not for us.
func theirs(err error) bool {
	_, read := errors.AsType[parse.Mistake](err)
	_, said := errors.AsType[mistake](err)
	return read || said
}
