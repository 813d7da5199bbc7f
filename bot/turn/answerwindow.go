package turn

import (
	"errors"
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// AnswerWindow is how long a question can be answered by typing. Assumed.
const AnswerWindow = 15 * time.Minute

// AskedKey is the cause under which the last question to a person is kept.
func AskedKey(who bar.PersonID) string {
	return "asked " + IDText(who)
}

// earlierKey is the cause under which the question before that is kept, or one that was put to
// somebody else about a shot of that person's.
func earlierKey(who bar.PersonID) string {
	return "asked before " + IDText(who)
}

// Closed marks a question after which something else with buttons was said to the
// person: a number is no answer to it any more, it may be meant for those.
const Closed = "passed"

// KeepAsked writes down what the last question to a person can be answered with,
// and that the message has been handled.
func (t *Turn) KeepAsked(tx *store.Tx, who bar.PersonID, buttons []chat.Button) error {
	if err := tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now); err != nil {
		return err
	}
	return t.PutAsked(tx, who, buttons)
}

// PutAsked writes down what the last question to a person can be answered with. One
// about something else that nobody has answered yet is kept as the one before.
func (t *Turn) PutAsked(tx *store.Tx, who bar.PersonID, buttons []chat.Button) error {
	before, found, err := t.askedOf(tx, AskedKey(who))
	if err != nil {
		return err
	}
	asked := t.asked(AskedKey(who), buttons)
	if found && len(buttons) > 0 && before.Taps[0].State != asked.Taps[0].State {
		before.Cause, before.Kind = earlierKey(who), Closed
		if err := tx.PutReply(t.Bar.ID, before); err != nil {
			return err
		}
	}
	return tx.PutReply(t.Bar.ID, asked)
}

// AskAlso lets a question be answered by somebody else too, whose shot it is about.
func (t *Turn) AskAlso(tx *store.Tx, who bar.PersonID, buttons []chat.Button) error {
	asked := t.asked(earlierKey(who), buttons)
	asked.Kind = Closed
	return tx.PutReply(t.Bar.ID, asked)
}

// Answered writes down that a question is answered.
func (t *Turn) Answered(tx *store.Tx, q Asking) error {
	return tx.PutReply(t.Bar.ID, t.asked(q.key, nil))
}

func (t *Turn) asked(cause string, buttons []chat.Button) store.Reply {
	asked := store.Reply{Cause: cause, Kind: chat.Question.String(), State: store.Sent, At: t.Now, Thread: t.Msg.Thread}
	for _, b := range buttons {
		asked.Taps = append(asked.Taps, store.Tap{Label: b.Label, State: b.State})
	}
	return asked
}

// Remember notes with an entry what the post about it leaves to be typed: the
// answers of a question, or that an older one was passed over, and what takes a
// correction back.
func (t *Turn) Remember(tx *store.Tx, p chat.Post) error {
	t.Kept, t.KeptBack = nil, ""
	if t.Who.ID == 0 && !t.Msg.Device {
		return nil
	}
	if err := t.RememberBack(tx, p); err != nil {
		return err
	}
	switch {
	case Asks(p):
		t.Kept = slices.Clone(p.Buttons)
		return t.KeepAsked(tx, t.Who.ID, p.Buttons)
	case ClosesQuestion(p) && len(t.Asking.Taps) > 0:
		t.Asking.Kind = Closed
		return tx.PutReply(t.Bar.ID, t.Asking)
	}
	return nil
}

// Asks reports whether a post is a question that can be answered by typing.
func Asks(p chat.Post) bool { return p.Kind == chat.Question && len(p.Buttons) > 0 }

// ClosesQuestion reports whether a post is what an older question is no more
// answered under.
func ClosesQuestion(p chat.Post) bool {
	return len(p.Buttons) > 0 || p.Kind == chat.Advice || p.Kind == chat.Recorded
}

