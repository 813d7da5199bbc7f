package device

import (
	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/turn"
	"shothand/store"
)

// A shot that a device posted is nobody's until somebody makes it theirs, and
// what is said without a name is about what was shown last.

// PulledBy returns an open shot as the person of the turn has pulled it: when it
// was posted, whoever had the last advice was taken to have done so.
func PulledBy(t *turn.Turn, r *recent.Book, e bar.Entry, s bar.Shot) (bar.Shot, error) {
	before, ok := r.Newest(func(other bar.Entry, o bar.Shot) bool { return o.Coffee == s.Coffee && recent.Earlier(other, e) })
	if !ok {
		return s, nil
	}
	said, ok, err := t.AdviceOf(before.ID)
	if err != nil || !ok || said.Person == 0 || said.Person == t.Who.ID {
		return s, err
	}
	g, _ := r.Grinder(s.Grinder)
	c, _ := r.Coffee(s.Coffee)
	s.Grind, s.Turned, s.TurnedFrom = resolve.Grind(r, e, parse.Grind{}, g, store.Said{}, false)
	recipe := c.RecipeFor(s.Marks)
	if s.Dose.From == bar.Advised {
		s.Dose = bar.Value[bar.Grams]{X: recipe.Dose, From: bar.Assumed}
	}
	if s.Yield.From == bar.Advised {
		s.Yield = bar.Value[bar.Grams]{X: recipe.Yield, From: bar.Assumed}
	}
	return s, nil
}
