package report

import (
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chat"
	"shothand/bot/cups"
	"shothand/bot/lookback"
	"shothand/bot/recent"
	"shothand/bot/say/past"
	"shothand/bot/tasting"
	"shothand/bot/turn"
)

// coffeePageOf looks it up.
func coffeePageOf(t *turn.Turn, r *recent.Book, c bar.Coffee, book review.Book) (past.CoffeePage, error) {
	p := past.CoffeePage{Lang: past.In(t.Lang()), Coffee: c, Currency: t.Bar.Currency}
	p.Best, p.HasBest = review.BestOf(c, book.Cups)
	p.Grinder, _ = r.Grinder(c.Grinder)
	h, err := t.History(c.ID)
	if err != nil {
		return p, err
	}
	p.Ageing = advisor.AgeingOf(h, c.ID, t.Now)
	for _, course := range book.Courses {
		p.Worth = course.Trail.Worth
	}
	if a, ok := t.Advise(h, c.ID, t.Now); ok {
		p.Learnt, p.Pulled = a.Learnt, true
	}
	tables, err := cups.Tastings(t, r).Of(c.ID)
	if err != nil {
		return p, err
	}
	for _, b := range slices.Backward(tables) {
		switch {
		case b.OfPair() && b.Begun.Pair.Shown && !p.HasPair:
			p.Pair, p.HasPair = b, true
		case !b.OfPair() && len(b.Begun.Shown) > 0 && !p.HasTasting:
			if p.Tasting, err = tasting.AccountOf(t.Lang(), b); err != nil {
				return p, err
			}
			p.HasTasting = len(p.Tasting.Splits) > 0
		}
	}
	modelPage(&p)
	return p, nil
}

// model works out what the recipe holds, and a longer shot of it.
func modelPage(p *past.CoffeePage) {
	b := layers.BrewOf(bar.Layers{Dose: p.Coffee.Recipe.Dose, Yield: p.Coffee.Recipe.Yield, Time: (p.Coffee.Recipe.Low + p.Coffee.Recipe.High) / 2})
	var err1, err2 error
	p.Now, _, err1 = layers.At(bar.Espresso, b, b.Yield)
	p.Longer, _, err2 = layers.At(bar.Espresso, b, b.Yield+past.YieldTried)
	p.Modeled = err1 == nil && err2 == nil
}

// CoffeeShow tells what is known of a coffee.
func CoffeeShow(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	coffee, err := t.Meant(r, c, "name")
	if err != nil {
		return nil, err
	}
	read := records(t)
	h, err := read.History(read.Lately())
	if err != nil {
		return nil, err
	}
	book, err := read.Book(h, []bar.Coffee{coffee}, read.Lately())
	if err != nil {
		return nil, err
	}
	p, err := coffeePageOf(t, r, coffee, book)
	if err != nil {
		return nil, err
	}
	post := t.Post(chat.Info, p.Text(r.Day))
	post.Files, err = lookback.CoffeeFiles(t.Lang(), book, read.Lately(), turn.IsDark(c))
	return []turn.Out{{Post: post}}, err
}
