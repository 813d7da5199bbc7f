package bot

import (
	"math"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/parse"
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
	tables, err := t.tablesOf(r, coffee.ID)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(tables) {
		if !b.ofPair() && len(b.begun.Shown) > 0 {
			return t.pairOf(r, b, end)
		}
	}
	return nil, mistake(noLayersText(coffee))
}

// pairOf begins it after a tasting: the yield as it was against where the cups
// say, or against end if that is not 0.
func (t *turn) pairOf(r *room, b table, end float64) ([]Out, error) {
	if b.begun.Method != bar.Espresso {
		return nil, mistake(noFilterPairText)
	}
	a, err := accountOf(b)
	if err != nil {
		return nil, err
	}
	if end == 0 {
		switch end = a.verdict.Yield; {
		case len(a.splits) < enoughSplits:
			return nil, mistake(secondFirstText)
		case a.verdict.Way == layers.Stay:
			return nil, mistake(nothingToCompareText)
		}
	}
	old := float64(b.begun.Yield)
	if end == old {
		return nil, mistake(nothingToCompareText)
	}
	_, on, err := layers.At(b.begun.Method, b.brew(), end)
	if err != nil {
		return nil, mistake(noSplitText)
	}
	l := bar.Layers{
		Coffee: b.begun.Coffee, Method: b.begun.Method, Dose: b.begun.Dose, Yield: b.begun.Yield, Time: b.begun.Time, Tasters: a.othersThan(t.who.ID),
		Pair: bar.Pair{Old: b.begun.Yield, New: bar.Grams(end), Time: bar.Seconds(on.Time), First: draw(t.now, b.begun.Coffee)%2 == 0},
	}
	next := table{begun: l, coffee: b.coffee}
	err = t.store.Update(func(tx *store.Tx) (err error) {
		if err := t.closeTable(tx, r); err != nil {
			return err
		}
		next.entry, err = t.add(tx, r, l)
		return err
	})
	if err != nil {
		return nil, err
	}
	key := t.post(chat.Info, next.pairKeyText())
	key.Private = true
	return []Out{{Post: t.pairStartPost(next)}, {Post: key}}, nil
}

// pairStartPost says how the two shots are compared.
func (t *turn) pairStartPost(b table) chat.Post {
	p := t.post(chat.Info, b.pairStartText(t.bar.Ends))
	p.Buttons = b.cupButtons()
	return p
}

// votes counts who liked which shot better, the last word of each.
func (b table) votes() (for1, against, same int) {
	last := map[bar.PersonID]string{}
	for _, e := range b.sips {
		if s := e.What.(bar.Sips); s.Better != "" {
			last[e.Person] = s.Better
		}
	}
	for _, better := range last {
		switch {
		case better == "same":
			same++
		case (better == "X") == b.begun.Pair.First:
			for1++
		default:
			against++
		}
	}
	return for1, against, same
}

// confirmed reports whether the pair speaks for the new end: more liked it
// better than not, and at least half of all.
func (b table) confirmed() bool {
	n, against, same := b.votes()
	return n > against && n >= same
}

// pairPost is what a pair has come to.
func (t *turn) pairPost(b table) chat.Post {
	p := t.post(chat.Info, b.pairText())
	if b.confirmed() && !b.begun.Stopped {
		p.Buttons = []chat.Button{
			{Label: moveLabel(b.begun.Pair.New), State: pressState(pressMove, b.entry.ID)},
			{Label: leaveLabel(b.begun.Pair.Old), State: pressState(pressLeave, b.entry.ID)},
		}
	}
	return p
}

// move moves the recipe to where the cups say, if somebody who may do that
// agrees.
func (t *turn) move(b table, yes bool) ([]Out, error) {
	pair := b.begun.Pair
	switch {
	case !t.m.Manager:
		return nil, mistake(notManagerText)
	case !b.ofPair() || !pair.Shown || b.begun.Stopped:
		return nil, mistake(oldButtonText)
	case yes && b.coffee.Recipe.Yield != pair.Old:
		return nil, mistake(recipeChangedText)
	}
	b.begun.Stopped = true
	if !yes {
		err := t.store.Update(func(tx *store.Tx) error { return t.put(tx, b) })
		return t.say(chat.Recorded, leftText(b.coffee)), err
	}
	b.begun.Pair.Moved = true
	old := b.coffee
	b.coffee.Recipe = b.movedRecipe(t.bar.FromDrip)
	err := t.change(func(tx *store.Tx) (bar.Setting, error) {
		b.entry.What = b.begun
		if err := tx.PutEntry(t.bar.ID, b.entry); err != nil {
			return bar.Setting{}, err
		}
		coffee := b.coffee
		return bar.Setting{Coffee: old, ToCoffee: coffee}, tx.PutCoffee(t.bar.ID, &coffee)
	})
	return t.say(chat.Recorded, movedText(b.coffee, t.bar.Ends)), err
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

// movedRecipe is the coffee's recipe with the end that was confirmed. The grind
// stays, so the window goes with the end.
func (b table) movedRecipe(fromDrip bool) bar.Recipe {
	r := b.coffee.Recipe
	r.Yield = b.begun.Pair.New
	wetting := bar.Seconds(0)
	if fromDrip {
		wetting = b.coffee.Wetting()
	}
	scaled := func(s bar.Seconds) bar.Seconds {
		return bar.Seconds(math.Round(float64((s+wetting)*b.begun.Pair.Time/b.begun.Time - wetting)))
	}
	r.Low, r.High = scaled(r.Low), scaled(r.High)
	return r
}

// othersThan counts who has tasted at the table besides the one who pours.
func (a account) othersThan(who bar.PersonID) int {
	others := map[bar.PersonID]bool{}
	for _, row := range a.rows {
		if row.who != who {
			others[row.who] = true
		}
	}
	return len(others)
}
