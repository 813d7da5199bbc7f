package bot

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"log/slog"
	"slices"
	"strings"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// A Bot answers messages and keeps its records in a store.
type Bot struct {
	tools  *tools
	made   Options
	open   bool
	pulses pulses
}

// Tools are what a message is handled with, whichever it is.
type tools struct {
	store  *store.Store
	log    *slog.Logger
	meter  Meter
	clock  func() time.Time
	wakes  bool // bars are woken by the clock
	advise Advisor
	// outlook tells where a coffee stands.
	outlook func(bar.History, bar.CoffeeID, time.Time) (advisor.Outlook, bool)
	// clocked tells which of two settings the time of a shot fits.
	chances func(bar.History, bar.CoffeeID, time.Time) advisor.Chances
	clocked func(bar.History, bar.EntryID, bar.Value[bar.Dial]) float64
}

// An Advisor advises on a coffee, or returns false if there is nothing to say.
type Advisor func(bar.History, bar.CoffeeID, time.Time) (advisor.Advice, bool)

// Options say how a bot behaves.
type Options struct {
	Log    *slog.Logger // nil: nothing is logged
	Open   bool         // any channel is a bar, without setup
	Advise Advisor      // nil: package advisor, with a memory
	// Resend says that replies which were written and perhaps not sent when
	// the program last stopped are sent by Run.
	Resend bool
	// Clock tells the time while nobody speaks, and by it Run does what is due;
	// nil: it stands at zero, and the service has to tick.
	Clock func() time.Time
	Meter Meter // nil: nothing is counted
}

// New returns a bot that keeps its records in s.
func New(s *store.Store, o Options) *Bot {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	memory := advisor.NewMemory(remembered)
	if o.Advise == nil {
		o.Advise = memory.Advise
	}
	if o.Meter == nil {
		o.Meter = unmetered{}
	}
	clock := o.Clock
	if clock == nil {
		clock = func() time.Time { return time.Time{} }
	}
	return &Bot{made: o, open: o.Open, tools: &tools{
		meter: o.Meter, store: s, log: o.Log, clock: clock, wakes: o.Clock != nil,
		advise: metered(o.Advise, o.Meter), outlook: memory.Outlook, clocked: memory.Clocked, chances: memory.Chances,
	}}
}

// Options returns how the bot was made, with what stands for what was left out.
func (b *Bot) Options() Options { return b.made }

// remembered is how many coffees' replays are kept between shots: some 50 MB.
const remembered = 256

// An Out is a post to send, or to put in place of an earlier one.
type Out struct {
	chat.Post
	Edits  string // id of the post it replaces, or empty
	Bare   bool   // of the post it edits only the buttons are taken away
	Unsaid bool   // it is for the device that posted, and not for the chat

	deed     *deedRef    // that is done once it is sent, or nil
	inThread bool        // it goes into the thread of its deed's day
	again    bool        // what was posted had been taken before
	shot     *PostedShot // what stands for what was posted, or nil
	err      error       // that it tells of, or nil
}

// A turn is one message being handled.
type turn struct {
	*tools
	m   chat.Message
	bar bar.Bar
	now time.Time // in the bar's zone
	who bar.Person

	looked *store.Reading // shared by all that reads for the message, or nil
	asking store.Reply    // the last question to this person when the message came, or zero
}

// Handle returns what to say to m. What it says is on the disk already.
func (b *Bot) Handle(m chat.Message) []Out {
	t, ok, err := b.turn(m)
	defer t.unlook()
	if m.Kind == chat.Tick {
		return b.tick(t, ok, err)
	}
	if ok {
		b.pulses.get(m.Channel).listen(m.At)
	}
	if err == nil && ok {
		var outs []Out
		outs, err = t.handle()
		if err == nil {
			if err := errors.Join(t.remember(outs), t.rememberBack(outs)); err != nil {
				b.tools.log.Error("handle", "message", m.ID, "err", err)
			}
			return outs
		}
	}
	if err == nil || errors.Is(err, store.ErrSeen) {
		return nil
	}
	if !errors.Is(err, store.ErrNotSaved) {
		if err := t.markTold(); err != nil {
			b.tools.log.Error("handle", "message", m.ID, "err", err)
		}
	}
	if m.Device {
		return []Out{{Post: b.trouble(t.own(), m, err), err: err, Unsaid: t.outside()}}
	}
	post, err := t.askMeant(b.trouble(t.own(), m, err), err)
	if err != nil {
		b.tools.log.Error("handle", "message", m.ID, "err", err)
	}
	return []Out{{Post: post}}
}

