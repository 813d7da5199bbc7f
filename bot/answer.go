package bot

import (
	"cmp"
	"math"
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// An answer is a shot, new or put right, on its way into the book, and the
// advice that goes back.
type answer struct {
	*turn
	room   *room
	entry  bar.Entry // its ID is 0 if it is new
	coffee bar.Coffee
	notes  say.Notes
	lead   string      // a line that goes first: what was put right
	edits  string      // id of the post that this one replaces, or empty
	call   bool        // the message calls the coffee dialled in as well
	back   chat.Button // takes a correction back, or is empty
	called bar.Entry   // the call that rests on what was taken back, or zero

	aside  *bar.Entry  // what a device posted of the same shot, which is taken out; or nil
	mark   string      // what else the message is known by, or empty
	ofIt   bool        // what is advised on another shot is said only if it has changed
	joined bool        // it is one of two: a person's, and what a device posted
	posted *bar.Device // that has posted the shot just now, or nil
	stale  bool        // it is too long ago to be told
	ifNews bool        // it is told only if the advice is another than was said
}

// provisional stands for the id of an entry that has none yet.
const provisional bar.EntryID = math.MaxUint64

// give computes the advice as if the entry stood, writes both in one
// transaction, and returns the post.
func (a answer) give() ([]Out, error) {
	h, err := a.history(a.coffee.ID)
	if err != nil {
		return nil, err
	}
	if a.aside != nil && a.aside.ID != 0 {
		h.Entries = with(h.Entries, *a.aside)
	}
	h.Entries = with(h.Entries, a.entry)
	a.notes.Unread = a.room.firstHeard(a.entry, a.notes.Unread)
	if a.call {
		call := a.dialledEntry(cmp.Or(a.entry.ID, provisional))
		call.ID = provisional - 1
		h.Entries = with(h.Entries, call)
	}
	advice, ok := a.advise(h, a.coffee.ID, a.now)
	other, moved, err := a.alike(advice)
	if err != nil {
		return nil, err
	}
	if moved {
		a.notes.Alike = a.in().Together(a.coffee, other, advice.Beyond)
	}
	other, err = a.leaning(a.room, advice)
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
			v = v.Alerting(a.room.mentioned())
			a.notes.Alike = ""
		}
		kind = v.Kind()
	}
	open := isOpen(a.entry)
	said := false
	a.ofIt = a.ofIt || a.posted != nil
	_, words := a.entry.What.(bar.Words)
	if ok && (a.ifNews || a.ofIt || words) {
		if said, err = a.saidAlready(advice); err != nil {
			return nil, err
		}
	}
	unsaid := (a.stale || a.ifNews && said) && !a.m.Alone
	newest := ok && advice.Shot == cmp.Or(a.entry.ID, provisional)
	same := a.ofIt && ok && !newest && said
	agrees := words && said && v.Moves() && a.lead == "" && a.notes.Silent() && a.called.ID == 0 && a.back.State == "" && a.edits == ""
	var id bar.EntryID
	var over []Out
	err = a.update(func(tx *store.Tx) (err error) {
		if err := alert.write(tx); err != nil {
			return err
		}
		if over = nil; !same && !agrees {
			if over, err = a.supersede(tx, a.room, a.coffee.ID, a.edits); err != nil {
				return err
			}
		}
		if id, err = a.write(tx); err != nil {
			return err
		}
		for _, id := range []string{a.m.ID, cmp.Or(a.mark, a.m.ID)} {
			if err := tx.MarkSeen(a.bar.ID, id, a.now); err != nil {
				return err
			}
		}
		if moved {
			if err := tx.TellOnce(a.bar.ID, a.togetherKey(), a.now); err != nil {
				return err
			}
		}
		if ok {
			given := placed(advice, id)
			owner, err := a.owner(tx, given.Shot)
			if err != nil {
				return err
			}
			if err := a.keep(tx, given, owner); err != nil {
				return err
			}
		}
		if a.notes.Uncalled != "" {
			if err := tx.TellOnce(a.bar.ID, callKey(id), a.now); err != nil {
				return err
			}
		}
		if unsaid {
			return nil
		}
		return tx.PutReply(a.bar.ID, store.Reply{
			Cause: a.m.ID, Entry: id, Kind: kind.String(), Post: a.edits, Live: ok && passing(v, a.notes) && !open && !agrees, At: a.now,
		})
	})
	if err != nil {
		return nil, err
	}
	if a.posted != nil {
		a.lead = a.postedLead(newest)
	}
	if a.ofIt && ok && !newest && !said {
		a.lead += "\n" + a.in().Say(say.NewestNow)
	}
	post := a.post(kind, a.lead)
	if ok {
		v.Advice = placed(advice, id) // it was looked up before it had its id
		post = a.advicePost(v, a.lead, a.notes)
	}
	if same {
		post = a.post(chat.Question, a.lead)
		post.Buttons, post.Data = tasteButtons(a.in(), id), v.Data()
	}
	if a.notes.Uncalled != "" && len(post.Buttons) < maxButtons {
		post.Buttons = append(post.Buttons, callButton(a.in(), id))
	}
	if a.joined && len(post.Buttons) < maxButtons {
		post.Buttons = append(post.Buttons, chat.Button{Label: a.in().Say(say.AnotherLabel), State: pressState(pressApart, id)})
	}
	if a.called.ID != 0 && ok && advice.Lever != bar.Keep && len(post.Buttons) < maxButtons {
		post.Text += "\n" + a.in().StillCalled(a.coffee)
		post.Buttons = append(post.Buttons, chat.Button{Label: a.in().Say(say.NotDialledLabel), State: pressState(pressUncall, a.called.ID)})
	}
	if a.back.State != "" && len(post.Buttons) < maxButtons {
		post.Buttons = append(post.Buttons, a.back)
	}
	post.Files = alert.files
	post.Tick = agrees || post.Tick && len(post.Buttons) == 0
	if open && a.stale {
		post.Kind, post.Buttons = chat.Recorded, nil
	} else if open {
		post = asksWhose(a.in(), post, id)
	}
	outs := append([]Out{{Post: post, Edits: a.edits, Unsaid: unsaid, shot: shotShown(a.coffee, a.entry, newest)}}, over...)
	if warned, ok := a.caution(a.room, a.entry); ok {
		outs = slices.Insert(outs, 1, Out{Post: warned})
	}
	return outs, nil
}

