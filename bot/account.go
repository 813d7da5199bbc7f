package bot

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/say"
	"shothand/bot/tasting"
)

// accountPost is the account, whole or as it is told at the table, with its
// picture in light or dark, or the result of a pair, as a post.
func (t *turn) accountPost(r *room, b layers.Table, whole, dark bool) (chat.Post, error) {
	if b.OfPair() {
		return t.pairPost(b), nil
	}
	a, err := tasting.AccountOf(t.in(), b)
	if err != nil {
		return chat.Post{}, err
	}
	if len(a.Splits) > 0 {
		if a.Alike, a.Both, err = t.tastings(r).Likenesses(); err != nil {
			return chat.Post{}, err
		}
	}
	p := t.post(chat.Info, t.in().Account(a, r.people, t.bar.Ends, whole))
	if p.Files, err = lookback.LayersFiles(t.in(), a, dark); err != nil {
		return p, err
	}
	if a.Verdict.Way != layers.Stay && len(a.Splits) >= layers.EnoughSplits && b.Begun.Method == bar.Espresso {
		p.Buttons = []chat.Button{{Label: t.in().Say(say.PairLabel), State: pressState(pressPair, b.Entry.ID)}}
	}
	return p, nil
}

// layersShow says again what the last tasting of a coffee has come to.
func (t *turn) layersShow(r *room, c chat.Command) ([]Out, error) {
	coffee, err := t.meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	tables, err := t.tastings(r).Of(coffee.ID)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(tables) {
		if b.OfPair() && b.Begun.Pair.Shown || !b.OfPair() && len(b.Begun.Shown) > 0 {
			p, err := t.accountPost(r, b, true, isDark(c))
			return []Out{{Post: p}}, err
		}
	}
	return nil, mistake(t.in().NoLayers(coffee))
}

// tastings are those of the bar.
func (t *turn) tastings(r *room) tasting.Records {
	return tasting.Records{See: t.see, Bar: t.bar.ID, Coffees: r.coffees, People: r.people}
}
