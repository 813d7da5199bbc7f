package bot

import (
	"cmp"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/device"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/settings"
	"shothand/bot/turn"
	"shothand/store"
)

// A Bot answers messages and keeps its records in a store.
type Bot struct {
	tools  *turn.Tools
	made   Options
	open   bool
	pulses pulses
}

// Types of package turn that whoever runs a bot meets.
type (
	// An Out is a post to send, or to put in place of an earlier one.
	Out = turn.Out
	// A Meter counts what a bot does.
	Meter = turn.Meter
	// A PostedShot is what a device is told of its shot as it stands in the book.
	PostedShot = turn.PostedShot
)

// Options say how a bot behaves.
type Options struct {
	Log    *slog.Logger // nil: nothing is logged
	Open   bool         // any channel is a bar, without setup
	Advise turn.Advisor // nil: package advisor, with a memory
	// Resend says that replies which were written and perhaps not sent when
	// the program last stopped are sent by Run.
	Resend bool
	// Clock tells the time while nobody speaks, and by it Run does what is due;
	// nil: it stands at zero, and the service has to tick.
	Clock func() time.Time
	Meter turn.Meter // nil: nothing is counted
}

// New returns a bot that keeps its records in s.
func New(s *store.Store, o Options) *Bot {
	o.Log = cmp.Or(o.Log, slog.New(slog.DiscardHandler))
	o.Meter = cmp.Or[turn.Meter](o.Meter, unmetered{})
	memory := advisor.NewMemory(remembered)
	if o.Advise == nil {
		o.Advise = memory.Advise
	}
	clock := o.Clock
	if clock == nil {
		clock = func() time.Time { return time.Time{} }
	}
	return &Bot{made: o, open: o.Open, tools: &turn.Tools{
		Meter: o.Meter, Store: s, Log: o.Log, Clock: clock, Wakes: o.Clock != nil,
		Advise: metered(o.Advise, o.Meter), Outlook: memory.Outlook, Clocked: memory.DialOdds, Chances: memory.Chances,
	}}
}

// Options returns how the bot was made, with what stands for what was left out.
func (b *Bot) Options() Options { return b.made }

// remembered is how many coffees' replays are kept between shots: some 50 MB.
const remembered = 256

// Handle returns what to say to m. What it says is on the disk already.
func (b *Bot) Handle(m chat.Message) []turn.Out {
	t, ok, err := b.turn(m)
	defer t.Unlook()
	if m.Kind == chat.Tick {
		return b.tick(t, ok, err)
	}
	if ok {
		b.pulses.get(m.Channel).listen(m.At)
	}
	if err == nil && ok {
		var outs []turn.Out
		outs, err = handle(t)
		if err == nil {
			if err := errors.Join(remember(t, outs), rememberBack(t, outs), t.Settle()); err != nil {
				b.tools.Log.Error("handle", "message", m.ID, "err", err)
			}
			return outs
		}
	}
	if err == nil || errors.Is(err, store.ErrSeen) {
		return nil
	}
	t.Drop()
	if !errors.Is(err, store.ErrNotSaved) {
		if err := markTold(t); err != nil {
			b.tools.Log.Error("handle", "message", m.ID, "err", err)
		}
	}
	if err := keepRefused(t, err); err != nil {
		b.tools.Log.Error("handle", "message", m.ID, "err", err)
	}
	if m.Device {
		return []turn.Out{{Post: b.trouble(t.WriterLang(), m, err), Err: err, Unsaid: device.Outside(t)}}
	}
	post, err := askMeant(t, b.trouble(t.WriterLang(), m, err), err)
	if err != nil {
		b.tools.Log.Error("handle", "message", m.ID, "err", err)
	}
	return []turn.Out{{Post: post}}
}

// Failed is what the person hears of an error that kept m from being handled.
func (b *Bot) Failed(m chat.Message, err error) turn.Out {
	return turn.Out{Post: b.trouble(turn.LanguageOfWriter(m, say.Lang{}), m, err)}
}

// trouble returns what the person hears of an error. Theirs are told; the
// rest goes to the log.
func (b *Bot) trouble(l say.Lang, m chat.Message, err error) chat.Post {
	p := chat.Post{Kind: chat.Error, Channel: m.Channel, Thread: m.Thread, Cause: m.ID, At: m.At, Private: true}
	var theirs parse.Mistake
	var said turn.Mistake
	var named turn.Misnamed
	switch {
	case errors.As(err, &theirs):
		p.Text = l.Mistake(theirs)
	case errors.As(err, &said):
		p.Text = string(said)
	case errors.As(err, &named):
		p.Text = string(named.Mistake)
	case errors.Is(err, store.ErrNotSaved):
		b.tools.Log.Error("not saved", "message", m.ID, "err", err)
		p.Text, p.Private = l.Say(say.NotSaved), false
	default:
		b.tools.Log.Error("handle", "message", m.ID, "err", err)
		p.Text = l.Say(say.Trouble)
	}
	return p
}

