package shots

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// Set notes where a grinder's dial was put between shots; its next shot has it.
func Set(t *turn.Turn, r *recent.Book, p parse.Set) ([]turn.Out, error) {
	if (p.Label || p.Whole) && ofLastShot(t, r, p.Grinder) {
		return Correct(t, r, parse.Correction{Grind: p.Grind})
	}
	if p.Undone {
		return undone(t, r, p)
	}
	if p.Order {
		return ordered(t, r, p)
	}
	if p.Also != nil {
		return setBoth(t, r, p)
	}
	g, ok := r.Settable(p)
	switch {
	case !ok && p.Weak && (len(r.InUse()) == 0 || p.Grind.Odd):
		return nil, nil // talk
	case !ok && len(r.InUse()) == 0:
		var err error
		if g, err = resolve.FirstGrinder(t, r); err != nil {
			return nil, err
		}
	case !ok:
		return resolve.Ask(t, r, func(e bar.EntryID) chat.Post { return grinderPost(t, r, e) })
	}
	entry := bar.Entry{Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text}
	if p.Grind.Again {
		if p.Grind, ok = asLast(r, p.Grind, g); !ok {
			return nil, nil // talk
		}
	}
	p.Grind = alongDial(p.Grind, g)
	if p.Grind.Back && p.Grind.X < 1 && g.Step > 0 && g.Step < 1 { // "down .2" is by what the dial shows
		p.Grind.X = math.Max(1, math.Round(p.Grind.X/float64(g.Step)))
	}
	p.Grind = stepsOrPlace(r, entry, p.Grind, g)
	if _, known := r.Stands(entry, g); p.Weak && !p.Whole && (!known && !firstPlace(p) || !(g.Step > 0) || farSet(r, entry, p, g) || p.Grind.Odd && !inUse(r, g)) {
		return nil, nil // talk
	}
	if post := setDoubt(t, r, entry, p, g); post != nil {
		return resolve.Ask(t, r, post)
	}
	if e, to, ok := onlyTurned(r, entry, p, g); ok {
		return correctShot(t, r, e, parse.Correction{Grind: to})
	}
	if p.Instead {
		return putInstead(t, r, entry, p, g)
	}
	return PutSet(t, r, entry, p, g)
}

// setDoubt returns what must be asked before a setting is noted, or nil.
func setDoubt(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder) func(bar.EntryID) chat.Post {
	_, known := r.Stands(entry, g)
	switch {
	case farSet(r, entry, p, g), p.Whole && !known:
		return func(e bar.EntryID) chat.Post { return farSetPost(t, r, e, p, g) }
	case howFar(r, entry, p, g):
		return func(e bar.EntryID) chat.Post { return howFarPost(t, r, e, p, g) }
	}
	return nil
}

// howFar reports whether a dial that is known was moved by no number of steps.
func howFar(r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder) bool {
	_, known := r.Stands(entry, g)
	return p.Grind.Relative && p.Grind.Odd && known && g.Step > 0 && g.Finer != bar.Unknown
}

// howFarPost asks where the dial stands now.
func howFarPost(t *turn.Turn, r *recent.Book, e bar.EntryID, p parse.Set, g bar.Grinder) chat.Post {
	at, _ := r.StandsNow(g)
	post := t.Post(chat.Question, t.Lang().HowFarQuestion(g, at, p.Grind.Text))
	turns := []float64{p.Grind.X, 2 * p.Grind.X, 3 * p.Grind.X}
	switch {
	case p.Grind.X == 0:
		turns = []float64{1, -1, 2, -2}
	case p.Grind.Back:
		turns = turnsBack(r, g, at, p.Grind.X)
	case p.Grind.Behind != 0:
		turns = []float64{p.Grind.Behind * stepsBetween(at, math.Abs(p.Grind.X), g), p.Grind.X}
	}
	for _, steps := range turns {
		to := g.Turn(at, steps)
		post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Written(g, to), State: DialButton(e, float64(to))})
	}
	post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Say(say.NoLabel), State: turn.PressState(turn.PressShot, e, say.ShotNo)})
	return post
}

// turnsBack returns how a dial may have been turned that went back so many steps:
// against its last move first.
func turnsBack(r *recent.Book, g bar.Grinder, at bar.Dial, steps float64) []float64 {
	if was, ok := cameFrom(r, g, at); ok && g.Turn(at, 1) > at != (was > at) {
		steps = -steps
	}
	return []float64{steps, -steps}
}

// DialButton is the state of a button that says where a dial stands.
func DialButton(e bar.EntryID, x float64) string {
	return turn.PressState(turn.PressTo, e, strconv.FormatFloat(x, 'g', 6, 64))
}

