package bot

import (
	"cmp"
	"errors"
	"regexp"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
	"shothand/store"
)

// A shot that was refused makes no entry. What puts it right just after is of that shot
// and not of the one before it, so it is kept for some minutes.

// refusedKey is the cause under which it is kept.
func refusedKey(who bar.PersonID) string { return "refused " + turn.IDText(who) }

// keepRefused keeps a message whose shot was refused for its numbers.
func keepRefused(t *turn.Turn, err error) error {
	m, ok := errors.AsType[parse.Mistake](err)
	shot := m.Kind == parse.Impossible || m.Kind == parse.Unclear || m.Kind == parse.Several || m.Kind == parse.SeveralDials
	if !ok || !shot || t.Msg.Kind != chat.Text || t.Bar.ID == 0 || t.Who.ID == 0 || t.Msg.ReplyTo != "" || len(t.Msg.Text) > parse.MaxText {
		return nil
	}
	kept := store.Reply{
		Cause: refusedKey(t.Who.ID), Kind: chat.Error.String(), State: store.Sent, At: t.Now, Thread: t.Msg.Thread,
		Taps: []store.Tap{{Label: t.Msg.Text, State: m.What}},
	}
	return t.Update(func(tx *store.Tx) error { return tx.PutReply(t.Bar.ID, kept) })
}

// refused returns the text of this person's last message and what was refused of it, where
// nothing of theirs was recorded since.
func refused(t *turn.Turn, r *recent.Book) (text, what string, err error) {
	var kept store.Reply
	err = t.See(func(tx *store.Tx) (err error) {
		kept, _, err = tx.ReplyOf(t.Bar.ID, refusedKey(t.Who.ID))
		return err
	})
	if err != nil || len(kept.Taps) == 0 || t.Now.Sub(kept.At) > resolve.TasteWindow {
		return "", "", err
	}
	for _, e := range r.Recent {
		if e.Person == t.Who.ID && e.At.After(kept.At) {
			return "", "", nil
		}
	}
	return kept.Taps[0].Label, kept.Taps[0].State, nil
}

// refusedNumber finds the number in what was refused, "yield 360 g".
var refusedNumber = regexp.MustCompile(`^(dose|yield|time) ([0-9][0-9.,]*)`)

// mendRefused records a shot that was refused, with its number as it is put right; or
// refuses it again. It is false where nothing was refused just before.
func mendRefused(t *turn.Turn, r *recent.Book, meaning parse.Meaning) ([]turn.Out, bool, error) {
	p, ok := meaning.(parse.Correction)
	if _, chatter := meaning.(parse.Chatter); chatter {
		x, err := parse.Position(strings.TrimSpace(t.Msg.Text))
		p.Bare, ok = parse.Number{X: x, Said: true}, err == nil
	}
	if !ok || t.Msg.Kind != chat.Text || t.Msg.ReplyTo != "" || p.Which != (parse.Which{}) || p.Of != 0 || p.Yesterday || p.By != "" || p.Mine || p.Alone {
		return nil, false, nil
	}
	text, what, err := refused(t, r)
	if err != nil || text == "" {
		return nil, false, err
	}
	number := refusedNumber.FindStringSubmatch(what)
	if number == nil {
		_, err := parse.Message(text, r.Vocab())
		return nil, err != nil, err
	}
	labelled := map[string]parse.Number{"dose": p.Dose, "yield": p.Yield, "time": p.Time}[number[1]]
	if x := cmp.Or(p.Bare, labelled); x.Said {
		text = strings.Replace(text, number[2], strconv.FormatFloat(x.X, 'g', 6, 64), 1)
	}
	v := r.Vocab()
	meaning, err = parse.Message(text, v)
	if _, shot := meaning.(parse.Shot); err != nil || !shot {
		return nil, err != nil, err
	}
	t.Msg.Text = text
	outs, err := take(t, r, v, meaning)
	return outs, true, err
}
