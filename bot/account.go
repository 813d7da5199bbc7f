package bot

import (
	"slices"

	"shothand/advisor/agree"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/say"
	"shothand/store"
)

// accountOf is the account of a tasting, or what to tell people why there is
// none.
func accountOf(l say.Lang, b layers.Table) (layers.Account, error) {
	a, err := layers.AccountOf(b)
	if err != nil {
		return a, mistake(l.Say(say.NoSplit))
	}
	return a, nil
}

// accountPost is the account, whole or as it is told at the table, with its
// picture in light or dark, or the result of a pair, as a post.
func (t *turn) accountPost(r *room, b layers.Table, whole, dark bool) (chat.Post, error) {
	if b.OfPair() {
		return t.pairPost(b), nil
	}
	a, err := accountOf(t.in(), b)
	if err != nil {
		return chat.Post{}, err
	}
	if len(a.Splits) > 0 {
		if a.Alike, a.Both, err = t.likenesses(r); err != nil {
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
	tables, err := t.tablesOf(r, coffee.ID)
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

// tablesOf returns all tastings of a coffee, oldest first.
func (t *turn) tablesOf(r *room, c bar.CoffeeID) ([]layers.Table, error) {
	var all []layers.Table
	err := t.see(func(tx *store.Tx) error {
		entries, err := tx.LayersOf(t.bar.ID, c)
		for _, e := range entries {
			b := layers.Table{Entry: e, Begun: e.What.(bar.Layers)}
			b.Coffee, _ = r.coffee(c)
			if b.Sips, err = tx.SipsOf(t.bar.ID, e.ID); err != nil {
				return err
			}
			all = append(all, b)
		}
		return err
	})
	return all, err
}

// likenesses returns how alike the bar's people taste, over the cups of all its
// tastings before others were shown, where there are cups enough to say; and
// how many cups two or more have tasted.
func (t *turn) likenesses(r *room) (all []layers.Likeness, both int, err error) {
	tables, err := t.allTables(r)
	if err != nil {
		return nil, 0, err
	}
	said := cupsOfAll(r, tables, func(s bar.Note, f bar.Scale) float64 {
		if layers.Named(s, f) {
			return 1
		}
		return 0
	})
	scores := cupsOfAll(r, tables, scoreGiven)
	for i, f := range layers.Families() {
		nominal, ok := agree.Judge(family(said, i), agree.Nominal)
		both = nominal.Units
		if ok {
			all = append(all, layers.Likeness{Of: f, Scores: false, Agreement: nominal})
		}
		if ordinal, ok := agree.Judge(family(scores, i), agree.Ordinal); ok {
			all = append(all, layers.Likeness{Of: f, Scores: true, Agreement: ordinal})
		}
	}
	return all, both, nil
}

// scoreGiven returns the score that was given, [agree.Missing] for none.
func scoreGiven(s bar.Note, f bar.Scale) float64 {
	for _, x := range s.Scores {
		if x.Of == f {
			return x.X
		}
	}
	return agree.Missing()
}

// family returns the units of one family of those that cupsOfAll returns.
func family(units [][]float64, at int) [][]float64 {
	var of [][]float64
	for i := at; i < len(units); i += len(layers.Families()) {
		of = append(of, units[i])
	}
	return of
}

// allTables returns all tastings of the bar, coffee by coffee, oldest first.
func (t *turn) allTables(r *room) ([]layers.Table, error) {
	var all []layers.Table
	for _, c := range r.coffees {
		tables, err := t.tablesOf(r, c.ID)
		if err != nil {
			return nil, err
		}
		all = append(all, tables...)
	}
	return all, nil
}

// cupsOfAll returns for each cup of all tastings and each family what value
// has of each person, [agree.Missing] of those who did not taste it or had been
// shown what the others said.
func cupsOfAll(r *room, tables []layers.Table, value func(bar.Note, bar.Scale) float64) [][]float64 {
	var units [][]float64
	for _, b := range tables {
		for _, split := range b.Begun.Shown {
			if !b.Begun.IsStruck(split) && !b.OfPair() {
				units = append(units, cupUnits(b, r, split, value)...)
			}
		}
	}
	return units
}

// units are cupsOfAll of one split.
func cupUnits(b layers.Table, r *room, split int, value func(bar.Note, bar.Scale) float64) [][]float64 {
	var units [][]float64
	for cup := range bar.Layer(layers.Cups) {
		for _, f := range layers.Families() {
			var unit []float64
			for _, p := range r.people {
				x := agree.Missing()
				if s, ok := b.Of(p.ID, split).Note(cup); ok && s.Tasted() && !b.Late(p.ID, split) {
					x = value(s, f)
				}
				unit = append(unit, x)
			}
			units = append(units, unit)
		}
	}
	return units
}