// postedLead is what stands above a shot that a device has posted: which it is,
// where the advice is on another.
func (a answer) postedLead(newest bool) string {
	s, _ := a.entry.What.(bar.Shot)
	switch {
	case a.stale && newest:
		return a.in().PostedLate(a.coffee, a.entry, s)
	case newest:
		return a.in().Posted(*a.posted)
	}
	if a.stale {
		return a.in().PostedLate(a.coffee, a.entry, s)
	}
	return a.in().PostedEarlier(*a.posted, a.coffee, a.entry, s)
}

// placed returns the advice with the id that its shot has been given, if it had
// none.
func placed(a advisor.Advice, id bar.EntryID) advisor.Advice {
	if a.Shot == provisional {
		a.Shot = id
	}
	return a
}

// saidAlready reports whether the advice asks for what was said last.
func (a answer) saidAlready(advice advisor.Advice) (yes bool, err error) {
	err = a.see(func(tx *store.Tx) error {
		said, ok, err := tx.AdviceOf(a.bar.ID, advice.Shot)
		now := store.Said{Lever: advice.Lever, Unit: advice.Unit, From: advice.From, To: advice.To}
		yes = ok && sameChange(said, now)
		return err
	})
	return yes, err
}

// write puts the entry in the book and returns its id.
func (a answer) write(tx *store.Tx) (bar.EntryID, error) {
	if err := a.putAside(tx); err != nil {
		return 0, err
	}
	id, err := a.entry.ID, error(nil)
	if id != 0 {
		err = tx.PutEntry(a.bar.ID, a.entry)
	} else {
		id, err = tx.AddEntry(a.bar.ID, a.entry)
	}
	if err != nil || !a.call {
		return id, err
	}
	_, err = tx.AddEntry(a.bar.ID, a.dialledEntry(id))
	return id, err
}

// putAside takes out what a device posted of the same shot, which the entry
// points to.
func (a *answer) putAside(tx *store.Tx) error {
	if a.aside == nil {
		return nil
	}
	if a.aside.ID != 0 {
		return tx.PutEntry(a.bar.ID, *a.aside)
	}
	id, err := tx.AddEntry(a.bar.ID, *a.aside)
	s := a.entry.What.(bar.Shot)
	s.Posted = id
	a.entry.What = s
	return err
}

// dialledEntry calls the coffee dialled in by the shot.
func (a answer) dialledEntry(shot bar.EntryID) bar.Entry {
	return bar.Entry{
		Person: a.entry.Person, At: a.entry.At, Day: a.entry.Day, Raw: a.m.Text,
		What: bar.Dialled{Coffee: a.coffee.ID, Shot: shot},
	}
}

