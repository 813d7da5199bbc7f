package bot

import (
	"slices"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/cups"
	"shothand/bot/day"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/say/bycup"
	"shothand/bot/say/setup"
	"shothand/bot/settings"
	"shothand/bot/turn"
	"shothand/store"
)

var _ chat.Desk = (*Bot)(nil)

// Specs returns the commands there are, with what they are called in locales.
func (b *Bot) Specs(locales ...string) []chat.Spec {
	var list []chat.Spec
	for _, c := range command.All() {
		s := chat.Spec{Name: c.Name, Help: c.Help, Says: saidIn(locales, say.English(c.Help)), Manage: c.Manages, Private: c.Private}
		for _, o := range c.Options {
			s.Options = append(s.Options, optionSpec(o, locales))
		}
		list = append(list, s)
	}
	return list
}

// optionSpec is an option as a service shows it.
func optionSpec(o command.Option, locales []string) chat.OptionSpec {
	s := chat.OptionSpec{
		Name: o.Name, Help: o.Help, Says: saidIn(locales, say.English(o.Help)),
		Choices: o.Choices, Required: o.Required, Suggests: o.Suggest != command.Nothing,
	}
	for _, c := range o.Choices {
		if len(locales) > 0 {
			s.Named = append(s.Named, saidIn(locales, say.Choice(c)))
		}
	}
	return s
}

// saidIn says a sentence in the language of each locale.
func saidIn(locales []string, e say.English) chat.Said {
	if len(locales) == 0 {
		return nil
	}
	said := chat.Said{}
	for _, locale := range locales {
		said[locale] = say.In(say.LanguageOf(locale)).Say(e)
	}
	return said
}

// suggested returns what kind of value is suggested for an option.
func suggested(name, option string) command.Suggest {
	c, _ := command.Of(name)
	o, _ := c.Option(option)
	return o.Suggest
}

// maxSuggested is how many values are suggested at most.
const maxSuggested = 25

// Suggest returns values for the option being typed.
func (b *Bot) Suggest(a chat.Asking) []string {
	kind := suggested(a.Command.Name, a.Option)
	switch kind {
	case command.Zones:
		return matches(settings.Zones(), a.Typed)
	case command.Topics:
		return matches(setup.Topics(), a.Typed)
	case command.Nothing, command.Coffees, command.Grinders, command.Tastes:
	}
	t, ok, err := b.looking(chat.Message{Channel: a.Channel, From: a.From, At: a.At})
	if err != nil || !ok || kind == command.Nothing {
		return nil
	}
	r, err := t.Book()
	if err != nil {
		b.tools.Log.Error("suggest", "err", err)
		return nil
	}
	switch kind {
	case command.Coffees:
		return matches(say.Names(likeliest(r)), a.Typed)
	case command.Grinders:
		return matches(say.GrinderNames(r.InUse()), a.Typed)
	case command.Tastes:
		return tastes(r, a.Typed)
	case command.Nothing, command.Zones, command.Topics:
	}
	return nil
}

// People returns the names of those who have spoken in a channel.
func (b *Bot) People(channel string) (all []string) {
	err := b.inBar(channel, func(tx *store.Tx, here bar.ID) error {
		people, err := tx.People(here)
		all = say.Each(people, func(p bar.Person) string { return p.Name })
		return err
	})
	if err != nil {
		b.tools.Log.Error("people", "err", err)
	}
	return all
}

// inBar calls read with the bar of a channel, if that is one.
func (b *Bot) inBar(channel string, read func(tx *store.Tx, here bar.ID) error) error {
	return b.tools.Store.View(func(tx *store.Tx) error {
		if here, known := tx.BarOf(channel); known {
			return read(tx, here)
		}
		return nil
	})
}

// looking is a turn of somebody who only looks: nothing is written for it.
func (b *Bot) looking(m chat.Message) (t *turn.Turn, ok bool, err error) {
	t, ok, _, err = b.find(m, nil)
	at := m.At
	if at.IsZero() {
		at = b.tools.Clock()
	}
	t.Now = b.tools.Store.InZone(at, t.Bar.Zone)
	return t, ok, err
}

