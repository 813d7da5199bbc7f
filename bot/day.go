package bot

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// Names of the deeds of a day. The card's post opens the day's thread.
const (
	cardDeed     = "card"
	reminderDeed = "reminder"
	closingDeed  = "closing"
)

// dayPost returns a post of today that nobody asked for.
func dayPost(t *turn.Turn, kind chat.PostKind, name, text string) chat.Post {
	return chat.Post{
		Kind: kind, Channel: t.Msg.Channel, At: t.Now, Text: text, Due: true,
		Cause: "day-" + turn.IDText(t.Bar.ID) + "-" + string(t.Day()) + "-" + name,
	}
}

// intend writes down that a post of today is to be sent, and returns it.
func intend(t *turn.Turn, name string, post chat.Post) (turn.Out, error) {
	out := turn.Out{Post: post, Deed: &turn.DeedRef{Bar: t.Bar.ID, Day: t.Day(), Name: name, Shown: digest(post.Text)}}
	return out, t.PutDeeds(store.Deed{Name: name, Kind: post.Kind.String(), At: t.Now})
}

// digest stands for a text where the text itself, with its names, need not be
// kept.
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:8])
}

// done notes that a deed's post was sent.
func (b *Bot) done(ref turn.DeedRef, post string) error {
	return b.tools.Store.Update(func(tx *store.Tx) error {
		deeds, err := tx.Deeds(ref.Bar, ref.Day)
		if err != nil {
			return err
		}
		d, ok := turn.DeedOf(deeds, ref.Name)
		if !ok {
			return nil
		}
		d.State, d.Post, d.Shown = store.Done, post, ref.Shown
		return tx.PutDeed(ref.Bar, ref.Day, d)
	})
}

// threadOf returns the day's thread, or nothing while it is not open.
func (b *Bot) threadOf(ref turn.DeedRef) (thread string) {
	err := b.tools.Store.View(func(tx *store.Tx) error {
		deeds, err := tx.Deeds(ref.Bar, ref.Day)
		card, _ := turn.DeedOf(deeds, cardDeed)
		thread = card.Post
		return err
	})
	if err != nil {
		b.tools.Log.Error("thread of the day", "day", ref.Day, "err", err)
	}
	return thread
}

// cardText returns the text of the day's card.
func cardText(t *turn.Turn, r *recent.Book) (string, error) {
	lines, err := todayLines(t, r)
	if err != nil {
		return "", err
	}
	return t.Lang().Card(title(t), lines, r.Happenings()), nil
}

// title names the bar's day.
func title(t *turn.Turn) string {
	return t.Lang().DayTitle(t.Bar, t.Msg.Channel, t.Day())
}

// opening returns the post that opens the day's thread, and writes down that it
// is to be sent. What the card will say once it has been edited is noted as
// shown already, so that it stands as it is until something happens.
func opening(t *turn.Turn, r *recent.Book, kind chat.PostKind, text string) (turn.Out, error) {
	card, err := cardText(t, r)
	if err != nil {
		return turn.Out{}, err
	}
	if text == "" {
		text = card
	}
	post := dayPost(t, kind, cardDeed, text)
	post.Opens = title(t)
	out, err := intend(t, cardDeed, post)
	out.Deed.Shown = digest(card)
	return out, err
}

// refresh opens the day's thread if something has happened, or edits its card
// if that says something else now.
func refresh(t *turn.Turn) ([]turn.Out, error) {
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	deeds, err := t.Deeds()
	if err != nil {
		return nil, err
	}
	card, known := turn.DeedOf(deeds, cardDeed)
	switch {
	case known && card.State == store.Intended:
		return nil, nil // to be sent again first
	case !known && !slices.ContainsFunc(r.Recent, func(e bar.Entry) bool { return recent.IsShot(e) && e.Day == r.Day }):
		return nil, nil
	case !known:
		out, err := opening(t, r, chat.Info, "")
		return []turn.Out{out}, err
	}
	text, err := cardText(t, r)
	if err != nil || digest(text) == card.Shown {
		return nil, err
	}
	post := dayPost(t, chat.Info, cardDeed, text)
	return []turn.Out{{Post: post, Edits: card.Post, Deed: &turn.DeedRef{Bar: t.Bar.ID, Day: t.Day(), Name: cardDeed, Shown: digest(text)}}}, nil
}

