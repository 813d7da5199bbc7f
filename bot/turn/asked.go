package turn

import (
	"errors"
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/store"
)

// AnswerWindow is how long a question can be answered by typing. Assumed.
const AnswerWindow = 15 * time.Minute

// AskedKey is the cause under which the last question to a person is kept.
func AskedKey(who bar.PersonID) string {
	return "asked " + IDText(who)
}

// Passed marks a question after which something else with buttons was said to the
// person: a number is no answer to it any more, it may be meant for those.
const Passed = "passed"

// KeepAsked writes down what the last question to a person can be answered with.
func (t *Turn) KeepAsked(tx *store.Tx, who bar.PersonID, buttons []chat.Button) error {
	asked := store.Reply{Cause: AskedKey(who), Kind: chat.Question.String(), State: store.Sent, At: t.Now, Thread: t.Msg.Thread}
	for _, b := range buttons {
		asked.Taps = append(asked.Taps, store.Tap{Label: b.Label, State: b.State})
	}
	if err := tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now); err != nil {
		return err
	}
	return tx.PutReply(t.Bar.ID, asked)
}

// KeepQuestion does so of a post with the entry that it is about, if it is a
// question to whoever wrote.
func (t *Turn) KeepQuestion(tx *store.Tx, p chat.Post) error {
	t.Kept = nil
	if p.Kind != chat.Question || len(p.Buttons) == 0 || t.Who.ID == 0 && !t.Msg.Device {
		return nil
	}
	t.Kept = slices.Clone(p.Buttons)
	return t.KeepAsked(tx, t.Who.ID, p.Buttons)
}

// An Asking is a question that can be answered by typing: to a person, or to
// whoever answers first, 0.
type Asking struct {
	Who    bar.PersonID
	Taps   []store.Tap
	Passed bool
}

// Asked returns what can be answered to the last questions, the newest first: to
// the person who writes and to anybody, or of the post that is answered.
func (t *Turn) Asked() (list []Asking, err error) {
	err = t.See(func(tx *store.Tx) error {
		if t.Msg.ReplyTo != "" {
			reply, found, err := tx.ReplyByPost(t.Bar.ID, t.Msg.ReplyTo)
			if err != nil || !found || reply.Entry == 0 {
				return err
			}
			e, err := tx.Entry(t.Bar.ID, reply.Entry)
			if err != nil {
				return err
			}
			asked, found, err := t.askedOf(tx, e.Person)
			if found && (e.Person != 0 || asks(asked, e.ID)) {
				list = []Asking{{e.Person, asked.Taps, false}}
			}
			return err
		}
		own, found1, err1 := t.askedOf(tx, t.Who.ID)
		any, found2, err2 := t.askedOf(tx, 0)
		list = nil
		if t.Asking = (store.Reply{}); found1 {
			t.Asking = own
		}
		if found1 && !own.At.Before(t.Now.Add(-AnswerWindow)) {
			list = append(list, Asking{t.Who.ID, own.Taps, own.Kind == Passed})
		}
		if found2 && !any.At.Before(t.Now.Add(-AnswerWindow)) {
			list = append(list, Asking{0, any.Taps, any.Kind == Passed})
		}
		if len(list) == 2 && any.At.After(own.At) {
			slices.Reverse(list)
		}
		return errors.Join(err1, err2)
	})
	return list, err
}

func (t *Turn) askedOf(tx *store.Tx, who bar.PersonID) (store.Reply, bool, error) {
	asked, found, err := tx.ReplyOf(t.Bar.ID, AskedKey(who))
	return asked, found && len(asked.Taps) > 0 && asked.Thread == t.Msg.Thread, err
}

// asks reports whether a question is about an entry.
func asks(q store.Reply, e bar.EntryID) bool {
	_, id, _, _ := ReadPress(q.Taps[0].State)
	return id == e
}

// Plain makes an answer comparable: without case, stops and the small words that
// people put around it.
func Plain(text string) string {
	low := strings.ToLower(strings.Join(strings.Fields(text), " "))
	low = strings.Trim(low, " .!,")
	for _, before := range []string{"it was ", "that was ", "it's ", "that's ", "was ", "still ", "at ", "the ", "i meant "} {
		low = strings.TrimPrefix(low, before)
	}
	return strings.Trim(strings.TrimSuffix(low, " please"), " .!,")
}
