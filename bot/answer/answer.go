package answer

import (
	"cmp"
	"errors"
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// An Answer is a shot, new or put right, on its way into the book, and the
// advice that goes back.
type Answer struct {
	*turn.Turn
	Book   *recent.Book
	Entry  bar.Entry // its ID is 0 if it is new
	Coffee bar.Coffee
	Notes  say.Notes
	Lead   string      // a line that goes first: what was put right
	edits  string      // id of the post that this one replaces, or empty
	Call   bool        // the message calls the coffee dialled in as well
	Back   chat.Button // takes a correction back, or is empty
	Recipe string      // what is said on the button that makes its dose and yield the recipe, or empty
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
	told, err := a.toldTogether()
	if err != nil {
		return nil, err
	}
	h, err := a.asIfItStood()
	if err != nil {
		return nil, err
	}
	a.OfIt = a.OfIt || a.Posted != nil
	a.Notes.Unread = a.Book.FirstHeard(a.Entry, a.Notes.Unread)
	g, err := a.advised(h, told)
	if err != nil {
		return nil, err
	}
	var outs []turn.Out
	err = a.Update(func(tx *store.Tx) (err error) {
		outs, err = g.put(tx)
		return err
	})
	if err != nil {
		return nil, err
	}
	if warned, ok := Caution(a.Turn, a.Book, a.Entry); ok {
		outs = slices.Insert(outs, 1, turn.Out{Post: warned})
	}
	return outs, nil
}

// asIfItStood is what the advisor needs to know, with the entry and what comes with it.
func (a *Answer) asIfItStood() (bar.History, error) {
	h, err := a.History(a.Coffee.ID)
	if a.Aside != nil && a.Aside.ID != 0 {
		h.Entries = recent.Into(h.Entries, *a.Aside)
	}
	h.Entries = recent.Into(h.Entries, a.Entry)
	for _, e := range a.Book.Recent { // of a shot that was another coffee's, the records have none here yet
		if w, ok := e.What.(bar.Words); ok && w.Shot == a.Entry.ID && a.Entry.ID != 0 && !e.Deleted {
			h.Entries = recent.Into(h.Entries, e)
		}
	}
	if a.Call {
		call := a.dialledEntry(cmp.Or(a.Entry.ID, recent.Provisional))
		call.ID = recent.Provisional + 1
		h.Entries = recent.Into(h.Entries, call)
	}
	return h, err
}

// A given is an answer and the advice that it gives, if there is any.
type given struct {
	Answer
	advice advisor.Advice
	ok     bool
	view   say.Advice // of the advice
	kind   chat.PostKind
	alert  alert
	moved  bool // another coffee moved the same way
}

// advised asks for the advice and for what belongs to it. Told says that today was
// told of what two coffees share.
func (a *Answer) advised(h bar.History, told bool) (g given, err error) {
	g = given{Answer: *a, kind: chat.Recorded}
	g.advice, g.ok = a.Advise(h, a.Coffee.ID, a.Now)
	other, moved, err := a.alike(g.advice, told)
	if err != nil {
		return g, err
	}
	if g.moved = moved; moved {
		g.Notes.Alike = a.Lang().Together(a.Coffee, other, g.advice.Beyond)
	}
	if other, err = leaning(a.Turn, a.Book, g.advice); err != nil {
		return g, err
	}
	if g.alert, err = a.alert(h, g.advice, other, told); err != nil || !g.ok {
		return g, err
	}
	g.view = say.AdviceOf(h, g.advice)
	if g.view.Other = other; g.alert.now {
		g.view = g.view.Alerting(mentioned(a.Book))
		g.Notes.Alike = ""
	}
	g.kind = g.view.Kind()
	return g, nil
}

// put writes all of it down and returns what is posted. It changes nothing of g: a
// commit that fails with others is tried again alone.
func (g *given) put(tx *store.Tx) (outs []turn.Out, err error) {
	w, err := g.word(tx)
	if err != nil {
		return nil, err
	}
	if err := g.alert.write(tx); err != nil {
		return nil, err
	}
	if !w.same && !w.agrees {
		if outs, err = supersede(g.Turn, tx, g.Book, g.Coffee.ID, g.edits); err != nil {
			return nil, err
		}
	}
	id, err := g.write(tx)
	if err != nil {
		return nil, err
	}
	if err := g.note(tx, id); err != nil {
		return nil, err
	}
	post, unsaid := g.post(w, id), (g.Stale || g.IfNews && w.said) && !g.Msg.Alone
	if !unsaid {
		live := g.ok && passing(g.view, g.Notes) && !recent.IsOpen(g.Entry) && !w.agrees
		reply := store.Reply{Cause: g.Msg.ID, Entry: id, Kind: g.kind.String(), Post: g.edits, Live: live, At: g.Now}
		err = errors.Join(tx.PutReply(g.Bar.ID, reply), g.Remember(tx, post))
	}
	out := turn.Out{Post: post, Edits: g.edits, Unsaid: unsaid, Shot: ShotShown(g.Coffee, g.Entry, w.newest)}
	return slices.Insert(outs, 0, out), err
}

// note notes that the message was handled, what was told once with it, and the
// advice, as it is given on the entry's id.
func (g *given) note(tx *store.Tx, id bar.EntryID) error {
	err := tx.MarkSeen(g.Bar.ID, g.Msg.ID, g.Now)
	if g.Mark != "" {
		err = errors.Join(err, tx.MarkSeen(g.Bar.ID, g.Mark, g.Now))
	}
	if g.moved {
		err = errors.Join(err, tx.TellOnce(g.Bar.ID, g.togetherKey(), g.Now))
	}
	if g.Notes.Uncalled != "" {
		err = errors.Join(err, tx.TellOnce(g.Bar.ID, CallKey(id), g.Now))
	}
	if err != nil || !g.ok {
		return err
	}
	on := placed(g.advice, id)
	owner, err := g.owner(tx, on.Shot)
	if err != nil {
		return err
	}
	return keep(g.Turn, tx, on, owner)
}

// A word is what an answer says of its advice.
type word struct {
	newest bool // it is on the shot that was told
	said   bool // it was said before
	same   bool // and is not said again
	agrees bool // nothing but that somebody else's taste says the same
}

func (g *given) word(tx *store.Tx) (w word, err error) {
	w.newest = g.ok && g.advice.Shot == cmp.Or(g.Entry.ID, recent.Provisional)
	_, words := g.Entry.What.(bar.Words)
	if g.ok && (g.IfNews || g.OfIt || words || g.takesOut()) {
		said, known, err := tx.AdviceOf(g.Bar.ID, g.advice.Shot)
		if err != nil {
			return w, err
		}
		w.said = known && SameChange(said, store.Said{Lever: g.advice.Lever, Unit: g.advice.Unit, From: g.advice.From, To: g.advice.To})
	}
	w.same = g.OfIt && g.ok && !w.newest && w.said
	bare := g.Lead == "" && g.Notes.Silent() && g.Called.ID == 0 && g.Back.State == "" && g.edits == ""
	w.agrees = words && w.said && g.view.Moves() && bare
	return w, nil
}

// takesOut reports whether a shot is taken out.
func (a *Answer) takesOut() bool {
	_, shot := a.Entry.What.(bar.Shot)
	return shot && a.Entry.Deleted
}

// post makes the post of an answer whose entry has its id.
func (g *given) post(w word, id bar.EntryID) chat.Post {
	v, lead := g.view, g.Lead
	if g.Posted != nil {
		lead = g.postedLead(w.newest)
	}
	if g.OfIt && g.ok && !w.newest && !w.said {
		lead += "\n" + g.Lang().Say(setup.NewestNow)
	}
	post := g.Post(g.kind, lead)
	if g.ok {
		v.Advice = placed(v.Advice, id) // it was looked up before it had its id
		notes := g.Notes
		notes.Before = w.said && g.takesOut()
		post = AdvicePost(g.Turn, v, lead, notes)
	}
	if w.same {
		post = g.Post(chat.Question, lead)
		post.Buttons, post.Data = tasteButtons(g.Lang(), id), v.Data()
	}
	if g.Notes.Uncalled != "" && len(post.Buttons) < turn.MaxButtons {
		post.Buttons = append(post.Buttons, CallButton(g.Lang(), id))
	}
	if g.Joined && len(post.Buttons) < turn.MaxButtons {
		post.Buttons = append(post.Buttons, chat.Button{Label: g.Lang().Say(setup.AnotherLabel), State: turn.PressState(turn.PressApart, id)})
	}
	if g.Called.ID != 0 && g.ok && v.Lever != bar.Keep && len(post.Buttons) < turn.MaxButtons {
		post.Text += "\n" + g.Lang().StillCalled(g.Coffee)
		post.Buttons = append(post.Buttons, chat.Button{Label: g.Lang().Say(say.NotDialledLabel), State: turn.PressState(turn.PressUncall, g.Called.ID)})
	}
	if g.Back.State != "" && len(post.Buttons) < turn.MaxButtons {
		post.Buttons = append(post.Buttons, g.Back)
	}
	if g.Recipe != "" && g.ok && v.Because(why.DoseOff) && len(post.Buttons) < turn.MaxButtons {
		post.Buttons = append(post.Buttons, chat.Button{Label: g.Recipe, State: turn.PressState(PressRecipe, id)})
	}
	post.Files = g.alert.files
	post.Tick = w.agrees || post.Tick && len(post.Buttons) == 0
	open := recent.IsOpen(g.Entry)
	if open && g.Stale {
		post.Kind, post.Buttons = chat.Recorded, nil
	} else if open {
		post = AsksWhose(g.Lang(), post, id)
	}
	return post
}

// postedLead is what stands above a shot that a device has posted: which it is,
// where the advice is on another.
func (a *Answer) postedLead(newest bool) string {
	s, _ := a.Entry.What.(bar.Shot)
	switch {
	case a.Stale && newest:
		return setup.In(a.Lang()).PostedLate(a.Coffee, a.Entry, s)
	case newest:
		return setup.In(a.Lang()).Posted(*a.Posted)
	}
	if a.Stale {
		return setup.In(a.Lang()).PostedLate(a.Coffee, a.Entry, s)
	}
	return setup.In(a.Lang()).PostedEarlier(*a.Posted, a.Coffee, a.Entry, s)
}

// placed returns the advice with the id that its shot has been given, if it had
// none.
func placed(a advisor.Advice, id bar.EntryID) advisor.Advice {
	if a.Shot == recent.Provisional {
		a.Shot = id
	}
	return a
}

// write puts the entry in the book and returns its id.
func (a *Answer) write(tx *store.Tx) (bar.EntryID, error) {
	e, err := a.putAside(tx)
	if err != nil {
		return 0, err
	}
	id := e.ID
	if id != 0 {
		err = tx.PutEntry(a.Bar.ID, e)
	} else {
		id, err = tx.AddEntry(a.Bar.ID, e)
	}
	if err != nil || !a.Call {
		return id, err
	}
	_, err = tx.AddEntry(a.Bar.ID, a.dialledEntry(id))
	return id, err
}

// putAside takes out what a device posted of the same shot, and returns the entry,
// which points to it.
func (a *Answer) putAside(tx *store.Tx) (bar.Entry, error) {
	e := a.Entry
	if a.Aside == nil {
		return e, nil
	}
	if a.Aside.ID != 0 {
		return e, tx.PutEntry(a.Bar.ID, *a.Aside)
	}
	id, err := tx.AddEntry(a.Bar.ID, *a.Aside)
	s := e.What.(bar.Shot)
	s.Posted = id
	e.What = s
	return e, err
}

// dialledEntry calls the coffee dialled in by the shot.
func (a *Answer) dialledEntry(shot bar.EntryID) bar.Entry {
	return bar.Entry{
		Person: a.Entry.Person, At: a.Entry.At, Day: a.Entry.Day, Raw: a.Msg.Text,
		What: bar.Dialled{Coffee: a.Coffee.ID, Shot: shot},
	}
}

// owner returns who the advice on a shot is for: who did what was done last,
// but never somebody who only tasted what another pulled.
func (a *Answer) owner(tx *store.Tx, shot bar.EntryID) (bar.PersonID, error) {
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
	v, err := View(t, h, a)
	if err != nil {
		return chat.Post{}, err
	}
	post := AdvicePost(t, v, lead, say.Notes{})
	err = t.Update(func(tx *store.Tx) error {
		on, err := tx.Entry(t.Bar.ID, a.Shot)
		if err != nil {
			return err
		}
		return errors.Join(keep(t, tx, a, on.Person), t.Remember(tx, post))
	})
	return post, err
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
