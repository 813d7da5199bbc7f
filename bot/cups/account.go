package cups

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/recent"
	"shothand/bot/say/bycup"
	"shothand/bot/tasting"
	"shothand/bot/turn"
)

// accountPost is the account as it is told at the table once a split is shown, or
// all of it with split 0, with its picture in light or dark, or the result of a
// pair, as a post. The table is told it once: a later split brings a line.
func accountPost(t *turn.Turn, r *recent.Book, b layers.Table, split int, dark bool) (chat.Post, error) {
	if b.OfPair() {
		return pairPost(t, b), nil
	}
	a, err := tasting.AccountOf(t.Lang(), b)
	if err != nil {
		return chat.Post{}, err
	}
	if len(a.Splits) > 0 {
		if a.Alike, a.Both, err = Tastings(t, r).Likenesses(); err != nil {
			return chat.Post{}, err
		}
	}
	p := t.Post(chat.Info, bycup.In(t.Lang()).AccountAgain(a, t.Bar.Ends))
	if again := len(a.Splits) > 0 && split > a.Splits[0]; !again {
		p.Text = bycup.In(t.Lang()).Account(a, r.People, t.Bar.Ends, split == 0)
		if p.Files, err = lookback.LayersFiles(t.Lang(), a, dark); err != nil {
			return p, err
		}
	}
	if a.Verdict.Way != layers.Stay && len(a.Splits) >= layers.EnoughSplits && b.Begun.Method == bar.Espresso {
		p.Buttons = []chat.Button{{Label: t.Lang().Say(bycup.PairLabel), State: turn.PressState(PressPair, b.Entry.ID)}}
	}
	return p, nil
}

// layersShow says again what the last tasting of a coffee has come to.
func layersShow(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	coffee, err := t.Meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	tables, err := Tastings(t, r).Of(coffee.ID)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(tables) {
		if b.OfPair() && b.Begun.Pair.Shown || !b.OfPair() && len(b.Begun.Shown) > 0 {
			p, err := accountPost(t, r, b, 0, turn.IsDark(c))
			return []turn.Out{{Post: p}}, err
		}
	}
	return nil, turn.Mistake(bycup.In(t.Lang()).NoLayers(coffee))
}

// Tastings are those of the bar.
func Tastings(t *turn.Turn, r *recent.Book) tasting.Records {
	return tasting.Records{See: t.See, Bar: t.Bar.ID, Coffees: r.Coffees, People: r.People}
}
