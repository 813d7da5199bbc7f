package bot

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/tasting"
	"shothand/store"
)

// layersPair begins the comparison of two real shots.
func (t *turn) layersPair(r *room, c chat.Command) ([]Out, error) {
	coffee, err := t.meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	end := 0.0
	if said := option(c, "yield", ""); said != "" {
		if end, err = parse.Grams(said); err != nil {
			return nil, err
		}
	}
	tables, err := t.tastings(r).Of(coffee.ID)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(tables) {
		if !b.OfPair() && len(b.Begun.Shown) > 0 {
			return t.pairOf(r, b, end)
		}
	}
	return nil, mistake(t.in().NoLayers(coffee))
}

// pairOf begins it after a tasting: the yield as it was against where the cups
// say, or against end if that is not 0.
func (t *turn) pairOf(r *room, b layers.Table, end float64) ([]Out, error) {
	if b.Begun.Method != bar.Espresso {
		return nil, mistake(t.own().Say(say.NoFilterPair))
	}
	a, err := tasting.AccountOf(t.in(), b)
	if err != nil {
		return nil, err
	}
	if end == 0 {
		switch end = a.Verdict.Yield; {
		case len(a.Splits) < layers.EnoughSplits:
			return nil, mistake(t.own().Say(say.SecondFirst))
		case a.Verdict.Way == layers.Stay:
			return nil, mistake(t.own().Say(say.NothingToCompare))
		}
	}
	old := float64(b.Begun.Yield)
	if end == old {
		return nil, mistake(t.own().Say(say.NothingToCompare))
	}
	_, on, err := layers.At(b.Begun.Method, b.Brew(), end)
	if err != nil {
		return nil, mistake(t.own().Say(say.NoSplit))
	}
	l := bar.Layers{
		Coffee: b.Begun.Coffee, Method: b.Begun.Method, Dose: b.Begun.Dose, Yield: b.Begun.Yield, Time: b.Begun.Time, Tasters: a.OthersThan(t.who.ID),
		Pair: bar.Pair{Old: b.Begun.Yield, New: bar.Grams(end), Time: bar.Seconds(on.Time), First: tasting.Draw(t.now, b.Begun.Coffee)%2 == 0},
	}
	next := layers.Table{Begun: l, Coffee: b.Coffee}
	err = t.update(func(tx *store.Tx) (err error) {
		if err := t.closeTable(tx, r); err != nil {
			return err
		}
		next.Entry, err = t.add(tx, r, l)
		return err
	})
	if err != nil {
		return nil, err
	}
	key := t.post(chat.Info, t.own().PairKey(next))
	key.Private = true
	return []Out{{Post: t.pairStartPost(next)}, {Post: key}}, nil
}

// pairStartPost says how the two shots are compared.
func (t *turn) pairStartPost(b layers.Table) chat.Post {
	p := t.post(chat.Info, t.in().PairStart(b, t.bar.Ends))
	p.Buttons = cupButtons(t.in(), b)
	return p
}

// pairPost is what a pair has come to.
func (t *turn) pairPost(b layers.Table) chat.Post {
	p := t.post(chat.Info, t.in().Pair(b))
	if b.Confirmed() && !b.Begun.Stopped {
		p.Buttons = []chat.Button{
			{Label: t.in().MoveLabel(b.Begun.Pair.New), State: pressState(pressMove, b.Entry.ID)},
			{Label: t.in().LeaveLabel(b.Begun.Pair.Old), State: pressState(pressLeave, b.Entry.ID)},
		}
	}
	return p
}

// move moves the recipe to where the cups say, if somebody who may do that
// agrees.
func (t *turn) move(b layers.Table, yes bool) ([]Out, error) {
	pair := b.Begun.Pair
	switch {
	case !t.m.Manager:
		return nil, mistake(t.own().Say(say.NotManager))
	case !b.OfPair() || !pair.Shown || b.Begun.Stopped:
		return nil, mistake(t.own().Say(say.OldButton))
	case yes && b.Coffee.Recipe.Yield != pair.Old:
		return nil, mistake(t.own().Say(say.RecipeChanged))
	}
	b.Begun.Stopped = true
	if !yes {
		err := t.update(func(tx *store.Tx) error { return t.put(tx, b) })
		return t.say(chat.Recorded, t.in().Left(b.Coffee)), err
	}
	b.Begun.Pair.Moved = true
	old := b.Coffee
	b.Coffee.Recipe = b.MovedRecipe(t.bar.FromDrip)
	err := t.change(func(tx *store.Tx) (bar.Setting, error) {
		b.Entry.What = b.Begun
		if err := tx.PutEntry(t.bar.ID, b.Entry); err != nil {
			return bar.Setting{}, err
		}
		coffee := b.Coffee
		return bar.Setting{Coffee: old, ToCoffee: coffee}, tx.PutCoffee(t.bar.ID, &coffee)
	})
	return t.say(chat.Recorded, t.in().Moved(b.Coffee, t.bar.Ends)), err
}

// unmove notes of the pair that moved a recipe that it was put back.
func (t *turn) unmove(tx *store.Tx, old bar.Setting) error {
	entries, err := tx.LayersOf(t.bar.ID, old.Coffee.ID)
	for _, e := range entries {
		l, ok := e.What.(bar.Layers)
		if !ok || !l.Pair.Moved || l.Pair.Old != old.Coffee.Recipe.Yield || l.Pair.New != old.ToCoffee.Recipe.Yield {
			continue
		}
		l.Pair.Moved = false
		e.What = l
		if err := tx.PutEntry(t.bar.ID, e); err != nil {
			return err
		}
	}
	return err
}
