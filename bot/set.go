package bot

import (
	"math"
	"slices"
	"strconv"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// Presses about a dial that was set between shots.
const (
	pressUnset = "unset" // it was not
	pressOf    = "of"    // it was the last shot's
	pressOn    = "on"    // which grinder it was
	pressTo    = "to"    // where it stands now
)

// set notes where a grinder's dial was put between shots; its next shot has it.
func (t *turn) set(r *room, p parse.Set) ([]Out, error) {
	if p.Label && t.ofLastShot(r) {
		return t.correct(r, parse.Correction{Grind: p.Grind})
	}
	g, ok := r.settable(p)
	if !ok {
		if len(r.inUse()) == 0 {
			return nil, nil
		}
		return t.ask(r, func(e bar.EntryID) chat.Post { return t.grinderPost(r, e) })
	}
	entry := bar.Entry{Message: t.m.ID, Person: t.who.ID, At: t.now, Day: r.day, Raw: t.m.Text}
	if _, known := r.stands(entry, g); p.Weak && (!known || !(g.Step > 0) || r.farSet(entry, p, g)) {
		return nil, nil // talk
	}
	if post := t.setDoubt(r, entry, p, g); post != nil {
		return t.ask(r, post)
	}
	if p.Instead {
		return t.putInstead(r, entry, p, g)
	}
	return t.putSet(r, entry, p, g)
}

// setDoubt returns what must be asked before a setting is noted, or nil.
func (t *turn) setDoubt(r *room, entry bar.Entry, p parse.Set, g bar.Grinder) func(bar.EntryID) chat.Post {
	switch {
	case r.farSet(entry, p, g):
		return func(e bar.EntryID) chat.Post { return t.farSetPost(r, e, p, g) }
	case r.howFar(entry, p, g):
		return func(e bar.EntryID) chat.Post { return t.howFarPost(r, e, p, g) }
	}
	return nil
}

// howFar reports whether a dial that is known was moved by no number of steps.
func (r *room) howFar(entry bar.Entry, p parse.Set, g bar.Grinder) bool {
	_, known := r.stands(entry, g)
	return p.Grind.Relative && p.Grind.Odd && p.Grind.X != 0 && known && g.Step > 0 && g.Finer != bar.Unknown
}

// howFarPost asks where the dial stands now.
func (t *turn) howFarPost(r *room, e bar.EntryID, p parse.Set, g bar.Grinder) chat.Post {
	at, _ := r.stands(bar.Entry{At: t.now}, g)
	post := t.post(chat.Question, t.in().HowFarQuestion(g, at, p.Grind.Text))
	turns := []float64{p.Grind.X, 2 * p.Grind.X, 3 * p.Grind.X}
	if p.Grind.Back {
		turns = r.turnsBack(g, at, p.Grind.X)
	}
	for _, steps := range turns {
		to := g.Turn(at, steps)
		post.Buttons = append(post.Buttons, chat.Button{Label: parse.Write(g, to), State: toState(e, float64(to))})
	}
	post.Buttons = append(post.Buttons, chat.Button{Label: t.in().Say(say.NoLabel), State: pressState(pressShot, e, say.ShotNo)})
	return post
}

// turnsBack returns how a dial may have been turned that went back so many steps:
// against its last move first.
func (r *room) turnsBack(g bar.Grinder, at bar.Dial, steps float64) []float64 {
	for _, e := range slices.Backward(slices.Concat(r.before, r.recent)) {
		was := bar.Value[bar.Dial]{}
		switch w := e.What.(type) {
		case bar.Shot:
			if w.Grinder == g.ID {
				was = w.Grind
			}
		case bar.Told:
			if w.Grinder == g.ID && w.Event == bar.Moved {
				was = w.Dial
			}
		case bar.Words, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
		}
		if e.Deleted || was.From == bar.None || was.X == at {
			continue
		}
		if g.Turn(at, 1) > at != (was.X > at) {
			steps = -steps
		}
		break
	}
	return []float64{steps, -steps}
}

// toState is the state of a button that says where a dial stands.
func toState(e bar.EntryID, x float64) string {
	return pressState(pressTo, e, strconv.FormatFloat(x, 'g', 6, 64))
}

// putInstead notes a setting in the place of what the same person said of the same
// dial just before, which taking it back brings back.
func (t *turn) putInstead(r *room, entry bar.Entry, p parse.Set, g bar.Grinder) ([]Out, error) {
	old, ok := r.ownMove(t.who.ID, g.ID)
	if !ok {
		return t.putSet(r, entry, p, g)
	}
	old.Deleted = true
	r.recent = with(r.recent, old)
	outs, err := t.putSet(r, entry, p, g)
	if err != nil {
		return outs, err
	}
	outs[0].Text = t.in().SetInstead(g, old.What.(bar.Told), outs[0].Text)
	err = t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, old) })
	for i := range outs[0].Buttons {
		if b := &outs[0].Buttons[i]; b.Label == t.in().Say(say.BackLabel) {
			b.State += ":" + idText(old.ID)
		}
	}
	return outs, err
}

