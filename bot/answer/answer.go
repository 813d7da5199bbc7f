package answer

import (
	"cmp"
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// An Answer is a shot, new or put right, on its way into the book, and the
// advice that goes back.
type Answer struct {
	*turn.Turn
	Room   *recent.Book
	Entry  bar.Entry // its ID is 0 if it is new
	Coffee bar.Coffee
	Notes  say.Notes
	Lead   string      // a line that goes first: what was put right
	edits  string      // id of the post that this one replaces, or empty
	Call   bool        // the message calls the coffee dialled in as well
	Back   chat.Button // takes a correction back, or is empty
	Called bar.Entry   // the call that rests on what was taken back, or zero

	Aside  *bar.Entry  // what a device posted of the same shot, which is taken out; or nil
	Mark   string      // what else the message is known by, or empty
	OfIt   bool        // what is advised on another shot is said only if it has changed
	Joined bool        // it is one of two: a person's, and what a device posted
	Posted *bar.Device // that has posted the shot just now, or nil
	Stale  bool        // it is too long ago to be told
	IfNews bool        // it is told only if the advice is another than was said
}

// Give computes the advice as if the entry stood, writes both in one
// transaction, and returns the post.
func (a Answer) Give() ([]turn.Out, error) {
	h, err := a.History(a.Coffee.ID)
	if err != nil {
		return nil, err
	}
	if a.Aside != nil && a.Aside.ID != 0 {
		h.Entries = recent.With(h.Entries, *a.Aside)
	}
	h.Entries = recent.With(h.Entries, a.Entry)
	a.Notes.Unread = a.Room.FirstHeard(a.Entry, a.Notes.Unread)
	if a.Call {
		call := a.dialledEntry(cmp.Or(a.Entry.ID, recent.Provisional))
		call.ID = recent.Provisional - 1
		h.Entries = recent.With(h.Entries, call)
	}
	advice, ok := a.Advise(h, a.Coffee.ID, a.Now)
	other, moved, err := a.alike(advice)
	if err != nil {
		return nil, err
	}
	if moved {
		a.Notes.Alike = a.In().Together(a.Coffee, other, advice.Beyond)
	}
	other, err = leaning(a.Turn, a.Room, advice)
	if err != nil {
		return nil, err
	}
	alert, err := a.alert(h, advice, other)
	if err != nil {
		return nil, err
	}
	v, kind := say.Advice{}, chat.Recorded
	if ok {
		v = say.AdviceOf(h, advice)
		if v.Other = other; alert.now {
			v = v.Alerting(mentioned(a.Room))
			a.Notes.Alike = ""
		}
		kind = v.Kind()
	}
	open := recent.IsOpen(a.Entry)
	said := false
	a.OfIt = a.OfIt || a.Posted != nil
	_, words := a.Entry.What.(bar.Words)
	if ok && (a.IfNews || a.OfIt || words) {
		if said, err = a.saidAlready(advice); err != nil {
			return nil, err
		}
	}
	unsaid := (a.Stale || a.IfNews && said) && !a.Msg.Alone
	newest := ok && advice.Shot == cmp.Or(a.Entry.ID, recent.Provisional)
	same := a.OfIt && ok && !newest && said
	agrees := words && said && v.Moves() && a.Lead == "" && a.Notes.Silent() && a.Called.ID == 0 && a.Back.State == "" && a.edits == ""
	w := word{v, kind, alert.files, ok, newest, said, same, agrees}
	var id bar.EntryID
	var over []turn.Out
	var post chat.Post
	err = a.Update(func(tx *store.Tx) (err error) {
		if err := alert.write(tx); err != nil {
			return err
		}
		if over = nil; !same && !agrees {
			if over, err = supersede(a.Turn, tx, a.Room, a.Coffee.ID, a.edits); err != nil {
				return err
			}
		}
		if id, err = a.write(tx); err != nil {
			return err
		}
		for _, id := range []string{a.Msg.ID, cmp.Or(a.Mark, a.Msg.ID)} {
			if err := tx.MarkSeen(a.Bar.ID, id, a.Now); err != nil {
				return err
			}
		}
		if moved {
			if err := tx.TellOnce(a.Bar.ID, a.togetherKey(), a.Now); err != nil {
				return err
			}
		}
		if ok {
			given := placed(advice, id)
			owner, err := a.owner(tx, given.Shot)
			if err != nil {
				return err
			}
			if err := keep(a.Turn, tx, given, owner); err != nil {
				return err
			}
		}
		if a.Notes.Uncalled != "" {
			if err := tx.TellOnce(a.Bar.ID, CallKey(id), a.Now); err != nil {
				return err
			}
		}
		post = a.post(w, id)
		if unsaid {
			return nil
		}
		if err := tx.PutReply(a.Bar.ID, store.Reply{
			Cause: a.Msg.ID, Entry: id, Kind: kind.String(), Post: a.edits, Live: ok && passing(v, a.Notes) && !open && !agrees, At: a.Now,
		}); err != nil {
			return err
		}
		return a.KeepQuestion(tx, post)
	})
	if err != nil {
		return nil, err
	}
	outs := append([]turn.Out{{Post: post, Edits: a.edits, Unsaid: unsaid, Shot: ShotShown(a.Coffee, a.Entry, newest)}}, over...)
	if warned, ok := Caution(a.Turn, a.Room, a.Entry); ok {
		outs = slices.Insert(outs, 1, turn.Out{Post: warned})
	}
	return outs, nil
}

// A word is what an answer says of its advice.
type word struct {
	advice say.Advice // if ok
	kind   chat.PostKind
	files  []chat.File
	ok     bool
	newest bool // it is on the shot that was told
	said   bool // it was said before
	same   bool // and is not said again
	agrees bool // nothing but that somebody else's taste says the same
}

// post makes the post of an answer whose entry has its id.
func (a Answer) post(w word, id bar.EntryID) chat.Post {
	v := w.advice
	if a.Posted != nil {
		a.Lead = a.postedLead(w.newest)
	}
	if a.OfIt && w.ok && !w.newest && !w.said {
		a.Lead += "\n" + a.In().Say(say.NewestNow)
	}
	post := a.Post(w.kind, a.Lead)
	if w.ok {
		v.Advice = placed(v.Advice, id) // it was looked up before it had its id
		post = AdvicePost(a.Turn, v, a.Lead, a.Notes)
	}
	if w.same {
		post = a.Post(chat.Question, a.Lead)
		post.Buttons, post.Data = tasteButtons(a.In(), id), v.Data()
	}
	if a.Notes.Uncalled != "" && len(post.Buttons) < turn.MaxButtons {
		post.Buttons = append(post.Buttons, CallButton(a.In(), id))
	}
	if a.Joined && len(post.Buttons) < turn.MaxButtons {
		post.Buttons = append(post.Buttons, chat.Button{Label: a.In().Say(say.AnotherLabel), State: turn.PressState(turn.PressApart, id)})
	}
	if a.Called.ID != 0 && w.ok && v.Lever != bar.Keep && len(post.Buttons) < turn.MaxButtons {
		post.Text += "\n" + a.In().StillCalled(a.Coffee)
		post.Buttons = append(post.Buttons, chat.Button{Label: a.In().Say(say.NotDialledLabel), State: turn.PressState(turn.PressUncall, a.Called.ID)})
	}
	if a.Back.State != "" && len(post.Buttons) < turn.MaxButtons {
		post.Buttons = append(post.Buttons, a.Back)
	}
	post.Files = w.files
	post.Tick = w.agrees || post.Tick && len(post.Buttons) == 0
	open := recent.IsOpen(a.Entry)
	if open && a.Stale {
		post.Kind, post.Buttons = chat.Recorded, nil
	} else if open {
		post = AsksWhose(a.In(), post, id)
	}
	return post
}

// postedLead is what stands above a shot that a device has posted: which it is,
// where the advice is on another.
func (a Answer) postedLead(newest bool) string {
	s, _ := a.Entry.What.(bar.Shot)
	switch {
	case a.Stale && newest:
		return a.In().PostedLate(a.Coffee, a.Entry, s)
	case newest:
		return a.In().Posted(*a.Posted)
	}
	if a.Stale {
		return a.In().PostedLate(a.Coffee, a.Entry, s)
	}
	return a.In().PostedEarlier(*a.Posted, a.Coffee, a.Entry, s)
}

// placed returns the advice with the id that its shot has been given, if it had
// none.
func placed(a advisor.Advice, id bar.EntryID) advisor.Advice {
	if a.Shot == recent.Provisional {
		a.Shot = id
	}
	return a
}

// saidAlready reports whether the advice asks for what was said last.
func (a Answer) saidAlready(advice advisor.Advice) (yes bool, err error) {
	err = a.See(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(a.Bar.ID, advice.Shot)
		now := store.Said{Lever: advice.Lever, Unit: advice.Unit, From: advice.From, To: advice.To}
		yes = ok && SameChange(said, now)
		return err
	})
	return yes, err
}