// history reads what the advisor needs to know of a coffee.
func (t *turn) history(c bar.CoffeeID) (h bar.History, err error) {
	err = t.see(func(tx *store.Tx) error {
		h, err = tx.History(t.bar.ID, c, t.now)
		return err
	})
	return h, err
}

// stored returns the entry with that id.
func (t *turn) stored(id bar.EntryID) (e bar.Entry, err error) {
	err = t.see(func(tx *store.Tx) error {
		e, err = tx.Entry(t.bar.ID, id)
		return err
	})
	return e, err
}

// with returns entries with e in its place: by its id, or by its time if it is
// new. A deleted entry is taken out.
func with(entries []bar.Entry, e bar.Entry) []bar.Entry {
	if e.ID == 0 {
		e.ID = provisional
	}
	list := make([]bar.Entry, 0, len(entries)+1)
	placed := e.Deleted
	for _, old := range entries {
		if !placed && old.At.After(e.At) {
			list, placed = append(list, e), true
		}
		if old.ID != e.ID {
			list = append(list, old)
		}
	}
	if !placed {
		list = append(list, e)
	}
	return list
}

// owner returns who the advice on a shot is for: who did what was done last,
// but never somebody who only tasted what another pulled.
func (a answer) owner(tx *store.Tx, shot bar.EntryID) (bar.PersonID, error) {
	if _, words := a.entry.What.(bar.Words); !words {
		return a.who.ID, nil
	}
	e, err := tx.Entry(a.bar.ID, shot)
	return e.Person, err
}

// keep records the advice as it is said. The same move said again is still
// that of the person who got it, when they got it, done or not.
func (t *turn) keep(tx *store.Tx, a advisor.Advice, owner bar.PersonID) error {
	said := store.Said{
		Entry: a.Shot, Coffee: a.Coffee, Grinder: a.Grinder, Person: owner, At: t.now, Model: advisor.Model,
		Lever: a.Lever, From: a.From, To: a.To, Unit: a.Unit, Purge: a.Purge, Expect: a.Expect,
		Sure: a.Sure, State: a.State, Reasons: a.Reasons,
	}
	about, err := tx.LastAdvised(t.bar.ID, a.Coffee)
	if err != nil {
		return err
	}
	if about == a.Shot {
		last, ok, err := tx.AdviceOf(t.bar.ID, about)
		if err != nil {
			return err
		}
		if ok && sameChange(last, said) && last.Grinder == said.Grinder {
			said.Person, said.At, said.Followed, said.Voided = cmp.Or(last.Person, owner), last.At, last.Followed, last.Voided
		}
	}
	return tx.PutAdvice(t.bar.ID, said)
}

// sameChange reports whether two advices, on whatever shots, ask for the same.
func sameChange(a, b store.Said) bool {
	return a.Lever == b.Lever && a.Unit == b.Unit && a.From == b.From && a.To == b.To
}

// advicePost puts an advice into a post: the action first, then why, then what
// was understood.
func (t *turn) advicePost(v say.Advice, lead string, notes say.Notes) chat.Post {
	p := t.post(v.Kind(), v.Text(lead, notes))
	p.Buttons = adviceButtons(v, notes)
	p.Data = v.Data()
	p.Tick = v.Ticks() && lead == "" && notes.Silent() && len(p.Buttons) == 0
	return p
}

// again advises on a coffee as things stand now, after something else than a
// shot has changed. Of a coffee without a shot it says lead only.
func (t *turn) again(c bar.CoffeeID, lead string) (chat.Post, error) {
	h, err := t.history(c)
	if err != nil {
		return chat.Post{}, err
	}
	a, ok := t.advise(h, c, t.now)
	if !ok {
		return t.post(chat.Recorded, lead), nil
	}
	err = t.update(func(tx *store.Tx) error {
		on, err := tx.Entry(t.bar.ID, a.Shot)
		if err != nil {
			return err
		}
		return t.keep(tx, a, on.Person)
	})
	if err != nil {
		return chat.Post{}, err
	}
	v, err := t.view(h, a)
	return t.advicePost(v, lead, say.Notes{}), err
}

// view looks up what an advice is about, and what moves together with it.
func (t *turn) view(h bar.History, a advisor.Advice) (say.Advice, error) {
	v := say.AdviceOf(h, a)
	if a.State != advisor.Drifting {
		return v, nil
	}
	r, err := t.room()
	if err != nil {
		return v, err
	}
	v.Other, err = t.leaning(r, a)
	return v, err
}
