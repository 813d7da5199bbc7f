package bot

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/store"
)

// Names of the deeds of a day. The card's post opens the day's thread.
const (
	cardDeed     = "card"
	reminderDeed = "reminder"
	closingDeed  = "closing"
)

// at returns the same turn at another instant.
func (t *turn) at(when time.Time) *turn {
	other := *t
	other.now = when.In(t.now.Location())
	return &other
}

// day is the bar's day.
func (t *turn) day() bar.Day { return bar.DayOf(t.now) }

// deeds returns what has been done today.
func (t *turn) deeds() (deeds []store.Deed, err error) {
	err = t.see(func(tx *store.Tx) error {
		deeds, err = tx.Deeds(t.bar.ID, t.day())
		return err
	})
	return deeds, err
}

// deedOf returns the deed of that name.
func deedOf(deeds []store.Deed, name string) (store.Deed, bool) {
	i := slices.IndexFunc(deeds, func(d store.Deed) bool { return d.Name == name })
	if i < 0 {
		return store.Deed{}, false
	}
	return deeds[i], true
}

// putDeeds records deeds of today.
func (t *turn) putDeeds(deeds ...store.Deed) error {
	return t.update(func(tx *store.Tx) error {
		for _, d := range deeds {
			if err := tx.PutDeed(t.bar.ID, t.day(), d); err != nil {
				return err
			}
		}
		return nil
	})
}

// dayPost returns a post of today that nobody asked for.
func (t *turn) dayPost(kind chat.PostKind, name, text string) chat.Post {
	return chat.Post{
		Kind: kind, Channel: t.m.Channel, At: t.now, Text: text, Due: true,
		Cause: "day-" + idText(t.bar.ID) + "-" + string(t.day()) + "-" + name,
	}
}

// intend writes down that a post of today is to be sent, and returns it.
func (t *turn) intend(name string, post chat.Post) (Out, error) {
	out := Out{Post: post, deed: &deedRef{t.bar.ID, t.day(), name, digest(post.Text)}}
	return out, t.putDeeds(store.Deed{Name: name, Kind: post.Kind.String(), At: t.now})
}

// A deedRef says which deed is done once its post is sent, and what it shows.
type deedRef struct {
	bar   bar.ID
	day   bar.Day
	name  string
	shown string
}

// digest stands for a text where the text itself, with its names, need not be
// kept.
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:8])
}

// done notes that a deed's post was sent.
func (b *Bot) done(ref deedRef, post string) error {
	return b.tools.store.Update(func(tx *store.Tx) error {
		deeds, err := tx.Deeds(ref.bar, ref.day)
		if err != nil {
			return err
		}
		d, ok := deedOf(deeds, ref.name)
		if !ok {
			return nil
		}
		d.State, d.Post, d.Shown = store.Done, post, ref.shown
		return tx.PutDeed(ref.bar, ref.day, d)
	})
}

// threadOf returns the day's thread, or nothing while it is not open.
func (b *Bot) threadOf(ref deedRef) (thread string) {
	err := b.tools.store.View(func(tx *store.Tx) error {
		deeds, err := tx.Deeds(ref.bar, ref.day)
		card, _ := deedOf(deeds, cardDeed)
		thread = card.Post
		return err
	})
	if err != nil {
		b.tools.log.Error("thread of the day", "day", ref.day, "err", err)
	}
	return thread
}

// card returns the text of the day's card.
func (t *turn) card(r *room) (string, error) {
	lines, err := t.todayLines(r)
	if err != nil {
		return "", err
	}
	return t.in().Card(t.title(), lines, r.happenings()), nil
}

// title names the bar's day.
func (t *turn) title() string {
	return t.in().DayTitle(t.bar, t.m.Channel, t.day())
}

// opening returns the post that opens the day's thread, and writes down that it
// is to be sent. What the card will say once it has been edited is noted as
// shown already, so that it stands as it is until something happens.
func (t *turn) opening(r *room, kind chat.PostKind, text string) (Out, error) {
	card, err := t.card(r)
	if err != nil {
		return Out{}, err
	}
	if text == "" {
		text = card
	}
	post := t.dayPost(kind, cardDeed, text)
	post.Opens = t.title()
	out, err := t.intend(cardDeed, post)
	out.deed.shown = digest(card)
	return out, err
}

