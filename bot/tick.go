package bot

import (
	"sync"
	"sync/atomic"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/turn"
	"shothand/store"
)

// afterwards is how long after a message the card is edited. Common practice, no
// source.
const afterwards = 5 * time.Second

// ResendEvery is how often what could not be sent is tried again.
const ResendEvery = time.Minute

// A pulse is what is known of a channel while the program runs. Only its own
// queue changes it.
type pulse struct {
	ticked time.Time   // the last time what was due was looked for
	heard  time.Time   // the last message
	dirty  bool        // something was said since the card was last looked at
	unsent atomic.Bool // something could not be sent; set by who sends
}

// pulses are those of all channels.
type pulses struct {
	mu sync.Mutex
	of map[string]*pulse
}

// get returns the pulse of a channel.
func (p *pulses) get(channel string) *pulse {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.of == nil {
		p.of = map[string]*pulse{}
	}
	if p.of[channel] == nil {
		p.of[channel] = &pulse{}
	}
	return p.of[channel]
}

// listen notes that a message came.
func (p *pulse) listen(at time.Time) {
	if p.ticked.IsZero() {
		p.ticked = at // nothing is due in a bar before it is one
	}
	p.heard, p.dirty = at, true
}

// tick does what is due in a channel, if that is a bar.
func (b *Bot) tick(t *turn.Turn, isBar bool, err error) (outs []turn.Out) {
	p := b.pulses.get(t.Msg.Channel)
	switch {
	case err != nil:
	case isBar:
		outs, err = tick(t, p)
	default:
		p.ticked = t.Msg.At
	}
	if err != nil {
		b.tools.Log.Error("what is due", "channel", t.Msg.Channel, "err", err)
	}
	return outs
}

// tick does what is due by now.
func tick(t *turn.Turn, p *pulse) ([]turn.Out, error) {
	last := p.ticked
	if t.Wakes && t.Now.Before(last) { // the clock was put back, and what it passed over may not have been told
		last = time.Time{}
	}
	if t.Wakes || t.Now.After(last) {
		p.ticked = t.Now
	}
	p.unsent.Store(false)
	if !t.Clock().Keeps() {
		return nil, nil
	}
	outs, err := unsent(t)
	if err != nil {
		return nil, err
	}
	switch {
	case last.IsZero() && !p.dirty: // the card waits, so that the first message is not kept waiting by it
		p.heard, p.dirty = t.Now, true
	case p.dirty:
		when := t.Now
		if soon := p.heard.Add(afterwards); p.dirty && !p.heard.Before(last) && soon.Before(when) {
			when = soon
		}
		more, err := refresh(t.At(when))
		if err != nil {
			return outs, err
		}
		outs, p.dirty = append(outs, more...), false
	}
	for _, d := range t.Clock().Due(last) {
		do := remind
		if d.Closing {
			do = closing
		}
		more, err := do(t.At(d.At))
		if err != nil {
			return outs, err
		}
		outs = append(outs, more...)
	}
	return outs, nil
}

// unsent returns the posts of today that were to be sent and perhaps were not,
// made anew from how things stood then.
func unsent(t *turn.Turn) ([]turn.Out, error) {
	deeds, err := t.Deeds()
	var outs []turn.Out
	for _, d := range deeds {
		if err != nil {
			return nil, err
		}
		if d.State != store.Intended {
			continue
		}
		var out turn.Out
		if out, err = anew(t, d); out.Text != "" {
			outs = append(outs, out)
		}
	}
	return outs, err
}

// anew makes the post of a deed again.
func anew(t *turn.Turn, d store.Deed) (turn.Out, error) {
	then := t.At(d.At)
	r, err := then.Book()
	if err != nil {
		return turn.Out{}, err
	}
	var outs []turn.Out
	switch d.Name {
	case cardDeed:
		text := ""
		if d.Kind == chat.Reminder.String() {
			if text, err = reminder(then, r); err != nil {
				return turn.Out{}, err
			}
		}
		var out turn.Out
		out, err = opening(then, r, chat.KindOf(d.Kind), text)
		outs = []turn.Out{out}
	case reminderDeed, closingDeed:
		outs, err = byName(then, d.Name, r)
	default:
		return turn.Out{}, then.PutDeeds(store.Deed{Name: d.Name, State: store.Passed, At: d.At}) // an alert is for its moment
	}
	if err != nil || len(outs) == 0 {
		return turn.Out{}, err
	}
	outs[0].Again = true
	return outs[0], nil
}

// byName makes the reminder in the thread or the closing note.
func byName(t *turn.Turn, name string, r *recent.Book) ([]turn.Out, error) {
	text, kind := "", chat.Reminder
	var err error
	if name == closingDeed {
		kind = chat.Info
		text, err = closingNote(t, r)
	} else {
		text, err = reminder(t, r)
	}
	if err != nil {
		return nil, err
	}
	if text == "" {
		return nil, t.PutDeeds(store.Deed{Name: name, State: store.Passed, At: t.Now})
	}
	out, err := intend(t, name, dayPost(t, kind, name, text))
	out.InThread = true
	return []turn.Out{out}, err
}

// next returns when a bar is next to be woken, zero for never.
func next(t *turn.Turn, p *pulse) time.Time {
	var at time.Time
	earlier := func(x time.Time) {
		if !x.IsZero() && (at.IsZero() || x.Before(at)) {
			at = x
		}
	}
	if p.unsent.Load() {
		earlier(t.Now.Add(ResendEvery))
	}
	if !t.Clock().Keeps() {
		return at
	}
	earlier(t.Clock().Next())
	if p.dirty {
		earlier(t.Now.Add(afterwards))
	}
	return at
}

// Next returns when the bar of a channel is next to be woken, zero for never. It
// is false for a channel that is no bar.
func (b *Bot) Next(channel string) (time.Time, bool) {
	t, ok, err := b.looking(chat.Message{Channel: channel})
	if err != nil || !ok {
		return time.Time{}, false
	}
	return next(t, b.pulses.get(channel)), true
}

// Unsent notes that something could not be sent to a channel.
func (b *Bot) Unsent(channel string) { b.pulses.get(channel).unsent.Store(true) }

// HasUnsent reports whether something could not be sent since what was due was
// last looked for.
func (b *Bot) HasUnsent(channel string) bool { return b.pulses.get(channel).unsent.Load() }

// NumberOf returns the number of a channel's bar, 0 if it is none.
func (b *Bot) NumberOf(channel string) (number uint64) {
	err := b.inBar(channel, func(_ *store.Tx, here bar.ID) error {
		number = uint64(here)
		return nil
	})
	if err != nil {
		b.tools.Log.Error("which bar", "err", err)
	}
	return number
}
