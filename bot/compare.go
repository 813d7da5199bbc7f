package bot

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/say"
	"shothand/store"
)

// sidesOf returns the reviews that are to stand side by side: "Harbour against
// Tide", "march against february", "grinder", "coffees last month". It is false
// where one alone is asked for.
func sidesOf(r *room, c chat.Command) ([]chat.Command, bool) {
	words := option(c, command.FreeWords, "")
	with := func(words string) chat.Command {
		side := chat.Command{Name: c.Name, Options: slices.Clone(c.Options)}
		side.Options = slices.DeleteFunc(side.Options, func(o chat.Option) bool { return o.Name == command.FreeWords })
		side.Options = append(side.Options, chat.Option{Name: command.FreeWords, Value: strings.TrimSpace(words)})
		return side
	}
	low := strings.ToLower(words)
	for _, between := range []string{" against ", " versus ", " vs ", " vs. ", " beside "} {
		if i := strings.Index(low, between); i > 0 {
			return []chat.Command{with(words[:i]), with(words[i+len(between):])}, true
		}
	}
	var sides []chat.Command
	first, rest, _ := strings.Cut(low, " ")
	switch g, _ := leadingGrinder(r, words); {
	case first == "grinders" || first == "grinder" && g.ID == 0:
		for _, g := range r.inUse() {
			sides = append(sides, with(g.Name+" "+rest))
		}
	case first == "coffees":
		for _, coffee := range r.onBar() {
			sides = append(sides, with(coffee.Name+" "+rest))
		}
	}
	return sides, len(sides) > 0
}

// sideBySide looks back on several things and sets them beside each other. A
// side without a span has that of another.
func (t *turn) sideBySide(r *room, sides []chat.Command) ([]Out, error) {
	var scopes []scope
	spoken := ""
	for _, c := range sides {
		s, err := t.scope(r, c)
		if err != nil {
			return nil, err
		}
		if s.said != usualSpan {
			spoken = s.said
		}
		scopes = append(scopes, s)
	}
	var list []say.LookBack
	for _, s := range scopes {
		if s.said == usualSpan && spoken != "" {
			if err := t.read(&s, spoken, r.day); err != nil {
				return nil, err
			}
		}
		l, err := t.lookBack(s)
		if err != nil {
			return nil, err
		}
		list = append(list, l.LookBack)
	}
	post := t.post(chat.Info, t.in().Sides(list))
	post.Private = slices.ContainsFunc(list, func(l say.LookBack) bool { return l.Who.ID != 0 })
	return []Out{{Post: post}}, nil
}

// ofBars reports whether a review is of several bars, and of which days.
func ofBars(c chat.Command) (rest string, ok bool) {
	first, rest, _ := strings.Cut(option(c, command.FreeWords, ""), " ")
	return strings.TrimSpace(rest), strings.EqualFold(first, "bars")
}

// bars sets the bars that whoever asks may manage beside each other, for them
// alone. A bar that is not known to be theirs is not looked at.
func (t *turn) bars(c chat.Command, days string) ([]Out, error) {
	if !t.m.Manager {
		return nil, mistake(t.own().Say(say.NotManager))
	}
	mine, err := t.managed()
	if err != nil {
		return nil, err
	}
	if since := option(c, "since", ""); days == "" && since != "" {
		if days = since; !bounded(days) {
			days = "since " + days
		}
	}
	var list []say.LookBack
	for _, b := range mine {
		there := *t
		there.bar, there.now = b, t.store.InZone(t.m.At, b.Zone)
		r, err := there.room()
		if err != nil {
			return nil, err
		}
		s := scope{coffees: r.coffees}
		if err := there.read(&s, days, r.day); err != nil {
			return nil, err
		}
		l, err := there.lookBack(s)
		if err != nil {
			return nil, err
		}
		l.Bar = b
		list = append(list, l.LookBack)
	}
	post := t.post(chat.Info, t.in().Sides(list)+"\n"+t.in().OnlyYourBars(len(mine)))
	post.Private = true
	return []Out{{Post: post}}, nil
}

// managed returns the bars that whoever asks may manage: that of the channel, and
// those of the other channels that the service knows to be theirs.
func (t *turn) managed() (mine []bar.Bar, err error) {
	err = t.see(func(tx *store.Tx) error {
		mine = nil
		all, err := tx.Bars()
		if err != nil {
			return err
		}
		for _, b := range all {
			channel, err := tx.ChannelOf(b.ID)
			if err != nil {
				return err
			}
			if b.ID == t.bar.ID || t.m.MayManage(channel) {
				mine = append(mine, b)
			}
		}
		return nil
	})
	return mine, err
}