// write puts the entry in the book and returns its id.
func (a Answer) write(tx *store.Tx) (bar.EntryID, error) {
	if err := a.putAside(tx); err != nil {
		return 0, err
	}
	id, err := a.Entry.ID, error(nil)
	if id != 0 {
		err = tx.PutEntry(a.Bar.ID, a.Entry)
	} else {
		id, err = tx.AddEntry(a.Bar.ID, a.Entry)
	}
	if err != nil || !a.Call {
		return id, err
	}
	_, err = tx.AddEntry(a.Bar.ID, a.dialledEntry(id))
	return id, err
}

// putAside takes out what a device posted of the same shot, which the entry
// points to.
func (a *Answer) putAside(tx *store.Tx) error {
	if a.Aside == nil {
		return nil
	}
	if a.Aside.ID != 0 {
		return tx.PutEntry(a.Bar.ID, *a.Aside)
	}
	id, err := tx.AddEntry(a.Bar.ID, *a.Aside)
	s := a.Entry.What.(bar.Shot)
	s.Posted = id
	a.Entry.What = s
	return err
}

// dialledEntry calls the coffee dialled in by the shot.
func (a Answer) dialledEntry(shot bar.EntryID) bar.Entry {
	return bar.Entry{
		Person: a.Entry.Person, At: a.Entry.At, Day: a.Entry.Day, Raw: a.Msg.Text,
		What: bar.Dialled{Coffee: a.Coffee.ID, Shot: shot},
	}
}