// RememberBack writes down what takes the correction back that a post tells of.
func (t *Turn) RememberBack(tx *store.Tx, p chat.Post) error {
	state := t.BackOf(p)
	if state == "" {
		return nil
	}
	t.KeptBack = state
	last, _, err := tx.ReplyOf(t.Bar.ID, BackKey(t.Who.ID))
	if err != nil {
		return err
	}
	if len(last.Taps) > 0 && last.Taps[0].State == t.Msg.Press { // it was taken back by a tap
		return t.KeepBack(tx, "")
	}
	return t.KeepBack(tx, state)
}

// BackOf returns the state of the button under a post that takes a correction back.
func (t *Turn) BackOf(p chat.Post) string {
	for _, b := range p.Buttons {
		if b.Label == t.Lang().Say(say.BackLabel) && (!strings.HasPrefix(b.State, PressUnset+":") || strings.Count(b.State, ":") > 1) {
			return b.State
		}
	}
	return ""
}

// BackKey is the cause under which what takes a person's last correction back is
// kept.
func BackKey(who bar.PersonID) string { return "back " + IDText(who) }

// KeepBack writes down what takes the writer's last correction back; nothing, if
// state is empty.
func (t *Turn) KeepBack(tx *store.Tx, state string) error {
	back := store.Reply{Cause: BackKey(t.Who.ID), Kind: chat.Recorded.String(), State: store.Sent, At: t.Now}
	if state != "" {
		back.Taps = []store.Tap{{Label: t.Lang().Say(say.BackLabel), State: state}}
	}
	return tx.PutReply(t.Bar.ID, back)
}

// GoneKey is the cause under which the shot is kept that a person took out last.
func GoneKey(who bar.PersonID) string { return "gone " + IDText(who) }

// KeepGone writes down which shot the writer took out, so that it can be put back; none, if it is 0.
func (t *Turn) KeepGone(tx *store.Tx, id bar.EntryID) error {
	gone := store.Reply{Cause: GoneKey(t.Who.ID), Kind: chat.Recorded.String(), State: store.Sent, At: t.Now}
	if id != 0 {
		gone.Taps = []store.Tap{{Label: t.Lang().Say(say.BackLabel), State: PressState(PressBack, id)}}
	}
	return tx.PutReply(t.Bar.ID, gone)
}

// An Asking is a question that can be answered by typing: to a person, or to
// whoever answers first, 0.
type Asking struct {
	Who    bar.PersonID
	Taps   []store.Tap
	Passed bool
	Before bool // it is the one before the last, or was put to somebody else
	key    string
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
			asked, found, err := t.askedOf(tx, AskedKey(e.Person))
			if found && (e.Person != 0 || asks(asked, e.ID)) {
				list = []Asking{{Who: e.Person, Taps: asked.Taps, key: AskedKey(e.Person)}}
			}
			return err
		}
		own, found1, err1 := t.askedOf(tx, AskedKey(t.Who.ID))
		any, found2, err2 := t.askedOf(tx, AskedKey(0))
		before, found3, err3 := t.askedOf(tx, earlierKey(t.Who.ID))
		list = nil
		if t.Asking = (store.Reply{}); found1 {
			t.Asking = own
		}
		open := func(asked store.Reply, found bool, who bar.PersonID) {
			if found && !asked.At.Before(t.Now.Add(-AnswerWindow)) {
				list = append(list, Asking{Who: who, Taps: asked.Taps, Passed: asked.Kind == Closed, Before: asked.Cause == earlierKey(who), key: asked.Cause})
			}
		}
		open(own, found1, t.Who.ID)
		open(any, found2, 0)
		if len(list) == 2 && any.At.After(own.At) {
			slices.Reverse(list)
		}
		open(before, found3, t.Who.ID)
		return errors.Join(err1, err2, err3)
	})
	return list, err
}

func (t *Turn) askedOf(tx *store.Tx, cause string) (store.Reply, bool, error) {
	asked, found, err := tx.ReplyOf(t.Bar.ID, cause)
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