// ownMove returns the last thing a person did, where it was to say where a
// grinder's dial was put, 0 for any grinder.
func (r *room) ownMove(who bar.PersonID, g bar.GrinderID) (bar.Entry, bool) {
	for _, e := range slices.Backward(r.recent) {
		if e.Person != who || e.Deleted {
			continue
		}
		w, ok := e.What.(bar.Told)
		return e, ok && w.Event == bar.Moved && !w.Shown && (g == 0 || w.Grinder == g) && e.Day == r.day
	}
	return bar.Entry{}, false
}

// otherwise takes a number that puts the last message right, "sorry, 5.1", for
// where the dial stands, where that message said so.
func (t *turn) otherwise(r *room, p parse.Correction) (outs []Out, ours bool, err error) {
	e, ok := r.ownMove(t.who.ID, 0)
	if !ok || !p.Bare.Said || p.Mass || p.Grind.Odd || p.Was.Said || t.m.ReplyTo != "" {
		return nil, false, nil
	}
	g, _ := r.grinder(e.What.(bar.Told).Grinder)
	set := parse.Set{Grind: p.Grind, Grinder: g.ID, Instead: true}
	if r.farSet(bar.Entry{At: t.now}, set, g) {
		return nil, false, nil
	}
	outs, err = t.set(r, set)
	return outs, true, err
}

// ofLastShot reports whether a dial without more words is that of this person's
// last shot: it was answered, or nothing was known of its dial.
func (t *turn) ofLastShot(r *room) bool {
	if t.m.ReplyTo != "" {
		_, ok, err := t.answered()
		return ok && err == nil
	}
	e, ok := r.newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == t.who.ID && e.Day == r.day })
	if !ok {
		return false
	}
	s := e.What.(bar.Shot)
	_, set := r.dialSet(bar.Entry{At: t.now}, s.Grinder)
	return s.Grind.From == bar.None && !set
}

// settable returns the grinder that was set.
func (r *room) settable(p parse.Set) (bar.Grinder, bool) {
	if p.Grinder != 0 {
		return r.grinder(p.Grinder)
	}
	if p.Coffee == 0 && len(r.inUse()) == 1 {
		return r.inUse()[0], true
	}
	c, ok := r.which(p.Coffee)
	if !ok {
		return bar.Grinder{}, false
	}
	return r.grinder(c.Grinder)
}

// farSet reports whether a dial was put far from where it is known to stand.
func (r *room) farSet(entry bar.Entry, p parse.Set, g bar.Grinder) bool {
	at, known := r.stands(entry, g)
	if !known || p.Left || p.Grind.Relative || p.Grind.Odd || !(g.Step > 0) {
		return false
	}
	return math.Abs(float64(at)-p.Grind.X) > nearSteps*g.Step+1e-9
}

