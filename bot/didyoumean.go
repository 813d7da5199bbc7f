package bot

import (
	"errors"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// misspelt returns the piece of a command that a mistake is about and what it
// should probably be; both are empty where nothing is close.
func misspelt(err error) (typed, right string) {
	if m, ok := errors.AsType[parse.Mistake](err); ok {
		if m.Kind == parse.Impossible {
			return tenfold(m.What)
		}
		return say.Misspelt(m)
	}
	if m, ok := errors.AsType[turn.Misnamed](err); ok {
		return m.Said, m.Right
	}
	return "", ""
}

// tenfold returns the number of what was refused, "yield 360 g", and the one that a point or
// a zero makes of it, where that is such as shots have, in g, g and s: common practice, no
// source.
func tenfold(what string) (typed, right string) {
	number := refusedNumber.FindStringSubmatch(what)
	if number == nil {
		return "", ""
	}
	x, err := strconv.ParseFloat(number[2], 64)
	usual := map[string][2]float64{"dose": {14, 22}, "yield": {20, 60}, "time": {15, 60}}[number[1]]
	for _, y := range []float64{x / 10, x * 10} {
		if err == nil && usual[0] <= y && y <= usual[1] {
			return number[2], strconv.FormatFloat(y, 'g', 6, 64)
		}
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
	plain = plain && (mistaken.Kind == parse.NoCoffee || mistaken.Kind == parse.Impossible && m.Kind == chat.Text)
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
func meantKey(who bar.PersonID) string { return "meant " + turn.IDText(who) }

// askMeant puts a button under the answer to a misspelt command that does it as it
// was meant.
func askMeant(t *turn.Turn, post chat.Post, err error) (chat.Post, error) {
	line, piece := mendedLine(t.Msg, err)
	if line == "" || t.Bar.ID == 0 || t.Who.ID == 0 {
		return post, nil
	}
	state := pressMeant + ":" + t.Msg.ID
	kept := store.Reply{
		Cause: meantKey(t.Who.ID), Kind: chat.Question.String(), State: store.Sent, At: t.Now, Thread: t.Msg.Thread,
		Taps: []store.Tap{{Label: line, State: state}},
	}
	post.Kind, post.Buttons = chat.Question, []chat.Button{{Label: say.Clip(piece), State: state}}
	t.Kept = nil
	err = t.Update(func(tx *store.Tx) error {
		asks := t.KeepAsked
		if t.Msg.Kind == chat.Text { // an edit of it may still be a shot
			asks = t.PutAsked
		}
		return errors.Join(tx.PutReply(t.Bar.ID, kept), asks(tx, t.Who.ID, post.Buttons))
	})
	return post, err
}

// takeMeant takes a message in free text as it was meant.
func takeMeant(t *turn.Turn) ([]turn.Out, error) {
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	v := r.Vocab()
	meaning, err := parse.Message(t.Msg.Text, v)
	if err != nil {
		return nil, err
	}
	outs, err := take(t, r, v, meaning)
	return outs, errors.Join(err, putAsked(t, t.Who.ID, nil))
}

// doMeant does a command as it was meant. A state without a message is a no.
func doMeant(t *turn.Turn, message string) ([]turn.Out, error) {
	if message == "" {
		return t.Says(chat.Info, t.Lang().Say(say.NothingDone)), nil
	}
	var kept store.Reply
	err := t.See(func(tx *store.Tx) (err error) {
		if tx.Seen(t.Bar.ID, t.Msg.ID) {
			return store.ErrSeen
		}
		kept, _, err = tx.ReplyOf(t.Bar.ID, meantKey(t.Who.ID))
		return err
	})
	if err != nil {
		return nil, err
	}
	if len(kept.Taps) == 0 || kept.Taps[0].State != pressMeant+":"+message {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	if t.Msg.Text = kept.Taps[0].Label; !strings.HasPrefix(t.Msg.Text, "/") {
		return takeMeant(t)
	}
	c, err := parse.Command(t.Msg.Text)
	if err != nil {
		return nil, err
	}
	return doCommand(t, c)
}
