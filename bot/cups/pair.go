package cups

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/say/bycup"
	"shothand/bot/tasting"
	"shothand/bot/turn"
	"shothand/store"
)

// layersPair begins the comparison of two real shots.
func layersPair(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	coffee, err := t.Meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	end := 0.0
	if said := turn.Option(c, "yield", ""); said != "" {
		if end, err = parse.Grams(said); err != nil {
			return nil, err
		}
	}
	tables, err := Tastings(t, r).Of(coffee.ID)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(tables) {
		if !b.OfPair() && len(b.Begun.Shown) > 0 {
			return pairOf(t, r, b, end)
		}
	}
	return nil, turn.Mistake(bycup.In(t.Lang()).NoLayers(coffee))
}

// pairOf begins it after a tasting: the yield as it was against where the cups
// say, or against end if that is not 0.
func pairOf(t *turn.Turn, r *recent.Book, b layers.Table, end float64) ([]turn.Out, error) {
	if b.Begun.Method != bar.Espresso {
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NoFilterPair))
	}
	a, err := tasting.AccountOf(t.Lang(), b)
	if err != nil {
		return nil, err
	}
	if end == 0 {
		switch end = a.Verdict.Yield; {
		case len(a.Splits) < layers.EnoughSplits:
			return nil, turn.Mistake(t.WriterLang().Say(bycup.SecondFirst))
		case a.Verdict.Way == layers.Stay:
			return nil, turn.Mistake(t.WriterLang().Say(bycup.NothingToCompare))
		}
	}
	old := float64(b.Begun.Yield)
	if end == old {
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NothingToCompare))
	}
	_, on, err := layers.At(b.Begun.Method, b.Brew(), end)
	if err != nil {
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NoSplit))
	}
	l := bar.Layers{
		Coffee: b.Begun.Coffee, Method: b.Begun.Method, Dose: b.Begun.Dose, Yield: b.Begun.Yield, Time: b.Begun.Time, Tasters: a.OthersThan(t.Who.ID),
		Pair: bar.Pair{Old: b.Begun.Yield, New: bar.Grams(end), Time: bar.Seconds(on.Time), First: tasting.Draw(t.Now, b.Begun.Coffee)%2 == 0},
	}
	next := layers.Table{Begun: l, Coffee: b.Coffee}
	err = t.Update(func(tx *store.Tx) (err error) {
		if err := closeTable(t, tx, r); err != nil {
			return err
		}
		next.Entry, err = add(t, tx, r, l)
		return err
	})
	if err != nil {
		return nil, err
	}
	key := t.PrivatePost(chat.Info, bycup.In(t.WriterLang()).PairKey(next))
	return []turn.Out{{Post: pairStartPost(t, next)}, {Post: key}}, nil
}

// pairStartPost says how the two shots are compared.
func pairStartPost(t *turn.Turn, b layers.Table) chat.Post {
	p := t.Post(chat.Info, bycup.In(t.Lang()).PairStart(b, t.Bar.Ends))
	p.Buttons = cupButtons(t.Lang(), b)
	return p
}

// pairPost is what a pair has come to.
func pairPost(t *turn.Turn, b layers.Table) chat.Post {
	p := t.Post(chat.Info, bycup.In(t.Lang()).Pair(b))
	if b.Confirmed() && !b.Begun.Stopped {
		p.Buttons = []chat.Button{
			{Label: bycup.In(t.Lang()).MoveLabel(b.Begun.Pair.New), State: turn.PressState(PressMove, b.Entry.ID)},
			{Label: bycup.In(t.Lang()).LeaveLabel(b.Begun.Pair.Old), State: turn.PressState(PressLeave, b.Entry.ID)},
		}
	}
	return p
}

// move moves the recipe to where the cups say, if somebody who may do that
// agrees.
func move(t *turn.Turn, b layers.Table, yes bool) ([]turn.Out, error) {
	pair := b.Begun.Pair
	switch {
	case !t.Msg.Manager:
		return nil, turn.Mistake(t.WriterLang().Say(say.NotManager))
	case !b.OfPair() || !pair.Shown || b.Begun.Stopped:
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	case yes && b.Coffee.Recipe.Yield != pair.Old:
		return nil, turn.Mistake(t.WriterLang().Say(bycup.RecipeChanged))
	}
	b.Begun.Stopped = true
	if !yes {
		err := t.Update(func(tx *store.Tx) error { return put(t, tx, b) })
		return t.Says(chat.Recorded, bycup.In(t.Lang()).Left(b.Coffee)), err
	}
	b.Begun.Pair.Moved = true
	old := b.Coffee
	b.Coffee.Recipe = b.MovedRecipe(t.Bar.FromDrip)
	err := t.Change(func(tx *store.Tx) (bar.Setting, error) {
		b.Entry.What = b.Begun
		if err := tx.PutEntry(t.Bar.ID, b.Entry); err != nil {
			return bar.Setting{}, err
		}
		coffee := b.Coffee
		return bar.Setting{Coffee: old, ToCoffee: coffee}, tx.PutCoffee(t.Bar.ID, &coffee)
	})
	return t.Says(chat.Recorded, bycup.In(t.Lang()).Moved(b.Coffee, t.Bar.Ends)), err
}