// turn finds the bar and the person of m. It is false for a channel that is
// no bar.
func (b *Bot) turn(m chat.Message) (t *turn.Turn, ok bool, err error) {
	t, found, known, err := b.find(m, b.tools.Store.Reading())
	m = t.Msg
	if m.Device { // of no person, and in no bar of its own making
		t.Now = b.tools.Store.InZone(m.At, t.Bar.Zone)
		return t, found, err
	}
	if err == nil && !found && !b.open {
		err = setUp(m)
		if err != nil || m.Kind != chat.Called {
			return t, false, err
		}
	}
	if err != nil || m.Kind == chat.Tick || !found && m.From.ID == "" {
		t.Now = b.tools.Store.InZone(m.At, t.Bar.Zone)
		return t, found, err
	}
	// A service need not know who deleted something, and nobody is written down
	// for asking to be forgotten.
	if m.From.ID == "" || m.Kind == chat.Pressed && m.Press == pressForget {
		known = true
	}
	if !found || !known {
		err = t.Update(func(tx *store.Tx) error {
			if !found {
				if t.Bar, err = tx.AddBar(m.Channel, bar.Bar{Name: cmp.Or(say.ShownName(m.Title), m.Channel), Language: turn.HomeLanguage(m)}); err != nil {
					return err
				}
			}
			t.Who, err = tx.PersonOf(t.Bar.ID, m.From.ID, m.From.Name)
			return err
		})
	}
	t.Now = b.tools.Store.InZone(m.At, t.Bar.Zone)
	return t, true, err
}

// find reads the bar of m and who wrote, and whether either is known, with a look
// if there is one.
func (b *Bot) find(m chat.Message, look *store.Reading) (t *turn.Turn, found, known bool, err error) {
	m.From.Name = say.ShownName(m.From.Name)
	t = &turn.Turn{Tools: b.tools, Msg: m, Looked: look}
	err = t.See(func(tx *store.Tx) error {
		id, ok := tx.BarOf(m.Channel)
		if found = ok; !ok {
			return nil
		}
		if t.Bar, err = tx.Bar(id); err != nil {
			return err
		}
		t.Who, known, err = person(tx, id, m.From)
		return err
	})
	return t, found, known, err
}

// setUp returns why a channel that is no bar does not become one by m, or nil.
// Nothing is read there before, so only commands are answered.
func setUp(m chat.Message) error {
	zone := turn.Option(m.Command, "zone", "")
	switch {
	case m.Kind != chat.Called:
		return nil
	case m.Command.Name != "setup":
		return turn.Mistake(turn.LanguageOfWriter(m, say.Lang{}).Say(say.SetUpFirst))
	case !m.Manager:
		return turn.Mistake(turn.LanguageOfWriter(m, say.Lang{}).Say(say.NotManager))
	case zone == "":
		return turn.Mistake(turn.LanguageOfWriter(m, say.Lang{}).Say(say.SetUpZone))
	}
	return settings.CheckZone(turn.LanguageOfWriter(m, say.Lang{}), zone)
}

// person finds who wrote among the bar's people, under the name they have now.
func person(tx *store.Tx, here bar.ID, from chat.Person) (bar.Person, bool, error) {
	people, err := tx.People(here)
	if i := slices.IndexFunc(people, func(p bar.Person) bool { return p.Account == from.ID && p.Name == from.Name }); i >= 0 {
		return people[i], true, err
	}
	return bar.Person{}, false, err
}

func handle(t *turn.Turn) ([]turn.Out, error) {
	if t.Msg.Device {
		return device.Posted(t)
	}
	switch t.Msg.Kind {
	case chat.Text:
		return text(t)
	case chat.Called:
		return doCommand(t, t.Msg.Command)
	case chat.Edited:
		return edited(t)
	case chat.Deleted:
		return deleted(t)
	case chat.Pressed:
		return press(t)
	case chat.Tick:
		return nil, nil
	}
	return nil, fmt.Errorf("message of kind %d", t.Msg.Kind)
}