// putSet writes it down, and says from where to where the dial went.
func (t *turn) putSet(r *room, entry bar.Entry, p parse.Set, g bar.Grinder) ([]Out, error) {
	told, text, err := t.moved(r, entry, p, g)
	if err != nil {
		return nil, err
	}
	entry.What = told
	id, err := t.writeSet(entry)
	if err != nil {
		return nil, err
	}
	post := t.post(chat.Recorded, text)
	post.Buttons = []chat.Button{{Label: t.in().Say(say.BackLabel), State: pressState(pressUnset, id)}}
	if p.Label {
		post.Buttons = append(post.Buttons, chat.Button{Label: t.in().Say(say.OfShotLabel), State: pressState(pressOf, id)})
	}
	return []Out{{Post: post}}, nil
}

// setBeside writes down what the words about a shot say of its grinder's dial, and
// returns what to say of it. It is undone with the words.
func (t *turn) setBeside(r *room, at time.Time, shot bar.Shot, p parse.Set) (string, error) {
	if p.Grinder == 0 {
		p.Grinder = shot.Grinder
	}
	g, ok := r.settable(p)
	if !ok {
		return "", nil
	}
	entry := bar.Entry{With: t.m.ID, Person: t.who.ID, At: toldAt(at), Day: bar.DayOf(at), Raw: t.m.Text}
	if r.farSet(entry, p, g) {
		return t.in().FarBeside(g, bar.Dial(p.Grind.X)), nil
	}
	told, text, err := t.moved(r, entry, p, g)
	if err != nil {
		return "", err
	}
	entry.What = told
	err = t.update(func(tx *store.Tx) error {
		entry.ID = 0
		entry.ID, err = tx.AddEntry(t.bar.ID, entry)
		return err
	})
	r.recent = with(r.recent, entry)
	return text, err
}

// moved returns what is to be written down of a dial that was put somewhere, and
// what to say of it.
func (t *turn) moved(r *room, entry bar.Entry, p parse.Set, g bar.Grinder) (bar.Told, string, error) {
	if err := parse.Check(parse.Shot{Grind: p.Grind}); err != nil {
		return bar.Told{}, "", err
	}
	base, known, err := t.base(r, entry, g)
	if err != nil {
		return bar.Told{}, "", err
	}
	known = known && (g.Step > 0 || p.Grind.Relative) // steps that were counted are no numbers of a dial
	if p.Left {
		base, known = r.stands(entry, g)
	} else if g, err = t.learnDial(r, g.ID, p.Grind, entry); err != nil {
		return bar.Told{}, "", err
	} else if p.Grind = r.placed(entry, p.Grind, g, base, known); p.Grind.Odd {
		return bar.Told{}, "", mistake(t.own().Unplaced(g, say.Notes{Odd: p.Grind.Text, Beyond: p.Grind.Beyond}))
	}
	told := bar.Told{Event: bar.Moved, Grinder: g.ID, Purged: p.Purged}
	switch {
	case p.Left && known:
		told.Dial = bar.Value[bar.Dial]{X: base, From: bar.Said}
	case p.Left:
	case !p.Grind.Relative:
		told.Dial = bar.Value[bar.Dial]{X: bar.Dial(p.Grind.X), From: bar.Said, Rough: p.Grind.Rough}
	case known:
		told.Dial = bar.Value[bar.Dial]{X: g.Turn(base, p.Grind.X), From: bar.Said}
	default:
		before, _ := r.dialSet(entry, g.ID)
		told.Turned = before.Turned + p.Grind.X
	}
	return told, t.in().Set(g, told, base, known, p.Left), nil
}