// putInstead notes a setting in the place of what the same person said of the same
// dial just before, which taking it back brings back.
func putInstead(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder) ([]turn.Out, error) {
	old, ok := ownMove(r, t.Who.ID, g.ID)
	if !ok {
		return PutSet(t, r, entry, p, g)
	}
	old.Deleted = true
	putAll(t, r, []bar.Entry{old})
	return putSet(t, r, entry, p, g, old)
}

// ownMove returns the last thing a person did, where it was to say where a
// grinder's dial was put, 0 for any grinder.
func ownMove(r *recent.Book, who bar.PersonID, g bar.GrinderID) (bar.Entry, bool) {
	for _, e := range slices.Backward(r.Recent) {
		if e.Person != who || e.Deleted {
			continue
		}
		w, ok := e.What.(bar.Told)
		return e, ok && w.Event == bar.Moved && !w.Shown && (g == 0 || w.Grinder == g) && e.Day == r.Day
	}
	return bar.Entry{}, false
}

// otherwise takes a number that puts the last message right, "sorry, 5.1", for
// where the dial stands, where that message said so.
func otherwise(t *turn.Turn, r *recent.Book, p parse.Correction) (outs []turn.Out, ours bool, err error) {
	e, ok := ownMove(r, t.Who.ID, 0)
	if !ok || !p.Bare.Said || p.Mass || p.Grind.Odd || p.Was.Said || p.Which != (parse.Which{}) || p.Of != 0 || t.Msg.ReplyTo != "" {
		return nil, false, nil
	}
	g, _ := r.Grinder(e.What.(bar.Told).Grinder)
	set := parse.Set{Grind: p.Grind, Grinder: g.ID, Instead: true}
	if farSet(r, bar.Entry{At: t.Now}, set, g) {
		return nil, false, nil
	}
	outs, err = Set(t, r, set)
	return outs, true, err
}

// ofLastShot reports whether a dial without more words is that of this person's
// last shot: it was answered, or nothing was known of its dial.
func ofLastShot(t *turn.Turn, r *recent.Book, g bar.GrinderID) bool {
	if t.Msg.ReplyTo != "" {
		_, ok, err := answered(t)
		return ok && err == nil
	}
	e, ok := r.Newest(func(e bar.Entry, _ bar.Shot) bool { return e.Person == t.Who.ID && e.Day == r.Day })
	if !ok {
		return false
	}
	s := e.What.(bar.Shot)
	_, set := r.DialSet(bar.Entry{At: t.Now}, s.Grinder)
	return s.Grind.From == bar.None && !set && (g == 0 || g == s.Grinder)
}

// farSet reports whether a dial was put far from where it is known to stand.
func farSet(r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder) bool {
	at, to, known := putTo(r, entry, p.Grind, g)
	switch {
	case p.Left || p.Grind.Odd:
		return false
	case p.Grind.Relative: // beyond the end of the dial it is refused
		return math.Abs(p.Grind.On(g).X) > resolve.FarMove && (!known || g.Holds(to))
	case !known:
		return false
	}
	return math.Abs(float64(at-to)) > resolve.NearSteps*g.Step+1e-9
}

// putTo returns from where to where a dial was put, and whether the numbers from which
// it went are known: else one that was moved by steps may stand anywhere.
func putTo(r *recent.Book, entry bar.Entry, p parse.Grind, g bar.Grinder) (at, to bar.Dial, known bool) {
	at, known = r.Stands(entry, g)
	p = p.On(g)
	known, to = known && g.Step > 0, bar.Dial(p.X)
	if p.Relative {
		to = g.Turn(at, p.X)
	}
	return at, to, known
}

// firstPlace reports whether the first that is heard of a dial is surely of one: its grinder
// is named, and the place has one decimal, as no hour has.
func firstPlace(p parse.Set) bool {
	return p.Grinder != 0 && p.Grind.Said && !p.Grind.Relative && !p.Grind.Odd && parse.OneDecimal(p.Grind.Text)
}

// PutSet writes it down, and says from where to where the dial went.
func PutSet(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder) ([]turn.Out, error) {
	p.Grind = stepsOrPlace(r, entry, p.Grind, g)
	return putSet(t, r, entry, p, learnWay(t, r, entry, p.Grind, g), bar.Entry{})
}

// learnWay returns the grinder with the way its dial goes, where that was not known and the
// move tells it: "finer to 3.2" from 3.5.
func learnWay(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Grind, g bar.Grinder) bar.Grinder {
	at, known := r.Stands(entry, g)
	if g.Finer != bar.Unknown || !known || p.Way == 0 || p.Relative || p.Odd || p.X == float64(at) {
		return g
	}
	if g.Finer = bar.Higher; (p.X < float64(at)) == (p.Way > 0) {
		g.Finer = bar.Lower
	}
	t.PutGrinder(g)
	return g
}

