package store

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/closed"
	"shothand/store/file"
)

// A Reply is what became of the answer to a message.
type Reply struct {
	Cause string      `json:"-"`               // id of the message, or of whatever else caused it
	Entry bar.EntryID `json:"entry,omitempty"` // that it is about, or 0
	Kind  string      `json:"kind,omitempty"`  // of the post
	State ReplyState  `json:"state"`
	Post  string      `json:"post,omitempty"` // id of the post, once it is sent
	Live  bool        `json:"live,omitempty"` // it has buttons that are over once there is newer advice
	At    time.Time   `json:"-"`

	Thread string `json:"thread,omitempty"` // where it was asked, of a question that may be answered by typing
	Taps   []Tap  `json:"taps,omitempty"`   // its answers
}

// A Tap is one answer to a question.
type Tap struct {
	Label string `json:"label"`
	State string `json:"state"`
}

// A ReplyState is how far a reply has come.
type ReplyState int

// The states.
const (
	Pending ReplyState = iota // to be sent; perhaps sent, but not known to be
	Sent
)

func replyStates() []string { return []string{Pending: "pending", Sent: "sent"} }

// MarshalText names s, as records do.
func (s ReplyState) MarshalText() ([]byte, error) { return closed.Marshal(s, replyStates()) }

// UnmarshalText sets s to the state of that name.
func (s *ReplyState) UnmarshalText(text []byte) error {
	return closed.Unmarshal(s, text, replyStates())
}

// replyRecord is the on-disk form of a [Reply].
type replyRecord struct {
	Reply
	timeRecord
}

// postRecord says what caused a post.
type postRecord struct {
	Cause string `json:"cause"`
}

func newReplyRecord(r Reply) (replyRecord, error) {
	at, err := newTimeRecord(r.At)
	return replyRecord{r, at}, err
}

func (r replyRecord) reply(cause string, zone *time.Location) (Reply, error) {
	at, err := r.time(zone)
	r.Cause, r.Reply.At = cause, at
	return r.Reply, err
}

// PutReply records r, in place of what was recorded for its cause.
func (tx *Tx) PutReply(here bar.ID, r Reply) error {
	record, err := newReplyRecord(r)
	if err != nil {
		return fmt.Errorf("reply to %q: %w", r.Cause, err)
	}
	if err := tx.dropReply(here, r.Cause); err != nil {
		return err
	}
	if r.State == Pending {
		at, failed := instantOf(r.At)
		err = errors.Join(failed, tx.index(here, bucketPending, timedKey(at, r.Cause), nil))
	}
	if r.Post != "" {
		err = errors.Join(err, tx.write(here, bucketPosts, textKey(r.Post), postRecord{Cause: text(r.Cause)}))
	}
	return errors.Join(err, tx.write(here, bucketReplies, textKey(r.Cause), record))
}

// dropReply takes the reply to cause out of the indexes, if there is one.
func (tx *Tx) dropReply(here bar.ID, cause string) error {
	old, found, err := tx.ReplyOf(here, cause)
	if err != nil || !found {
		return err
	}
	at, err := instantOf(old.At)
	return errors.Join(err,
		tx.drop(here, bucketPending, timedKey(at, cause)),
		tx.drop(here, bucketPosts, textKey(old.Post)))
}

// ReplyOf returns the reply to a message, or false if there is none.
func (tx *Tx) ReplyOf(here bar.ID, cause string) (Reply, bool, error) {
	var record replyRecord
	found, err := tx.read(here, bucketReplies, textKey(cause), &record)
	if err != nil || !found {
		return Reply{}, false, err
	}
	zone, err1 := tx.zoneOf(here)
	r, err2 := record.reply(text(cause), zone)
	if err := errors.Join(err1, err2); err != nil {
		return Reply{}, false, fmt.Errorf("bar %d: reply to %q: %w", here, cause, err)
	}
	return r, true, nil
}

// LiveReply returns the reply to a message if it is live. Most are not, which is seen
// without reading all of them.
func (tx *Tx) LiveReply(here bar.ID, cause string) (Reply, bool, error) {
	key := textKey(cause)
	value, err := tx.value(here, bucketReplies, key)
	if data, whole := file.Unseal(key, value); err != nil || value == nil || whole && !bytes.Contains(data, []byte(`"live":true`)) {
		return Reply{}, false, err
	}
	return tx.ReplyOf(here, cause)
}

// Replied reports whether a reply to a message is kept.
func (tx *Tx) Replied(here bar.ID, cause string) (bool, error) {
	record, err := tx.value(here, bucketReplies, textKey(cause))
	return record != nil, err
}

// PendingReplies returns the replies that are not known to be sent, oldest
// first.
func (tx *Tx) PendingReplies(here bar.ID) ([]Reply, error) {
	b, err := tx.in(here, bucketPending)
	if err != nil {
		return nil, err
	}
	var replies []Reply
	err = b.ForEach(func(key, _ []byte) error {
		r, found, err := tx.ReplyOf(here, string(key[8:]))
		if err == nil && found {
			replies = append(replies, r)
		}
		return err
	})
	return replies, err
}

// ReplyByPost returns the reply that went out as a post, or false if that is
// none of ours.
func (tx *Tx) ReplyByPost(here bar.ID, post string) (Reply, bool, error) {
	var r postRecord
	found, err := tx.read(here, bucketPosts, textKey(post), &r)
	if err != nil || !found {
		return Reply{}, false, err
	}
	return tx.ReplyOf(here, r.Cause)
}