// refresh opens the day's thread if something has happened, or edits its card
// if that says something else now.
func (t *turn) refresh() ([]Out, error) {
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	deeds, err := t.deeds()
	if err != nil {
		return nil, err
	}
	card, known := deedOf(deeds, cardDeed)
	switch {
	case known && card.State == store.Intended:
		return nil, nil // to be sent again first
	case !known && !slices.ContainsFunc(r.recent, func(e bar.Entry) bool { return isShot(e) && e.Day == r.day }):
		return nil, nil
	case !known:
		out, err := t.opening(r, chat.Info, "")
		return []Out{out}, err
	}
	text, err := t.card(r)
	if err != nil || digest(text) == card.Shown {
		return nil, err
	}
	post := t.dayPost(chat.Info, cardDeed, text)
	return []Out{{Post: post, Edits: card.Post, deed: &deedRef{t.bar.ID, t.day(), cardDeed, digest(text)}}}, nil
}

func isShot(e bar.Entry) bool {
	_, ok := e.What.(bar.Shot)
	return ok
}

// remind posts the morning's reminder, at the time it is due. Before the bar's
// day begins it is for the day to come.
func (t *turn) remind() ([]Out, error) {
	y, m, d := t.now.Date()
	morning := time.Date(y, m, d, int(bar.DayBegins.Hours()), 0, 0, 0, t.now.Location())
	if !t.now.Before(morning) {
		return t.remindToday()
	}
	outs, err := t.at(morning).remindToday()
	for i := range outs {
		outs[i].At = t.now
	}
	return outs, err
}

// remindToday posts today's reminder, unless no coffee needs one. If nobody has
// spoken yet, it opens the day's thread.
func (t *turn) remindToday() ([]Out, error) {
	deeds, err := t.deeds()
	if err != nil {
		return nil, err
	}
	if _, done := deedOf(deeds, reminderDeed); done {
		return nil, nil
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	text, err := t.reminder(r)
	if err != nil {
		return nil, err
	}
	passed := store.Deed{Name: reminderDeed, State: store.Passed, At: t.now}
	if text == "" {
		return nil, t.putDeeds(passed)
	}
	if _, open := deedOf(deeds, cardDeed); open {
		return t.byName(reminderDeed, r)
	}
	out, err := t.opening(r, chat.Reminder, text)
	if err != nil {
		return nil, err
	}
	return []Out{out}, t.putDeeds(passed)
}

// reminder returns a line for each coffee that will not be right as it is, or
// nothing.
func (t *turn) reminder(r *room) (string, error) {
	var lines []say.Start
	for _, c := range r.onBar() {
		o, err := t.look(c)
		if err != nil {
			return "", err
		}
		if o.Start.Needed {
			g, _ := r.grinder(c.Grinder)
			lines = append(lines, say.Start{Coffee: c, Grinder: g, Start: o.Start})
		}
	}
	if len(lines) == 0 {
		return "", nil
	}
	return t.in().Reminder(t.title(), r.day, lines), nil
}

// look returns where a coffee stands.
func (t *turn) look(c bar.Coffee) (advisor.Outlook, error) {
	h, err := t.history(c.ID)
	if err != nil {
		return advisor.Outlook{}, err
	}
	o := t.outlook(h, c.ID, t.now)
	return o, nil
}

// closing says what the day came to, unless nothing was pulled.
func (t *turn) closing() ([]Out, error) {
	deeds, err := t.deeds()
	if err != nil {
		return nil, err
	}
	// That there was nothing to say counts only if the day was over by then: the
	// clock may have been ahead.
	if d, done := deedOf(deeds, closingDeed); done && (d.State != store.Passed || !d.At.After(t.now)) {
		return nil, nil
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	return t.byName(closingDeed, r)
}

// closingNote returns what it says, or nothing.
func (t *turn) closingNote(r *room) (string, error) {
	all, err := t.todayLines(r)
	if err != nil {
		return "", err
	}
	lines := slices.DeleteFunc(all, func(l say.Today) bool { return l.Shots == 0 })
	if len(lines) == 0 {
		return "", nil
	}
	day, tomorrow := t.nextOpen()
	return t.in().Closing(lines, day, tomorrow), nil
}

// nextOpen returns the next day on which the bar is open, and whether that is
// tomorrow.
func (t *turn) nextOpen() (time.Weekday, bool) {
	noon, err := time.Parse(time.DateOnly, string(t.day()))
	if err != nil {
		return 0, true
	}
	for n := 1; n <= 7; n++ {
		if d := noon.AddDate(0, 0, n).Weekday(); t.bar.Days.Has(d) {
			return d, n == 1
		}
	}
	return noon.Weekday(), false
}