// putSet does so in the place of an older setting, if there is one.
func putSet(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder, old bar.Entry) ([]turn.Out, error) {
	told, text, err := moved(t, r, entry, p, g)
	if err != nil {
		return nil, err
	}
	if at, set := r.DialSet(entry, g.ID); set && at == told && at.Dial.From != bar.None && entry.ID == 0 && old.ID == 0 {
		return t.Says(chat.Info, text), nil // it is noted
	}
	entry.What = told
	back := ""
	if was, ok := r.Grinder(g.ID); ok && was.Finer != g.Finer { // the move told it
		text += "\n" + t.Lang().Direction(g)
	}
	if old.ID != 0 {
		text, back = t.Lang().SetInstead(g, old.What.(bar.Told), text), ":"+turn.IDText(old.ID)
	}
	between := stoodToo(r, old, entry)
	for _, e := range between {
		text += "\n" + t.Lang().CorrectedOf(e, r.NameOf(e.Person), []string{t.Lang().DialChange(g, old.What.(bar.Told).Dial, told.Dial)})
	}
	putAll(t, r, between)
	post := t.Post(chat.Recorded, text)
	err = writeSet(t, entry, func(tx *store.Tx, id bar.EntryID) error {
		post.Buttons = []chat.Button{{Label: t.Lang().Say(say.BackLabel), State: turn.PressState(turn.PressUnset, id) + back}}
		if p.Label {
			post.Buttons = append(post.Buttons, chat.Button{Label: t.Lang().Say(say.OfShotLabel), State: turn.PressState(turn.PressOf, id)})
		}
		return t.Remember(tx, post)
	})
	if err != nil || len(between) == 0 {
		return []turn.Out{{Post: post}}, err
	}
	again, err := answer.Again(t, between[0].What.(bar.Shot).Coffee, text)
	again.Buttons = append(again.Buttons, post.Buttons...)
	return []turn.Out{{Post: again}}, err
}

// setBeside writes down what the words about a shot say of its grinder's dial, and
// returns what to say of it. It is undone with the words.
func setBeside(t *turn.Turn, r *recent.Book, at time.Time, shot bar.Shot, p parse.Set) (string, error) {
	if p.Grinder == 0 {
		p.Grinder = shot.Grinder
	}
	g, ok := r.Settable(p)
	if !ok {
		return "", nil
	}
	entry := bar.Entry{With: t.Msg.ID, Person: t.Who.ID, At: toldAt(at), Day: bar.DayOf(at), Raw: t.Msg.Text}
	if steps := stepsOrPlace(r, entry, p.Grind, g); !steps.Odd { // else the number is where it stands: what is noted is shown
		p.Grind = steps
	}
	if farSet(r, entry, p, g) {
		_, to, known := putTo(r, entry, p.Grind, g)
		if p.Grind.Relative && !known {
			return t.Lang().FarMoveQuestion(g, p.Grind.Text), nil
		}
		return t.Lang().FarBeside(g, to), nil
	}
	told, text, err := moved(t, r, entry, p, g)
	if err != nil {
		return "", err
	}
	entry.What = told
	putAll(t, r, []bar.Entry{entry})
	return text, nil
}

// moved returns what is to be written down of a dial that was put somewhere, and
// what to say of it.
func moved(t *turn.Turn, r *recent.Book, entry bar.Entry, p parse.Set, g bar.Grinder) (bar.Told, string, error) {
	if err := parse.Check(parse.Shot{Grind: p.Grind}); err != nil {
		return bar.Told{}, "", err
	}
	base, known, err := base(t, r, entry, g)
	if p.Instead { // of what was said to be done
		base, known = r.Stands(entry, g)
	}
	if err != nil {
		return bar.Told{}, "", err
	}
	known = known && (g.Step > 0 || p.Grind.Relative) // steps that were counted are no numbers of a dial
	if p.Left {
		base, known = r.Stands(entry, g)
	} else {
		g = resolve.LearnDial(t, r, g.ID, p.Grind, entry)
		if p.Grind = placed(r, entry, p.Grind, g, base, known); p.Grind.Odd {
			return bar.Told{}, "", turn.Mistake(t.WriterLang().Unplaced(g, say.Notes{Odd: p.Grind.Text, Beyond: p.Grind.Beyond}))
		}
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
		before, _ := r.DialSet(entry, g.ID)
		told.Turned = before.Turned + p.Grind.X
	}
	stays := p.Left || known && g.Step > 0 && told.Dial.X == base && told.Dial.From != bar.None
	return told, t.Lang().Set(g, told, base, known, stays), nil
}