// likeliest returns the coffees on bar, the one this person means by default
// first.
func likeliest(r *recent.Book) []bar.Coffee {
	list := r.OnBar()
	usual, ok := r.UsualCoffee()
	if i := slices.IndexFunc(list, func(c bar.Coffee) bool { return c.ID == usual.ID }); ok && i > 0 {
		return slices.Concat(list[i:i+1], list[:i], list[i+1:])
	}
	return list
}

// tastes completes the last word of a taste with those this person has used
// lately, then with the bar's, then with the usual ones.
func tastes(r *recent.Book, typed string) []string {
	said, last := "", typed
	if i := strings.LastIndexByte(typed, ','); i >= 0 {
		said, last = strings.TrimRight(typed[:i], " ")+", ", strings.TrimLeft(typed[i+1:], " ")
	}
	var mine, others []string
	for _, e := range slices.Backward(r.Recent) {
		for _, w := range wordsOf(r.Lang(), e) {
			if e.Person == r.Who.ID {
				mine = append(mine, w)
			} else {
				others = append(others, w)
			}
		}
	}
	var list []string
	for _, w := range matches(slices.Concat(mine, others, say.TasteTaps()), last) {
		if !slices.Contains(strings.Split(said, ", "), w) {
			list = append(list, said+w)
		}
	}
	return list
}

// wordsOf returns what an entry says of a taste, in words.
func wordsOf(l say.Lang, e bar.Entry) []string {
	switch w := e.What.(type) {
	case bar.Shot:
		return l.Echoed(w.Words, e.Raw)
	case bar.Words:
		return l.Echoed(w.Words, e.Raw)
	case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers, bar.Sips:
	}
	return nil
}

// matches returns the values that begin with what is typed, then those that
// hold it, each once.
func matches(values []string, typed string) []string {
	typed = strings.ToLower(strings.TrimSpace(typed))
	var begin, within []string
	for _, v := range values {
		low := strings.ToLower(v)
		switch {
		case slices.Contains(begin, v), slices.Contains(within, v):
		case strings.HasPrefix(low, typed):
			begin = append(begin, v)
		case strings.Contains(low, typed):
			within = append(within, v)
		}
	}
	list := slices.Concat(begin, within)
	return list[:min(len(list), maxSuggested)]
}

// Form returns the form of a shot for a /shot that says nothing yet, and that
// of the cups for the button of a tasting.
func (b *Bot) Form(m chat.Message) (chat.Form, bool) {
	if m.Kind == chat.Pressed {
		return b.layersForm(m)
	}
	if m.Kind != chat.Called || m.Command.Name != "shot" || len(m.Command.Options) > 0 {
		return chat.Form{}, false
	}
	t, ok, err := b.looking(m)
	if err != nil || !ok {
		return chat.Form{}, false
	}
	return setup.In(t.WriterLang()).ShotForm(), true
}

// handledSpan is how far back a service is told what was handled, so that it
// can find what was edited or deleted meanwhile.
const handledSpan = 24 * time.Hour

// longSpan is how far back the last message is looked for in a bar that has
// been quiet.
const longSpan = 30 * 24 * time.Hour

// Channels returns the bars' channels.
func (b *Bot) Channels() ([]string, error) {
	var channels []string
	err := b.tools.Store.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		if err != nil {
			return err
		}
		for _, bar := range bars {
			channel, err := tx.ChannelOf(bar.ID)
			if err != nil {
				return err
			}
			channels = append(channels, channel)
		}
		return nil
	})
	return channels, err
}

// Handled returns the ids of the messages of a channel that were handled: none
// where there is no bar.
func (b *Bot) Handled(channel string) (ids []string, err error) {
	err = b.inBar(channel, func(tx *store.Tx, here bar.ID) error {
		ids, err = handledIn(tx, here, b.tools.Clock())
		return err
	})
	return ids, err
}

// handledIn returns the ids of a bar's messages of the last day; of a bar that
// has been quiet, the last one.
func handledIn(tx *store.Tx, bar bar.ID, now time.Time) ([]string, error) {
	entries, err := tx.Recent(bar, now.Add(-handledSpan))
	if err == nil && len(entries) == 0 {
		if entries, err = tx.Recent(bar, now.Add(-longSpan)); len(entries) > 0 {
			entries = entries[len(entries)-1:]
		}
	}
	var ids []string
	for _, e := range entries {
		if e.Message != "" {
			ids = append(ids, e.Message)
		}
	}
	return ids, err
}