// Failed is what the person hears of an error that kept m from being handled.
func (b *Bot) Failed(m chat.Message, err error) Out {
	return Out{Post: b.trouble(ownLanguage(m, say.Lang{}), m, err)}
}

// trouble returns what the person hears of an error. Theirs are told; the
// rest goes to the log.
func (b *Bot) trouble(l say.Lang, m chat.Message, err error) chat.Post {
	p := chat.Post{Kind: chat.Error, Channel: m.Channel, Thread: m.Thread, Cause: m.ID, At: m.At, Private: true}
	var theirs parse.Mistake
	var said mistake
	var named misnamed
	switch {
	case errors.As(err, &theirs):
		p.Text = l.Mistake(theirs)
	case errors.As(err, &said):
		p.Text = string(said)
	case errors.As(err, &named):
		p.Text = string(named.mistake)
	case errors.Is(err, store.ErrNotSaved):
		b.tools.log.Error("not saved", "message", m.ID, "err", err)
		p.Text, p.Private = l.Say(say.NotSaved), false
	default:
		b.tools.log.Error("handle", "message", m.ID, "err", err)
		p.Text = l.Say(say.Trouble)
	}
	return p
}

// A mistake is an error to tell the person who made it.
type mistake = say.Error

// turn finds the bar and the person of m. It is false for a channel that is
// no bar.
func (b *Bot) turn(m chat.Message) (t *turn, ok bool, err error) {
	t, found, known, err := b.find(m, b.tools.store.Reading())
	m = t.m
	if m.Device { // of no person, and in no bar of its own making
		t.now = b.tools.store.InZone(m.At, t.bar.Zone)
		return t, found, err
	}
	if err == nil && !found && !b.open {
		err = setUp(m)
		if err != nil || m.Kind != chat.Called {
			return t, false, err
		}
	}
	if err != nil || m.Kind == chat.Tick || !found && m.From.ID == "" {
		t.now = b.tools.store.InZone(m.At, t.bar.Zone)
		return t, found, err
	}
	// A service need not know who deleted something, and nobody is written down
	// for asking to be forgotten.
	if m.From.ID == "" || m.Kind == chat.Pressed && m.Press == pressForget {
		known = true
	}
	if !found || !known {
		err = t.update(func(tx *store.Tx) error {
			if !found {
				if t.bar, err = tx.AddBar(m.Channel, bar.Bar{Name: cmp.Or(say.ShownName(m.Title), m.Channel), Language: homeLanguage(m)}); err != nil {
					return err
				}
			}
			t.who, err = tx.PersonOf(t.bar.ID, m.From.ID, m.From.Name)
			return err
		})
	}
	t.now = b.tools.store.InZone(m.At, t.bar.Zone)
	return t, true, err
}

// find reads the bar of m and who wrote, and whether either is known, with a look
// if there is one.
func (b *Bot) find(m chat.Message, look *store.Reading) (t *turn, found, known bool, err error) {
	m.From.Name = say.ShownName(m.From.Name)
	t = &turn{tools: b.tools, m: m, looked: look}
	err = t.see(func(tx *store.Tx) error {
		id, ok := tx.BarOf(m.Channel)
		if found = ok; !ok {
			return nil
		}
		if t.bar, err = tx.Bar(id); err != nil {
			return err
		}
		t.who, known, err = person(tx, id, m.From)
		return err
	})
	return t, found, known, err
}

