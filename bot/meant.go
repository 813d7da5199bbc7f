package bot

import (
	"errors"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// A misnamed is a mistake about a name that nothing has.
type misnamed struct {
	mistake
	said, right string // as typed, and what was probably meant, or empty
}

// misnamedOf returns the mistake that text tells of a name.
func misnamedOf(text, said string, all []string) error {
	return misnamed{mistake(text), said, say.Nearest(said, all)}
}

// misspelt returns the piece of a command that a mistake is about and what it
// should probably be; both are empty where nothing is close.
func misspelt(err error) (typed, right string) {
	if m, ok := errors.AsType[parse.Mistake](err); ok {
		return say.Misspelt(m)
	}
	if m, ok := errors.AsType[misnamed](err); ok {
		return m.said, m.right
	}
	return "", ""
}

// mendedLine returns a command as it was probably meant, and which piece of it that
// makes the difference; both are empty where nothing is close.
func mendedLine(m chat.Message, err error) (line, piece string) {
	typed, right := misspelt(err)
	line = m.Text
	if m.Kind == chat.Called {
		line = parse.FormatCommand(m.Command)
	}
	at := strings.Index(strings.ToLower(line), strings.ToLower(typed))
	mistaken, plain := errors.AsType[parse.Mistake](err)
	plain = plain && mistaken.Kind == parse.NoCoffee
	if typed == "" || right == "" || at < 0 || !plain && !strings.HasPrefix(line, "/") || m.Kind != chat.Called && m.Kind != chat.Text {
		return "", ""
	}
	piece = strings.TrimSuffix(right, ":")
	before, after := line[:at], line[at+len(typed):]
	if strings.Contains(right, " ") && strings.HasSuffix(before, ":") {
		right = strconv.Quote(right)
	}
	if line = before + right + after; plain {
		return line, piece
	}
	c, err := parse.Command(line)
	if err == nil {
		_, err = parse.Settle(c)
	}
	if err != nil {
		return "", ""
	}
	return line, piece
}

// pressMeant is what the state of a button begins with that does a command as it
// was meant; behind it stands the message it was typed in.
const pressMeant = "meant"

// meantKey is the cause under which the command is kept that a person probably
// meant. It may be longer than the state of a button.
func meantKey(who bar.PersonID) string { return "meant " + idText(who) }

// askMeant puts a button under the answer to a misspelt command that does it as it
// was meant.
func (t *turn) askMeant(post chat.Post, err error) (chat.Post, error) {
	line, piece := mendedLine(t.m, err)
	if line == "" || t.bar.ID == 0 || t.who.ID == 0 {
		return post, nil
	}
	state := pressMeant + ":" + t.m.ID
	kept := store.Reply{
		Cause: meantKey(t.who.ID), Kind: chat.Question.String(), State: store.Sent, At: t.now, Thread: t.m.Thread,
		Taps: []store.Tap{{Label: line, State: state}},
	}
	post.Kind, post.Buttons = chat.Question, []chat.Button{{Label: say.Clip(piece), State: state}}
	err = t.update(func(tx *store.Tx) error { return tx.PutReply(t.bar.ID, kept) })
	return post, errors.Join(err, t.putAsked(t.who.ID, post.Buttons))
}

// takeMeant takes a message in free text as it was meant.
func (t *turn) takeMeant() ([]Out, error) {
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	meaning, err := parse.Message(t.m.Text, r.vocab())
	if err != nil {
		return nil, err
	}
	outs, err := t.take(r, meaning)
	return outs, errors.Join(err, t.putAsked(t.who.ID, nil))
}

// pressMeant does a command as it was meant. A state without a message is a no.
func (t *turn) pressMeant(message string) ([]Out, error) {
	if message == "" {
		return t.say(chat.Info, t.in().Say(say.NothingDone)), nil
	}
	var kept store.Reply
	err := t.see(func(tx *store.Tx) (err error) {
		if tx.Seen(t.bar.ID, t.m.ID) {
			return store.ErrSeen
		}
		kept, _, err = tx.ReplyOf(t.bar.ID, meantKey(t.who.ID))
		return err
	})
	if err != nil {
		return nil, err
	}
	if len(kept.Taps) == 0 || kept.Taps[0].State != pressMeant+":"+message {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	if t.m.Text = kept.Taps[0].Label; !strings.HasPrefix(t.m.Text, "/") {
		return t.takeMeant()
	}
	c, err := parse.Command(t.m.Text)
	if err != nil {
		return nil, err
	}
	return t.command(c)
}
