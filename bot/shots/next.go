package shots

import (
	"math"

	"shothand/advisor/bar"
	"shothand/bot/answer"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// PressNext is the state of a button that takes back which coffee a person's next
// shot is of.
const PressNext = "next"

// nextCoffee keeps which coffee this person's next shot is of, where it names none.
// Silent where it is of that one anyway.
func nextCoffee(t *turn.Turn, r *recent.Book, id bar.CoffeeID) ([]turn.Out, error) {
	c, ok := r.Coffee(id)
	if usual, known := r.UsualCoffee(); !ok || t.Msg.ReplyTo != "" || known && usual.ID == id {
		return nil, nil
	}
	g, _ := r.Grinder(c.Grinder)
	post := t.Post(chat.Recorded, t.Lang().Coffee(t.Lang().Say(say.NextShot), c, g, r.Day, r.Bar.Currency)+r.Stood(c, g))
	post.Buttons = []chat.Button{{Label: t.Lang().Say(say.BackLabel), State: turn.PressState(PressNext, 0)}}
	err := t.Update(func(tx *store.Tx) error {
		if err := t.KeepNext(tx, id); err != nil {
			return err
		}
		return t.Remember(tx, post)
	})
	return []turn.Out{{Post: post}}, err
}

// offYield is how far a yield lies from the recipe's, as a part, where a dose beside it
// that is off as well may be another recipe. Assumed.
const offYield = 0.05

// otherRecipe is what the button says that makes a shot's dose and yield the recipe,
// where somebody may be on another one: both were said, and both are off. Else it is empty.
func otherRecipe(l say.Lang, c bar.Coffee, s bar.Shot) string {
	r := c.RecipeFor(s.Marks)
	off := s.Yield.X/r.Yield - 1
	said := s.Dose.From == bar.Said && s.Yield.From == bar.Said && !s.Dose.Rough && !s.Yield.Rough && s.Marks&(bar.Choked|bar.Stopped|bar.Sink|bar.Single|bar.Practice) == 0
	if !said || math.Abs(float64(off)) < offYield || (off > 0) != (s.Dose.X > r.Dose) {
		return ""
	}
	return l.RecipeLabel(s)
}

// PutRecipe makes the dose and the yield of a shot the recipe of its coffee, and advises
// on it anew.
func PutRecipe(t *turn.Turn, r *recent.Book, e bar.Entry) ([]turn.Out, error) {
	s, ok := e.What.(bar.Shot)
	old, known := r.Coffee(s.Coffee)
	switch {
	case !ok || !known:
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	case !t.Msg.Manager:
		return nil, turn.Mistake(t.WriterLang().Say(say.NotManager))
	}
	c := old
	recipe := bar.RecipeOf(&c, s.Marks)
	recipe.Dose, recipe.Yield = s.Dose.X, s.Yield.X
	if c != old {
		err := t.Change(func(tx *store.Tx) (bar.Setting, error) {
			return bar.Setting{Coffee: old, ToCoffee: c}, tx.PutCoffee(t.Bar.ID, &c)
		})
		if err != nil {
			return nil, err
		}
	}
	g, _ := r.Grinder(c.Grinder)
	post, err := answer.Again(t, c.ID, t.Lang().Coffee(t.Lang().Say(say.Changed), c, g, r.Day, r.Bar.Currency))
	return []turn.Out{{Post: post}}, err
}

// ForgetNext takes it back.
func ForgetNext(t *turn.Turn) ([]turn.Out, error) {
	post := t.Post(chat.Recorded, t.Lang().Say(say.NextShotBack))
	err := t.Update(func(tx *store.Tx) error {
		if err := t.KeepNext(tx, 0); err != nil {
			return err
		}
		return t.Remember(tx, post)
	})
	return []turn.Out{{Post: post}}, err
}
