package report

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/say/past"
	"shothand/bot/turn"
	"shothand/store"
)

// sidesOf returns the reviews that are to stand side by side: "Harbour against
// Tide", "march against february", "grinder", "coffees last month". It is false
// where one alone is asked for.
func sidesOf(r *recent.Book, c chat.Command) ([]chat.Command, bool) {
	words := turn.Option(c, command.FreeWords, "")
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
		for _, g := range r.InUse() {
			sides = append(sides, with(g.Name+" "+rest))
		}
	case first == "coffees":
		for _, coffee := range r.OnBar() {
			sides = append(sides, with(coffee.Name+" "+rest))
		}
	}
	return sides, len(sides) > 0
}

// sideBySide looks back on several things and sets them beside each other. A
// side without a span has that of another.
func sideBySide(t *turn.Turn, r *recent.Book, sides []chat.Command) ([]turn.Out, error) {
	var scopes []scope
	spoken := ""
	for _, c := range sides {
		s, err := scopeOf(t, r, c)
		if err != nil {
			return nil, err
		}
		if s.said != usualSpan {
			spoken = s.said
		}
		scopes = append(scopes, s)
	}
	var list []past.LookBack
	for _, s := range scopes {
		if s.said == usualSpan && spoken != "" {
			if err := read(t, &s, spoken, r.Day); err != nil {
				return nil, err
			}
		}
		l, err := lookBack(t, s)
		if err != nil {
			return nil, err
		}
		list = append(list, l.LookBack)
	}
	post := t.Post(chat.Info, past.In(t.Lang()).Sides(list))
	post.Private = slices.ContainsFunc(list, func(l past.LookBack) bool { return l.Who.ID != 0 })
	return []turn.Out{{Post: post}}, nil
}

// ofBars reports whether a review is of several bars, and of which days.
func ofBars(c chat.Command) (rest string, ok bool) {
	first, rest, _ := strings.Cut(turn.Option(c, command.FreeWords, ""), " ")
	return strings.TrimSpace(rest), strings.EqualFold(first, "bars")
}

// bars sets the bars that whoever asks may manage beside each other, for them
// alone. A bar that is not known to be theirs is not looked at.
func bars(t *turn.Turn, c chat.Command, days string) ([]turn.Out, error) {
	if !t.Msg.Manager {
		return nil, turn.Mistake(t.WriterLang().Say(say.NotManager))
	}
	mine, err := managed(t)
	if err != nil {
		return nil, err
	}
	if since := turn.Option(c, "since", ""); days == "" && since != "" {
		if days = since; !bounded(days) {
			days = "since " + days
		}
	}
	var list []past.LookBack
	for _, b := range mine {
		there := *t
		there.Bar, there.Now = b, t.Store.InZone(t.Msg.At, b.Zone)
		r, err := there.Book()
		if err != nil {
			return nil, err
		}
		s := scope{coffees: r.Coffees}
		if err := read(&there, &s, days, r.Day); err != nil {
			return nil, err
		}
		l, err := lookBack(&there, s)
		if err != nil {
			return nil, err
		}
		l.Bar = b
		list = append(list, l.LookBack)
	}
	return t.Private(past.In(t.Lang()).Sides(list) + "\n" + past.In(t.Lang()).OnlyYourBars(len(mine)))
}

// managed returns the bars that whoever asks may manage: that of the channel, and
// those of the other channels that the service knows to be theirs.
func managed(t *turn.Turn) (mine []bar.Bar, err error) {
	err = t.See(func(tx *store.Tx) error {
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
			if b.ID == t.Bar.ID || t.Msg.MayManage(channel) {
				mine = append(mine, b)
			}
		}
		return nil
	})
	return mine, err
}