// owner returns who the advice on a shot is for: who did what was done last,
// but never somebody who only tasted what another pulled.
func (a Answer) owner(tx *store.Tx, shot bar.EntryID) (bar.PersonID, error) {
	if _, words := a.Entry.What.(bar.Words); !words {
		return a.Who.ID, nil
	}
	e, err := tx.Entry(a.Bar.ID, shot)
	return e.Person, err
}

// keep records the advice as it is said. The same move said again is still
// that of the person who got it, when they got it, done or not.
func keep(t *turn.Turn, tx *store.Tx, a advisor.Advice, owner bar.PersonID) error {
	said := store.Said{
		Entry: a.Shot, Coffee: a.Coffee, Grinder: a.Grinder, Person: owner, At: t.Now, Model: advisor.Model,
		Lever: a.Lever, From: a.From, To: a.To, Unit: a.Unit, Purge: a.Purge, Expect: a.Expect,
		Sure: a.Sure, State: a.State, Reasons: a.Reasons,
	}
	about, err := tx.LastAdvised(t.Bar.ID, a.Coffee)
	if err != nil {
		return err
	}
	if about == a.Shot {
		last, ok, err := tx.AdviceOf(t.Bar.ID, about)
		if err != nil {
			return err
		}
		if ok && SameChange(last, said) && last.Grinder == said.Grinder {
			said.Person, said.At, said.Followed, said.Voided = cmp.Or(last.Person, owner), last.At, last.Followed, last.Voided
		}
	}
	return tx.PutAdvice(t.Bar.ID, said)
}

// SameChange reports whether two advices, on whatever shots, ask for the same.
func SameChange(a, b store.Said) bool {
	return a.Lever == b.Lever && a.Unit == b.Unit && a.From == b.From && a.To == b.To
}

// AdvicePost puts an advice into a post: the action first, then why, then what
// was understood.
func AdvicePost(t *turn.Turn, v say.Advice, lead string, notes say.Notes) chat.Post {
	p := t.Post(v.Kind(), v.Text(lead, notes))
	p.Buttons = adviceButtons(v, notes)
	p.Data = v.Data()
	p.Tick = v.Ticks() && lead == "" && notes.Silent() && len(p.Buttons) == 0
	return p
}

// Again advises on a coffee as things stand now, after something else than a
// shot has changed. Of a coffee without a shot it says lead only.
func Again(t *turn.Turn, c bar.CoffeeID, lead string) (chat.Post, error) {
	h, err := t.History(c)
	if err != nil {
		return chat.Post{}, err
	}
	a, ok := t.Advise(h, c, t.Now)
	if !ok {
		return t.Post(chat.Recorded, lead), nil
	}
	err = t.Update(func(tx *store.Tx) error {
		on, err := tx.Entry(t.Bar.ID, a.Shot)
		if err != nil {
			return err
		}
		return keep(t, tx, a, on.Person)
	})
	if err != nil {
		return chat.Post{}, err
	}
	v, err := View(t, h, a)
	return AdvicePost(t, v, lead, say.Notes{}), err
}

// View looks up what an advice is about, and what moves together with it.
func View(t *turn.Turn, h bar.History, a advisor.Advice) (say.Advice, error) {
	v := say.AdviceOf(h, a)
	if a.State != advisor.Drifting {
		return v, nil
	}
	r, err := t.Book()
	if err != nil {
		return v, err
	}
	v.Other, err = leaning(t, r, a)
	return v, err
}