// remind posts the morning's reminder, at the time it is due. Before the bar's
// day begins it is for the day to come.
func remind(t *turn.Turn) ([]turn.Out, error) {
	y, m, d := t.Now.Date()
	morning := time.Date(y, m, d, int(bar.DayBegins.Hours()), 0, 0, 0, t.Now.Location())
	if !t.Now.Before(morning) {
		return remindToday(t)
	}
	outs, err := remindToday(t.At(morning))
	for i := range outs {
		outs[i].At = t.Now
	}
	return outs, err
}

// remindToday posts today's reminder, unless no coffee needs one. If nobody has
// spoken yet, it opens the day's thread.
func remindToday(t *turn.Turn) ([]turn.Out, error) {
	deeds, err := t.Deeds()
	if err != nil {
		return nil, err
	}
	if _, done := turn.DeedOf(deeds, reminderDeed); done {
		return nil, nil
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	text, err := reminder(t, r)
	if err != nil {
		return nil, err
	}
	passed := store.Deed{Name: reminderDeed, State: store.Passed, At: t.Now}
	if text == "" {
		return nil, t.PutDeeds(passed)
	}
	if _, open := turn.DeedOf(deeds, cardDeed); open {
		return byName(t, reminderDeed, r)
	}
	out, err := opening(t, r, chat.Reminder, text)
	if err != nil {
		return nil, err
	}
	return []turn.Out{out}, t.PutDeeds(passed)
}

// reminder returns a line for each coffee that will not be right as it is, or
// nothing.
func reminder(t *turn.Turn, r *recent.Book) (string, error) {
	var lines []say.Start
	for _, c := range r.OnBar() {
		o, err := t.Look(c)
		if err != nil {
			return "", err
		}
		if o.Start.Needed {
			g, _ := r.Grinder(c.Grinder)
			lines = append(lines, say.Start{Coffee: c, Grinder: g, Start: o.Start})
		}
	}
	if len(lines) == 0 {
		return "", nil
	}
	return t.Lang().Reminder(title(t), r.Day, lines), nil
}

// closing says what the day came to, unless nothing was pulled.
func closing(t *turn.Turn) ([]turn.Out, error) {
	deeds, err := t.Deeds()
	if err != nil {
		return nil, err
	}
	// That there was nothing to say counts only if the day was over by then: the
	// clock may have been ahead.
	if d, done := turn.DeedOf(deeds, closingDeed); done && (d.State != store.Passed || !d.At.After(t.Now)) {
		return nil, nil
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	return byName(t, closingDeed, r)
}

// closingNote returns what it says, or nothing.
func closingNote(t *turn.Turn, r *recent.Book) (string, error) {
	all, err := todayLines(t, r)
	if err != nil {
		return "", err
	}
	lines := slices.DeleteFunc(all, func(l say.Today) bool { return l.Shots == 0 })
	if len(lines) == 0 {
		return "", nil
	}
	day, tomorrow := nextOpen(t)
	return t.Lang().Closing(lines, day, tomorrow), nil
}

// nextOpen returns the next day on which the bar is open, and whether that is
// tomorrow.
func nextOpen(t *turn.Turn) (time.Weekday, bool) {
	noon, err := time.Parse(time.DateOnly, string(t.Day()))
	if err != nil {
		return 0, true
	}
	for n := 1; n <= 7; n++ {
		if d := noon.AddDate(0, 0, n).Weekday(); t.Bar.Days.Has(d) {
			return d, n == 1
		}
	}
	return noon.Weekday(), false
}
