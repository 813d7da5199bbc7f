package bot

import (
	"slices"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chat"
)

// A coffeePage is all that is known of a coffee, looked up for the wording.
type coffeePage struct {
	coffee  bar.Coffee
	grinder bar.Grinder
	advisor.Page
	learnt  advisor.Learnt
	worth   advisor.Band // s, of a step of the grinder
	pulled  bool
	account account // of the last tasting that was shown
	tasted  bool    // there is one
	pair    table   // the last that was shown
	paired  bool    // there is one
	longer  extraction.Cup
	now     extraction.Cup
	modeled bool
}

// coffeePageOf looks it up.
func (t *turn) coffeePageOf(r *room, course review.Course) (coffeePage, error) {
	c := course.Coffee
	p := coffeePage{coffee: c}
	p.grinder, _ = r.grinder(c.Grinder)
	h, err := t.history(c.ID)
	if err != nil {
		return p, err
	}
	p.Page, p.worth = advisor.PageOf(h, c.ID, t.now), course.Trail.Worth
	if a, ok := t.advise(h, c.ID, t.now); ok {
		p.learnt, p.pulled = a.Learnt, true
	}
	tables, err := t.tablesOf(r, c.ID)
	if err != nil {
		return p, err
	}
	for _, b := range slices.Backward(tables) {
		switch {
		case b.ofPair() && b.begun.Pair.Shown && !p.paired:
			p.pair, p.paired = b, true
		case !b.ofPair() && len(b.begun.Shown) > 0 && !p.tasted:
			if p.account, err = accountOf(b); err != nil {
				return p, err
			}
			p.tasted = len(p.account.splits) > 0
		}
	}
	p.model()
	return p, nil
}

// yieldTried is how much longer a shot is tried to say what the yield is worth,
// in g.
const yieldTried = 4

// model works out what the recipe holds, and a longer shot of it.
func (p *coffeePage) model() {
	b := brewOf(bar.Layers{Dose: p.coffee.Recipe.Dose, Yield: p.coffee.Recipe.Yield, Time: (p.coffee.Recipe.Low + p.coffee.Recipe.High) / 2})
	var err1, err2 error
	p.now, _, err1 = layers.At(bar.Espresso, b, b.Yield)
	p.longer, _, err2 = layers.At(bar.Espresso, b, b.Yield+yieldTried)
	p.modeled = err1 == nil && err2 == nil
}

// coffeeShow tells what is known of a coffee.
func (t *turn) coffeeShow(r *room, c chat.Command) ([]Out, error) {
	coffee, err := t.meant(r, c, "name")
	if err != nil {
		return nil, err
	}
	course, calls, err := t.course(coffee)
	if err != nil {
		return nil, err
	}
	p, err := t.coffeePageOf(r, course)
	if err != nil {
		return nil, err
	}
	post := t.post(chat.Info, p.text(r.day))
	post.Files, err = coffeeFiles(course, calls, isDark(c))
	return []Out{{Post: post}}, err
}