// placed returns a position that was set as the people of its grinder mean it. One
// beyond the end of the dial is odd.
func (r *room) placed(entry bar.Entry, p parse.Grind, g bar.Grinder, base bar.Dial, known bool) parse.Grind {
	if !p.Relative {
		return r.settle(entry, p, g)
	}
	if !p.Odd && known && g.Step > 0 && !g.Holds(g.Turn(base, p.X)) {
		p.Odd, p.Beyond = true, true
	}
	return p
}

// writeSet puts the entry in the book, anew or in place of what was asked about.
func (t *turn) writeSet(e bar.Entry) (id bar.EntryID, err error) {
	err = t.update(func(tx *store.Tx) error {
		if id = e.ID; id == 0 {
			if id, err = tx.AddEntry(t.bar.ID, e); err != nil {
				return err
			}
		} else if err := tx.PutEntry(t.bar.ID, e); err != nil {
			return err
		}
		if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
			return err
		}
		return tx.PutReply(t.bar.ID, store.Reply{Cause: t.m.ID, Entry: id, Kind: chat.Recorded.String(), At: t.now})
	})
	return id, err
}

// dialSet returns where a grinder's dial was put since its last shot before an
// entry, if it was.
func (r *room) dialSet(before bar.Entry, g bar.GrinderID) (bar.Told, bool) {
	e, ok := r.lastMove(before, g)
	if !ok {
		return bar.Told{}, false
	}
	return e.What.(bar.Told), true
}

// lastMove returns the entry that says so.
func (r *room) lastMove(before bar.Entry, g bar.GrinderID) (found bar.Entry, ok bool) {
	for _, entries := range [][]bar.Entry{r.before, r.recent} {
		for _, e := range entries {
			if e.Deleted || !earlier(e, before) {
				continue
			}
			switch w := e.What.(type) {
			case bar.Shot:
				ok = ok && w.Grinder != g
			case bar.Told:
				if w.Grinder == g && w.Event == bar.Moved {
					found, ok = e, true
				} else if w.Grinder == g && w.Event == bar.Rezeroed {
					ok = false
				}
			case bar.Words, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
			}
		}
	}
	return found, ok
}

// stands returns where a grinder's dial stands before an entry: where it was put
// since its last shot, else as that shot had it.
func (r *room) stands(before bar.Entry, g bar.Grinder) (bar.Dial, bool) {
	if w, ok := r.dialSet(before, g.ID); ok && w.Dial.From != bar.None {
		return w.Dial.X, true
	} else if ok && w.Turned != 0 {
		return 0, false
	}
	at, known := r.position(before, g)
	return at, known || !(g.Step > 0)
}

// base returns from where a dial was moved: where it stands, or where somebody
// had put it who said that advice was done.
func (t *turn) base(r *room, entry bar.Entry, g bar.Grinder) (bar.Dial, bool, error) {
	at, known := r.stands(entry, g)
	last, ok := r.newest(func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && earlier(e, entry) })
	if _, moved := r.dialSet(entry, g.ID); moved || !ok {
		return at, known, nil
	}
	var said store.Said
	err := t.see(func(tx *store.Tx) (err error) {
		said, ok, err = tx.AdviceOf(t.bar.ID, last.ID)
		return err
	})
	if err != nil || !ok || !said.Followed || said.Voided || said.Lever != bar.Grind || said.Grinder != g.ID || said.Unit != advisor.DialUnit {
		return at, known, err
	}
	return bar.Dial(said.To), true, nil
}

// grinderPost asks which grinder was set.
func (t *turn) grinderPost(r *room, e bar.EntryID) chat.Post {
	post := t.post(chat.Question, t.in().WhichSetQuestion(r.inUse()))
	for _, g := range r.inUse()[:min(len(r.inUse()), maxButtons)] {
		post.Buttons = append(post.Buttons, chat.Button{Label: say.Clip(g.Name), State: pressState(pressOn, e, idText(g.ID))})
	}
	return post
}