// What is left to be read of a bar is of no day: it stands under a name that no
// day has.
const (
	unreadDay  = bar.Day("unread")
	unreadDeed = "from"
)

// Unread returns after which message some of a channel were left out.
func (b *Bot) Unread(channel string) (id string, err error) {
	err = b.inBar(channel, func(tx *store.Tx, here bar.ID) error {
		deeds, err := tx.Deeds(here, unreadDay)
		d, _ := turn.DeedOf(deeds, unreadDeed)
		id = d.Post
		return err
	})
	return id, err
}

// SetUnread notes it.
func (b *Bot) SetUnread(channel, id string) error {
	return b.tools.Store.Update(func(tx *store.Tx) error {
		bar, known := tx.BarOf(channel)
		if !known {
			return nil
		}
		return tx.PutDeed(bar, unreadDay, store.Deed{Name: unreadDeed, State: store.Done, Post: id, At: b.tools.Clock()})
	})
}

// dayThreads is how many threads of a bar's days are looked at for what was
// written while the bot was away: the last one, and the one that people went on
// in.
const dayThreads = 2

// Threads returns the threads of the last days on which the bar had one, the
// newest first.
func (b *Bot) Threads(channel string) (ids []string, err error) {
	t, ok, err := b.looking(chat.Message{Channel: channel})
	if err != nil || !ok {
		return nil, err
	}
	for at := t.Now; t.Now.Sub(at) <= day.GoneBy && len(ids) < dayThreads; at = at.AddDate(0, 0, -1) {
		deeds, err := t.At(at).Deeds()
		if err != nil {
			return nil, err
		}
		if card, ok := turn.DeedOf(deeds, cardDeed); ok && card.Post != "" {
			ids = append(ids, card.Post)
		}
	}
	return ids, nil
}

// Lang returns the language of the bar in a channel, English where there is none.
func (b *Bot) Lang(channel string) (lang say.Lang) {
	err := b.inBar(channel, func(tx *store.Tx, here bar.ID) error {
		home, err := tx.Bar(here)
		lang = say.In(home.Language)
		return err
	})
	if err != nil {
		b.tools.Log.Error("the language of a bar cannot be read", "err", err)
	}
	return lang
}

// layersForm returns the form that the button of a tasting opens, on services
// that have forms.
func (b *Bot) layersForm(m chat.Message) (chat.Form, bool) {
	verb, id, _, ok := turn.ReadPress(m.Press)
	if !ok || verb != cups.PressCups {
		return chat.Form{}, false
	}
	var l bar.Layers
	lang := say.Lang{}
	ok = false
	err := b.inBar(m.Channel, func(tx *store.Tx, here bar.ID) error {
		home, err := tx.Bar(here)
		if err != nil {
			return err
		}
		lang = turn.LanguageOfWriter(m, say.In(home.Language))
		e, err := tx.Entry(here, id)
		if err != nil {
			return err
		}
		l, ok = e.What.(bar.Layers)
		return nil
	})
	if err != nil || !ok || l.Stopped {
		return chat.Form{}, false
	}
	f := chat.Form{Title: lang.Say(bycup.CupsFormTitle), Command: chat.Command{Name: "layers taste"}}
	field := func(name, label string) {
		f.Fields = append(f.Fields, chat.Field{Name: name, Label: label, Hint: lang.Say(bycup.CupHint)})
	}
	if !l.Blind {
		field("early", lang.Say("early"))
		field("middle", lang.Say("middle"))
		field("late", lang.Say("late"))
		field("whole", lang.Say(bycup.WholeFieldLabel))
		return f, true
	}
	for _, letter := range parse.Letters {
		field(strings.ToLower(string(letter)), bycup.In(lang).CupLabel(string(letter)))
	}
	f.Fields = append(f.Fields, chat.Field{Name: "order", Label: lang.Say(bycup.OrderFieldLabel), Hint: lang.Say(bycup.OrderHint)})
	field("whole", lang.Say(bycup.WholeFieldLabel))
	return f, true
}