// placed returns a position that was set as the people of its grinder mean it. One
// beyond the end of the dial is odd.
func placed(r *recent.Book, entry bar.Entry, p parse.Grind, g bar.Grinder, base bar.Dial, known bool) parse.Grind {
	if !p.Relative {
		return r.Settle(entry, p, g)
	}
	p = p.On(g)
	if !p.Odd && known && g.Step > 0 && !g.Holds(g.Turn(base, p.X)) {
		p.Odd, p.Beyond = true, true
	}
	return p
}

// writeSet puts the entry in the book, anew or in place of what was asked about, and
// does what needs its id.
func writeSet(t *turn.Turn, e bar.Entry, then func(*store.Tx, bar.EntryID) error) error {
	return t.Update(func(tx *store.Tx) (err error) {
		id := e.ID
		if id == 0 {
			id, err = tx.AddEntry(t.Bar.ID, e)
		} else {
			err = tx.PutEntry(t.Bar.ID, e)
		}
		if err != nil {
			return err
		}
		reply := store.Reply{Cause: t.Msg.ID, Entry: id, Kind: chat.Recorded.String(), At: t.Now}
		return errors.Join(tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now), tx.PutReply(t.Bar.ID, reply), then(tx, id))
	})
}

// grinderPost asks which grinder was set.
func grinderPost(t *turn.Turn, r *recent.Book, e bar.EntryID) chat.Post {
	post := t.Post(chat.Question, t.Lang().WhichSetQuestion(r.InUse()))
	for _, g := range r.InUse()[:min(len(r.InUse()), turn.MaxButtons)] {
		post.Buttons = append(post.Buttons, chat.Button{Label: say.Clip(g.Name), State: turn.PressState(turn.PressOn, e, turn.IDText(g.ID))})
	}
	return post
}

// farSetPost asks whether a dial was really put so far from where it stood.
func farSetPost(t *turn.Turn, r *recent.Book, e bar.EntryID, p parse.Set, g bar.Grinder) chat.Post {
	at, to, known := putTo(r, bar.Entry{At: t.Now}, p.Grind, g)
	post := t.Post(chat.Question, t.Lang().FarSetQuestion(g, at, to))
	switch {
	case known:
	case p.Grind.Relative:
		post.Text = t.Lang().FarMoveQuestion(g, p.Grind.Text)
	case p.Whole:
		post.Text = t.Lang().PlaceQuestion(g, to)
	}
	post.Buttons = []chat.Button{
		{Label: t.Lang().Say(say.YesLabel), State: turn.PressState(turn.PressShot, e, say.ShotYes)}, {Label: t.Lang().Say(say.NoLabel), State: turn.PressState(turn.PressShot, e, say.ShotNo)},
	}
	return post
}

// setQuestion asks again about a setting that was kept.
func setQuestion(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Set) chat.Post {
	g, ok := r.Settable(p)
	if !ok {
		return grinderPost(t, r, e.ID)
	}
	p.Grind = stepsOrPlace(r, e, p.Grind, g)
	if post := setDoubt(t, r, e, p, g); post != nil {
		return post(e.ID)
	}
	return farSetPost(t, r, e.ID, p, g)
}

// heldSet goes on with a setting that was asked about.
func heldSet(t *turn.Turn, r *recent.Book, e bar.Entry, p parse.Set, verb, arg string) (outs []turn.Out, err error) {
	if verb == turn.PressOn {
		for _, g := range r.InUse() {
			if turn.IDText(g.ID) == arg {
				p.Grinder = g.ID
			}
		}
	}
	if g, ok := r.Grinder(p.Grinder); ok && verb == turn.PressOn {
		lead, err := setWaiting(t, r, e, g)
		if err != nil {
			return nil, err
		}
		defer func() {
			if len(outs) > 0 {
				outs[0].Text = lead + outs[0].Text
			}
		}()
	}
	if verb == turn.PressTo {
		x, err := strconv.ParseFloat(arg, 64)
		if err != nil || math.IsNaN(x) {
			return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
		}
		p.Grind = parse.Grind{X: x, Said: true, Text: arg}
	}
	g, ok := r.Settable(p)
	if p.Order {
		_, g, ok = orderedOf(r, e, p)
	}
	if !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	p.Grind = stepsOrPlace(r, e, p.Grind, g)
	if post := setDoubt(t, r, e, p, g); post != nil && (verb == turn.PressOn || verb == turn.PressTo) {
		return []turn.Out{{Post: post(e.ID)}}, nil
	}
	return PutSet(t, r, e, p, g)
}
