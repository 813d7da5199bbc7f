package device

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// A post that comes again is one shot. Its key and its numbers tell it: a key
// alone does not, since there are devices that count from 1 whenever they are
// switched on.

const (
	// sameWithin is how long the same text from a device is the same shot, if
	// it has neither a key nor a time. Twice as long at most.
	sameWithin = 5 * time.Second
	// sameKeyWithin is how far apart two shots may have ended to be one, if
	// they have the same key and the same numbers. Twice as far at most.
	sameKeyWithin = 6 * time.Hour
)

// postKey is the digest of what tells a post from the device's others.
func postKey(d bar.Device, parts ...any) string {
	sum := sha256.Sum256(fmt.Appendln(nil, parts...))
	return fmt.Sprintf("post %d %s", d.ID, hex.EncodeToString(sum[:16]))
}

// postKeys returns the keys under which a posted shot may be known already, if
// it ended, or came, at an instant. The first is the one to keep it under.
func postKeys(d bar.Device, p parse.Posted, text string, at time.Time) []string {
	if !p.At.IsZero() {
		at = p.At
	}
	switch {
	case p.Key != "":
		return whiles(at, sameKeyWithin, func(while int64) string {
			return postKey(d, "key", p.Key, p.Coffee, p.Shot.Dose, p.Shot.Yield, p.Shot.Time, p.Shot.Drip, while)
		})
	case !p.At.IsZero():
		return []string{postKey(d, "at", at.UnixNano(), p.Shot.Dose, p.Shot.Yield, p.Shot.Time, p.Shot.Drip)}
	}
	return whiles(at, sameWithin, func(while int64) string { return postKey(d, "text", text, while) })
}

// usedKeys are the keys by which it is known that a device has used its own key
// lately, for whatever shot.
func usedKeys(d bar.Device, p parse.Posted, at time.Time) []string {
	if p.Key == "" {
		return nil
	}
	return whiles(at, sameKeyWithin, func(while int64) string { return postKey(d, "used", p.Key, while) })
}

// whiles returns the keys of the while in which an instant is, of the one before
// and of the one after.
func whiles(at time.Time, long time.Duration, key func(while int64) string) []string {
	while := at.UnixNano() / int64(long)
	return []string{key(while), key(while - 1), key(while + 1)}
}

// knownAs returns the key under which something is known, or none.
func knownAs(t *turn.Turn, keys []string) (string, error) {
	for _, key := range keys {
		if known, err := t.SeenAs(key); known || err != nil {
			return key, err
		}
	}
	return "", nil
}

// postedAgain says so of a shot whose key was another one's a while ago, and
// notes that the key was used.
func postedAgain(t *turn.Turn, d bar.Device, p parse.Posted, outs []turn.Out) error {
	used := usedKeys(d, p, t.Now)
	if used == nil || len(outs) == 0 {
		return nil
	}
	before, err := knownAs(t, used)
	if err != nil {
		return err
	}
	if before != "" {
		outs[0].Text = setup.In(t.Lang()).KeyUsed(d, p.Key) + "\n" + outs[0].Text
	}
	return t.Update(func(tx *store.Tx) error { return tx.MarkSeen(t.Bar.ID, used[0], t.Now) })
}

// repeated answers a post that was taken before: with what stands for it, and
// the advice of now. It says nothing in the chat.
func repeated(t *turn.Turn, r *recent.Book, d bar.Device, key string) ([]turn.Out, error) {
	e, found, err := postedAs(t, r, d, key)
	if err != nil {
		return nil, err
	}
	out := turn.Out{Unsaid: !t.Msg.Alone, Repeated: true, Post: t.Post(chat.Recorded, t.WriterLang().Say(setup.PostedBefore))}
	s, shot := e.What.(bar.Shot)
	switch {
	case !found:
	case e.Deleted:
		out.Post = t.Post(chat.Info, t.WriterLang().Say(setup.PostedTakenOut))
	case shot:
		return repeatedShot(t, r, out, e, s)
	default:
		out.Post = t.Post(chat.Question, t.Lang().Say(setup.StillHeld))
	}
	return []turn.Out{out}, nil
}

func repeatedShot(t *turn.Turn, r *recent.Book, out turn.Out, e bar.Entry, s bar.Shot) ([]turn.Out, error) {
	coffee, _ := r.Coffee(s.Coffee)
	h, err := t.History(s.Coffee)
	if err != nil {
		return nil, err
	}
	a, ok := t.Advise(h, s.Coffee, t.Now)
	newest := ok && a.Shot == e.ID
	out.Text = setup.In(t.WriterLang()).PostedAlready(coffee, e, s)
	if ok {
		post := answer.AdvicePost(t, say.AdviceOf(h, a), "", say.Notes{})
		out.Data = post.Data
		if newest {
			out.Post = post
		}
	}
	out.Shot = answer.ShotShown(coffee, e, newest)
	return []turn.Out{out}, nil
}

// postedAs returns what stands for the shot that a device posted under a key,
// taken out or not.
func postedAs(t *turn.Turn, r *recent.Book, d bar.Device, key string) (e bar.Entry, found bool, err error) {
	err = t.See(func(tx *store.Tx) error {
		if e, found, err = tx.EntryOf(t.Bar.ID, key); err != nil || found {
			e, err = turn.StandsFor(tx, t.Bar.ID, e)
			return err
		}
		for _, other := range r.Recent { // what came by the chat has an id of its own
			own := other
			if s, ok := other.What.(bar.Shot); ok && s.Posted != 0 {
				if own, err = tx.Entry(t.Bar.ID, s.Posted); err != nil {
					return err
				}
			}
			p, ok, _ := parse.Post(own.Raw, r.Vocab())
			if ok && recent.PostedBy(own) == d.ID && slices.Contains(postKeys(d, p, own.Raw, own.At), key) {
				e, found = other, true
			}
		}
		return nil
	})
	return e, found, err
}