// farSetPost asks whether a dial was really put so far from where it stood.
func (t *turn) farSetPost(r *room, e bar.EntryID, p parse.Set, g bar.Grinder) chat.Post {
	at, _ := r.stands(bar.Entry{At: t.now}, g)
	post := t.post(chat.Question, t.in().FarSetQuestion(g, at, bar.Dial(p.Grind.X)))
	post.Buttons = []chat.Button{
		{Label: t.in().Say(say.YesLabel), State: pressState(pressShot, e, say.ShotYes)}, {Label: t.in().Say(say.NoLabel), State: pressState(pressShot, e, say.ShotNo)},
	}
	return post
}

// setQuestion asks again about a setting that was kept.
func (t *turn) setQuestion(r *room, e bar.Entry, p parse.Set) chat.Post {
	g, ok := r.settable(p)
	if !ok {
		return t.grinderPost(r, e.ID)
	}
	if post := t.setDoubt(r, e, p, g); post != nil {
		return post(e.ID)
	}
	return t.farSetPost(r, e.ID, p, g)
}

// heldSet goes on with a setting that was asked about.
func (t *turn) heldSet(r *room, e bar.Entry, p parse.Set, verb, arg string) ([]Out, error) {
	if verb == pressOn {
		for _, g := range r.inUse() {
			if idText(g.ID) == arg {
				p.Grinder = g.ID
			}
		}
	}
	if verb == pressTo {
		x, err := strconv.ParseFloat(arg, 64)
		if err != nil || math.IsNaN(x) {
			return nil, mistake(t.own().Say(say.OldButton))
		}
		p.Grind = parse.Grind{X: x, Said: true, Text: arg}
	}
	g, ok := r.settable(p)
	if !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	if post := t.setDoubt(r, e, p, g); post != nil && (verb == pressOn || verb == pressTo) {
		return []Out{{Post: post(e.ID)}}, nil
	}
	return t.putSet(r, e, p, g)
}

// pressUnset takes back that a dial was set; or says that it was the last
// shot's.
func (t *turn) pressUnset(r *room, e bar.Entry, verb, arg string) ([]Out, error) {
	w, ok := e.What.(bar.Told)
	if !ok || w.Event != bar.Moved {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	if verb == pressUnset {
		return t.unset(r, e, arg)
	}
	e.Deleted = true
	if err := t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, e) }); err != nil {
		return nil, err
	}
	r.recent = with(r.recent, e)
	shot, ok := r.newest(func(o bar.Entry, s bar.Shot) bool { return s.Grinder == w.Grinder && earlier(o, e) })
	if !ok || w.Dial.From == bar.None {
		return nil, mistake(t.own().Say(say.NothingToCorrect))
	}
	g := parse.Grind{X: float64(w.Dial.X), Said: true, Rough: w.Dial.Rough}
	return t.putRight(r, shot, shot.What.(bar.Shot), parse.Correction{Grind: g}, bar.Said)
}

// unset takes back where a dial was put; what it stood in the place of holds again.
func (t *turn) unset(r *room, e bar.Entry, before string) ([]Out, error) {
	id, err := strconv.ParseUint(before, 10, 64)
	if err != nil {
		return t.takeOut(r, e, "")
	}
	old, err := t.stored(bar.EntryID(id))
	if err != nil {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	old.Deleted = false
	if err := t.update(func(tx *store.Tx) error { return tx.PutEntry(t.bar.ID, old) }); err != nil {
		return nil, err
	}
	r.recent = with(r.recent, old)
	return t.takeOut(r, e, "")
}

// unmoved takes out where a grinder's dial was put since its last shot: somebody
// says now that it stands elsewhere.
func (t *turn) unmoved(tx *store.Tx, r *room, g bar.GrinderID) error {
	e, ok := r.lastMove(bar.Entry{At: t.now}, g)
	if !ok {
		return nil
	}
	e.Deleted = true
	return tx.PutEntry(t.bar.ID, e)
}
