package turn

import (
	"log/slog"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/store"
)

// History reads what the advisor needs to know of a coffee.
func (t *Turn) History(c bar.CoffeeID) (h bar.History, err error) {
	err = t.See(func(tx *store.Tx) error {
		h, err = tx.History(t.Bar.ID, c, t.Now)
		return err
	})
	t.waiting().showIn(&h, c)
	return h, err
}

// Stored returns the entry with that id.
func (t *Turn) Stored(id bar.EntryID) (e bar.Entry, err error) {
	for _, e := range slices.Backward(t.waiting().entries) {
		if e.ID == id {
			return e, nil
		}
	}
	err = t.See(func(tx *store.Tx) error {
		e, err = tx.Entry(t.Bar.ID, id)
		return err
	})
	return e, err
}

// AdviceOf returns what was advised on a shot, or false if nothing was.
func (t *Turn) AdviceOf(shot bar.EntryID) (said store.Said, ok bool, err error) {
	err = t.See(func(tx *store.Tx) error {
		said, ok, err = tx.AdviceOf(t.Bar.ID, shot)
		return err
	})
	return said, ok, err
}

// LastAdvice returns what was advised last on a coffee, or false if nothing was.
func (t *Turn) LastAdvice(c bar.CoffeeID) (said store.Said, ok bool, err error) {
	err = t.See(func(tx *store.Tx) error {
		said, ok, err = tx.LastAdvice(t.Bar.ID, c)
		return err
	})
	return said, ok, err
}

// Tools are what a message is handled with, whichever it is.
type Tools struct {
	Store  *store.Store
	Log    *slog.Logger
	Meter  Meter
	Clock  func() time.Time
	Wakes  bool // bars are woken by the clock
	Advise Advisor
	// outlook tells where a coffee stands.
	Outlook func(bar.History, bar.CoffeeID, time.Time) (advisor.Outlook, bool)
	// clocked tells which of two settings the time of a shot fits.
	Chances func(bar.History, bar.CoffeeID, time.Time) advisor.Chances
	Clocked func(bar.History, bar.EntryID, bar.Value[bar.Dial]) float64
}

// An Advisor advises on a coffee, or returns false if there is nothing to say.
type Advisor func(bar.History, bar.CoffeeID, time.Time) (advisor.Advice, bool)

// An Out is a post to send, or to put in place of an earlier one.
type Out struct {
	chat.Post
	Edits  string // id of the post it replaces, or empty
	Bare   bool   // of the post it edits only the buttons are taken away
	Unsaid bool   // it is for the device that posted, and not for the chat

	Deed     *DeedRef    // that is done once it is sent, or nil
	InThread bool        // it goes into the thread of its deed's day
	Repeated bool        // what was posted had been taken before
	Shot     *PostedShot // what stands for what was posted, or nil
	Err      error       // that it tells of, or nil
}

// A Turn is one message being handled.
type Turn struct {
	*Tools
	Msg chat.Message
	Bar bar.Bar
	Now time.Time // in the bar's zone
	Who bar.Person

	Looked *store.Reading // shared by all that reads for the message, or nil
	Asking store.Reply    // the last question to this person when the message came, or zero
	Kept   []chat.Button  // what the question can be answered with that was kept with its entry, or none
	// KeptBack is the state of what takes a correction back that was kept with it, or empty.
	KeptBack string
	later    *later // what waits for the next change, or nil
}

// A Mistake is an error to tell the person who made it.
type Mistake = say.Error

// Seen reports whether the bar has handled the message before.
func (t *Turn) Seen() (bool, error) { return t.SeenAs(t.Msg.ID) }

// SeenAs reports whether the bar has handled a message of that id.
func (t *Turn) SeenAs(id string) (yes bool, err error) {
	err = t.See(func(tx *store.Tx) error {
		yes = tx.Seen(t.Bar.ID, id)
		return nil
	})
	return yes, err
}

// ToldOnce reports whether what is to be told once was told.
func (t *Turn) ToldOnce(what string) (yes bool, err error) {
	err = t.See(func(tx *store.Tx) error {
		yes = tx.ToldOnce(t.Bar.ID, what)
		return nil
	})
	return yes, err
}

// Book reads it.
func (t *Turn) Book() (*recent.Book, error) {
	r := &recent.Book{Bar: t.Bar, Who: t.Who, Day: bar.DayOf(t.Now), Now: t.Now}
	err := t.See(func(tx *store.Tx) (err error) {
		if r.Coffees, err = tx.Coffees(t.Bar.ID); err != nil {
			return err
		}
		if r.Grinders, err = tx.Grinders(t.Bar.ID); err != nil {
			return err
		}
		if r.People, err = tx.People(t.Bar.ID); err != nil {
			return err
		}
		since := t.Now.Add(-recent.Span)
		if r.Recent, err = tx.Recent(t.Bar.ID, since); err != nil {
			return err
		}
		if r.Before, err = tx.Before(t.Bar.ID, since); err != nil {
			return err
		}
		r.Named, err = t.named(tx)
		return err
	})
	for _, e := range t.waiting().entries {
		r.Recent = recent.With(r.Recent, e)
	}
	return r, err
}

// Post returns a post of a kind in answer to the message.
func (t *Turn) Post(kind chat.PostKind, text string) chat.Post {
	return chat.Post{Kind: kind, Channel: t.Msg.Channel, Thread: t.Msg.Thread, Cause: t.Msg.ID, At: t.Now, Text: text}
}

// Says returns a single post.
func (t *Turn) Says(kind chat.PostKind, text string) []Out {
	return []Out{{Post: t.Post(kind, text)}}
}

// IsDeed reports whether it is a post of the day that nobody asked for.
func (o Out) IsDeed() bool { return o.Deed != nil }