// setUp returns why a channel that is no bar does not become one by m, or nil.
// Nothing is read there before, so only commands are answered.
func setUp(m chat.Message) error {
	zone := option(m.Command, "zone", "")
	switch {
	case m.Kind != chat.Called:
		return nil
	case m.Command.Name != "setup":
		return mistake(ownLanguage(m, say.Lang{}).Say(say.SetUpFirst))
	case !m.Manager:
		return mistake(ownLanguage(m, say.Lang{}).Say(say.NotManager))
	case zone == "":
		return mistake(ownLanguage(m, say.Lang{}).Say(say.SetUpZone))
	}
	return checkZone(ownLanguage(m, say.Lang{}), zone)
}

// person finds who wrote among the bar's people, under the name they have now.
func person(tx *store.Tx, here bar.ID, from chat.Person) (bar.Person, bool, error) {
	people, err := tx.People(here)
	for _, p := range people {
		if p.Account == from.ID && p.Name == from.Name {
			return p, true, err
		}
	}
	return bar.Person{}, false, err
}

func (t *turn) handle() ([]Out, error) {
	if t.m.Device {
		return t.posted()
	}
	switch t.m.Kind {
	case chat.Text:
		return t.text()
	case chat.Called:
		return t.command(t.m.Command)
	case chat.Edited:
		return t.edited()
	case chat.Deleted:
		return t.deleted()
	case chat.Pressed:
		return t.pressed()
	case chat.Tick:
		return nil, nil
	}
	return nil, fmt.Errorf("message of kind %d", t.m.Kind)
}

