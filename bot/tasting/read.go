package tasting

import (
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/say/bycup"
)

// Read turns what a message says into sips of the cups on this table.
func Read(l say.Lang, b layers.Table, who bar.PersonID, said parse.Cups) (bar.Sips, error) {
	s := bar.Sips{Split: said.Split, Sips: said.Sips, Order: said.Order, Better: said.Better}
	switch {
	case b.OfPair() && who == b.Entry.Person:
		return s, say.Error(l.Say(bycup.LeaderVotes))
	case b.OfPair() && said.Better == "":
		return s, say.Error(l.Say(bycup.PairOnly))
	case b.OfPair():
		return bar.Sips{Better: said.Better}, nil
	case said.Better != "":
		return s, say.Error(l.Say(bycup.NoPair))
	}
	if b.Begun.Blind {
		if slices.ContainsFunc(said.Sips, func(x bar.Note) bool { return x.Of != bar.Whole }) {
			return s, say.Error(l.Say(bycup.Letters))
		}
	} else if len(said.Lets) > 0 || said.Order != "" {
		return s, say.Error(l.Say(bycup.NotBlind))
	}
	for _, x := range said.Lets {
		x.Of = bar.Layer(strings.Index(b.Begun.Key, x.Letter))
		s.Sips = append(s.Sips, x.Note)
	}
	if len(s.Sips) == 0 && s.Order == "" {
		return s, say.Error(l.Say(bycup.NoCups))
	}
	if s.Split == 0 {
		s.Split = b.TurnOf(who)
	}
	if s.Split > b.Begun.Split+1 || b.Begun.IsStruck(s.Split) {
		return s, say.Error(bycup.In(l).NoSuchSplit(s.Split))
	}
	return s, nil
}