// text handles a message in free text.
func (t *turn) text() ([]Out, error) {
	seen, err := t.seen()
	if err != nil || seen && t.m.Kind == chat.Text { // what put something right may be edited
		return nil, err
	}
	if told, err := t.told(); err != nil || told {
		return nil, err
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	if outs, ours, err := t.saidOfCups(r); ours || err != nil {
		return outs, err
	}
	if outs, ours, err := t.typedAnswer(r); ours || err != nil {
		return outs, err
	}
	if rest, ok := parse.Mine(t.m.Text); ok && t.m.Kind == chat.Text {
		if outs, ours, err := t.mine(r, rest); ours || err != nil {
			return outs, err
		}
	}
	v := r.vocab()
	v.Answer = t.m.ReplyTo != ""
	meaning, err := parse.Message(t.m.Text, v)
	if err != nil {
		return nil, err
	}
	return t.take(r, meaning)
}

// take does what a message means.
func (t *turn) take(r *room, meaning parse.Meaning) ([]Out, error) {
	switch w := meaning.(type) {
	case parse.Shot:
		return t.shot(r, w)
	case parse.Words:
		return t.words(r, w)
	case parse.Call:
		return t.command(w.Command)
	case parse.Correction:
		return t.correct(r, w)
	case parse.Happened:
		return t.happened(r, w)
	case parse.Set:
		return t.set(r, w)
	case parse.CallIt:
		return t.callIt(r, w)
	case parse.Chatter:
		return nil, nil
	}
	return nil, fmt.Errorf("meaning %T", meaning)
}

// seen reports whether the bar has handled the message before.
func (t *turn) seen() (bool, error) { return t.seenAs(t.m.ID) }

// seenAs reports whether the bar has handled a message of that id.
func (t *turn) seenAs(id string) (yes bool, err error) {
	err = t.see(func(tx *store.Tx) error {
		yes = tx.Seen(t.bar.ID, id)
		return nil
	})
	return yes, err
}

// toldOnce reports whether what is to be told once was told.
func (t *turn) toldOnce(what string) (yes bool, err error) {
	err = t.see(func(tx *store.Tx) error {
		yes = tx.ToldOnce(t.bar.ID, what)
		return nil
	})
	return yes, err
}

// A room is what the bar knows when a message comes in.
type room struct {
	bar      bar.Bar
	who      bar.Person
	coffees  []bar.Coffee
	grinders []bar.Grinder
	people   []bar.Person
	recent   []bar.Entry // of the last two days, oldest first
	before   []bar.Entry // the last shot of each coffee before that, and what happened since
	day      bar.Day
	now      time.Time
}

// room reads it.
func (t *turn) room() (*room, error) {
	r := &room{bar: t.bar, who: t.who, day: bar.DayOf(t.now), now: t.now}
	err := t.see(func(tx *store.Tx) (err error) {
		if r.coffees, err = tx.Coffees(t.bar.ID); err != nil {
			return err
		}
		if r.grinders, err = tx.Grinders(t.bar.ID); err != nil {
			return err
		}
		if r.people, err = tx.People(t.bar.ID); err != nil {
			return err
		}
		since := t.now.Add(-recentSpan)
		if r.recent, err = tx.Recent(t.bar.ID, since); err != nil {
			return err
		}
		r.before, err = tx.Before(t.bar.ID, since)
		return err
	})
	return r, err
}

// recentSpan is how far back a room looks: today, also just after midnight,
// and yesterday.
const recentSpan = 48 * time.Hour

// vocab returns the bar's own words.
func (r *room) vocab() parse.Vocab {
	v := parse.Vocab{Order: r.bar.Order, Usual: r.usual(), Recipe: bar.House(), Words: r.bar.Words.List(), Language: r.bar.Language}
	v.Recipes = map[bar.CoffeeID]parse.Recipes{}
	for _, c := range r.onBar() {
		v.Recipes[c.ID] = parse.Recipes{Black: c.Recipe, Milk: c.Milk}
		v.Coffees = append(v.Coffees, parse.Name[bar.CoffeeID]{Name: c.Name, ID: c.ID})
	}
	for _, g := range r.inUse() {
		if g.Letters {
			v.Letters = max(v.Letters, g.Small)
		}
		v.Grinders = append(v.Grinders, parse.Name[bar.GrinderID]{Name: g.Name, ID: g.ID})
	}
	if c, ok := r.usualCoffee(); ok {
		v.Recipe, v.Milk = c.Recipe, c.Milk
	}
	return v
}

// usual returns the word this person's shots have begun with twice or more.
func (r *room) usual() []string {
	count := map[string]int{}
	var words []string
	for _, e := range r.recent {
		if _, ok := e.What.(bar.Shot); !ok || e.Person != r.who.ID || postedBy(e) != 0 {
			continue
		}
		first, _, _ := strings.Cut(strings.ToLower(e.Raw), " ")
		if count[first]++; count[first] == 2 {
			words = append(words, first)
		}
	}
	return words
}

// coffee returns the coffee with that id.
func (r *room) coffee(id bar.CoffeeID) (bar.Coffee, bool) { return bar.CoffeeOf(r.coffees, id) }

// grinder returns the grinder with that id.
func (r *room) grinder(id bar.GrinderID) (bar.Grinder, bool) { return bar.GrinderOf(r.grinders, id) }

// inUse returns the grinders that are not retired.
func (r *room) inUse() []bar.Grinder {
	return slices.DeleteFunc(slices.Clone(r.grinders), func(g bar.Grinder) bool { return g.Retired })
}

// name returns a person's name.
func (r *room) name(id bar.PersonID) string { return r.in().NameOf(r.people, id) }

// shots returns the shots of the recent entries, and of each coffee the last one
// before, that keep says yes to, newest first.
func (r *room) shots(keep func(bar.Entry, bar.Shot) bool) []bar.Entry {
	return slices.Collect(r.eachShot(keep))
}

// newest returns the first of them.
func (r *room) newest(keep func(bar.Entry, bar.Shot) bool) (bar.Entry, bool) {
	for e := range r.eachShot(keep) {
		return e, true
	}
	return bar.Entry{}, false
}

// eachShot goes through them.
func (r *room) eachShot(keep func(bar.Entry, bar.Shot) bool) iter.Seq[bar.Entry] {
	return func(yield func(bar.Entry) bool) {
		for _, entries := range [][]bar.Entry{r.recent, r.before} {
			for i := range slices.Backward(entries) {
				if s, ok := entries[i].What.(bar.Shot); ok && keep(entries[i], s) && !yield(entries[i]) {
					return
				}
			}
		}
	}
}

// post returns a post of a kind in answer to the message.
func (t *turn) post(kind chat.PostKind, text string) chat.Post {
	return chat.Post{Kind: kind, Channel: t.m.Channel, Thread: t.m.Thread, Cause: t.m.ID, At: t.now, Text: text}
}

// say returns a single post.
func (t *turn) say(kind chat.PostKind, text string) []Out {
	return []Out{{Post: t.post(kind, text)}}
}
