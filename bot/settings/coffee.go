package settings

import (
	"errors"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// CoffeeAdd puts a coffee on the list.
func CoffeeAdd(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	name, err := coffeeName(t.Lang(), turn.Option(c, "name", ""), say.Names(r.OnBar()))
	if err != nil {
		return nil, err
	}
	if old, ok := turn.Retired(r, name); ok {
		return coffeeBack(t, r, old, c)
	}
	coffee, grinders := bar.Coffee{Name: name, Recipe: bar.House()}, r.InUse()
	if len(grinders) > 0 {
		coffee.Grinder = grinders[0].ID
	}
	if turn.Option(c, "for", "") != "" { // the one recipe is for what it says
		if coffee.For, err = parse.Drink(turn.Option(c, "for", "")); err != nil {
			return nil, err
		}
	}
	if err := setCoffee(r, &coffee, &coffee.Recipe, c); err != nil {
		return nil, err
	}
	if turn.Option(c, "grinder", "") == "" && len(grinders) > 1 {
		return nil, turn.Mistake(t.WriterLang().WhichGrinder(grinders))
	}
	err = t.Change(func(tx *store.Tx) (bar.Setting, error) {
		coffee.ID = 0
		if len(grinders) == 0 {
			g := bar.Grinder{Name: t.Lang().Say(say.HouseGrinder)}
			if err := tx.PutGrinder(t.Bar.ID, &g); err != nil {
				return bar.Setting{}, err
			}
			coffee.Grinder = g.ID
		}
		err := tx.PutCoffee(t.Bar.ID, &coffee)
		return bar.Setting{Coffee: coffee, ToCoffee: coffee, Added: true}, err
	})
	return t.Says(chat.Recorded, coffeeText(r, t.Lang().Say(say.Added), coffee)), err
}

// coffeeBack puts a retired coffee on the bar again, with its history and as it was
// but for what is said of it now.
func coffeeBack(t *turn.Turn, r *recent.Book, old bar.Coffee, c chat.Command) ([]turn.Out, error) {
	coffee := old
	coffee.Retired = false
	recipe, err := meantRecipe(&coffee, c)
	if err != nil {
		return nil, err
	}
	if err := setCoffee(r, &coffee, recipe, c); err != nil {
		return nil, err
	}
	return changeCoffee(t, r, old, coffee, t.Lang().Say(say.OnTheBarAgain))
}

// CoffeeEdit changes a coffee.
func CoffeeEdit(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	old, err := namedCoffee(r, c)
	if err != nil {
		return nil, err
	}
	coffee := old
	recipe, err := meantRecipe(&coffee, c)
	if err != nil {
		return nil, err
	}
	if err := setCoffee(r, &coffee, recipe, c); err != nil {
		return nil, err
	}
	if to := turn.Option(c, "rename", ""); to != "" {
		if coffee.Name, err = coffeeName(t.Lang(), to, say.Names(r.OnBar())); err != nil {
			return nil, err
		}
	}
	return changeCoffee(t, r, old, coffee, t.Lang().Say(say.Changed))
}

// CoffeeRetire takes a coffee off the list; its history stays.
func CoffeeRetire(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	old, err := namedCoffee(r, c)
	if err != nil {
		return nil, err
	}
	coffee := old
	coffee.Retired = true
	return changeCoffee(t, r, old, coffee, t.Lang().Say(say.Retired))
}

// namedCoffee returns the coffee whose name a command gives. None is taken for
// granted where a coffee is changed.
func namedCoffee(r *recent.Book, c chat.Command) (bar.Coffee, error) {
	name := turn.Option(c, "name", "")
	if name == "" {
		return bar.Coffee{}, turn.Mistake(r.Lang().WhichChange(c.Name, r.Lang().WhichCoffee(r.OnBar()), say.Names(r.OnBar())))
	}
	return turn.FindCoffee(r, name)
}

// changeCoffee writes a coffee in place of old.
func changeCoffee(t *turn.Turn, r *recent.Book, old, coffee bar.Coffee, how string) ([]turn.Out, error) {
	if coffee == old {
		return nil, turn.Mistake(t.WriterLang().NothingChanged(coffeeText(r, "", coffee)))
	}
	if t.Msg.Kind == chat.Text && !strings.HasPrefix(strings.TrimSpace(t.Msg.Text), "/") {
		return changedInWords(t, r, old, coffee, how)
	}
	err := t.Change(func(tx *store.Tx) (bar.Setting, error) {
		return bar.Setting{Coffee: old, ToCoffee: coffee}, tx.PutCoffee(t.Bar.ID, &coffee)
	})
	return t.Says(chat.Recorded, coffeeText(r, how, coffee)), err
}

// changedInWords writes it where no command asked for it: one tap takes it back.
func changedInWords(t *turn.Turn, r *recent.Book, old, coffee bar.Coffee, how string) ([]turn.Out, error) {
	post := t.Post(chat.Recorded, coffeeText(r, how, coffee)+" "+t.Lang().RecipeBefore(old, coffee))
	err := t.Update(func(tx *store.Tx) error {
		id, err := tx.AddEntry(t.Bar.ID, bar.Entry{
			Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text, What: bar.Setting{Coffee: old, ToCoffee: coffee},
		})
		post.Buttons = []chat.Button{{Label: t.Lang().Say(say.BackLabel), State: turn.PressState(turn.PressUnset, id)}}
		return errors.Join(err, tx.PutCoffee(t.Bar.ID, &coffee), tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now), t.Remember(tx, post))
	})
	return []turn.Out{{Post: post}}, err
}

// coffeeText tells of a coffee.
func coffeeText(r *recent.Book, how string, c bar.Coffee) string {
	g, _ := r.Grinder(c.Grinder)
	return r.Lang().Coffee(how, c, g, r.Day, r.Bar.Currency)
}

// CoffeeList lists the coffees on the bar.
func CoffeeList(r *recent.Book) string {
	var lines []string
	for _, c := range r.OnBar() {
		lines = append(lines, coffeeText(r, "", c))
	}
	return r.Lang().CoffeeList(lines)
}

// setCoffee takes over what the options say of a coffee and of that recipe of it.
func setCoffee(r *recent.Book, coffee *bar.Coffee, recipe *bar.Recipe, c chat.Command) error {
	if err := setRecipe(recipe, c); err != nil {
		return err
	}
	return setFacts(r, coffee, c)
}

// meantRecipe returns which recipe of a coffee the options are about. A coffee
// drunk black that is told a recipe for milk carries both from then on; told
// for:milk or for:black alone, it is for that only.
func meantRecipe(coffee *bar.Coffee, c chat.Command) (*bar.Recipe, error) {
	said := turn.Option(c, "for", "")
	if said == "" {
		return &coffee.Recipe, nil
	}
	drink, err := parse.Drink(said)
	if err != nil {
		return nil, err
	}
	alone := turn.Option(c, "dose", "")+turn.Option(c, "yield", "")+turn.Option(c, "time", "") == ""
	switch {
	case drink == coffee.For && alone:
		coffee.Milk = bar.Recipe{}
	case drink == coffee.For:
	case alone && drink == bar.WithMilk && coffee.Milk != bar.Recipe{}:
		coffee.For, coffee.Recipe, coffee.Milk = drink, coffee.Milk, bar.Recipe{}
	case alone:
		coffee.For = drink
	case drink == bar.WithMilk:
		if (coffee.Milk == bar.Recipe{}) {
			coffee.Milk = coffee.Recipe
		}
		return &coffee.Milk, nil
	default: // it was for milk only
		coffee.For, coffee.Milk = drink, coffee.Recipe
	}
	return &coffee.Recipe, nil
}

// setRecipe takes over what the options say of a recipe.
func setRecipe(recipe *bar.Recipe, c chat.Command) error {
	return turn.Each(c, func(name, value string) error {
		switch name {
		case "dose":
			x, err := parse.RecipeDose(value)
			recipe.Dose = bar.Grams(x)
			return err
		case "yield":
			x, err := parse.RecipeYield(value)
			recipe.Yield = bar.Grams(x)
			return err
		case "time":
			low, high, err := parse.Window(value)
			recipe.Low, recipe.High, recipe.Soft = bar.Seconds(low), bar.Seconds(high), false
			return err
		}
		return nil
	})
}

// setFacts takes over what the options say of a coffee besides its recipes.
func setFacts(r *recent.Book, coffee *bar.Coffee, c chat.Command) error {
	err := turn.Each(c, func(name, value string) (err error) {
		switch name {
		case "grinder":
			g, err := turn.FindGrinder(r, value)
			coffee.Grinder = g.ID
			return err
		case "roasted":
			if coffee.Roasted, err = parse.PastDate(value, r.Now); err == nil && coffee.Roasted > bar.DayOf(r.Now.AddDate(0, 0, 1)) {
				err = turn.Mistake(r.Lang().RoastedLater(coffee.Roasted))
			}
		case "roast":
			coffee.Roast, err = parse.Roast(value)
		case "aim":
			coffee.Aim, err = parse.Aim(value)
		case "basket":
			coffee.Basket, err = parse.Basket(value)
		case "preinfusion":
			coffee.PreInfusion, err = preInfusion(r.Lang(), value)
		case "price":
			coffee.Price, err = parse.Price(value)
		}
		return err
	})
	if err == nil && (!coffee.Basket.Holds(coffee.Recipe.Dose) || coffee.Milk != (bar.Recipe{}) && !coffee.Basket.Holds(coffee.Milk.Dose)) {
		err = turn.Mistake(r.Lang().Basket(*coffee))
	}
	return err
}

// preInfusion reads how long the puck is wetted before full pressure.
func preInfusion(l say.Lang, value string) (bar.Seconds, error) {
	if parse.None(value) {
		return 0, nil
	}
	x, err := parse.Secs(value)
	if err == nil && x > 30 {
		err = turn.Mistake(setup.In(l).BadPreInfusion(value))
	}
	return bar.Seconds(x), err
}

// GrinderAdd puts a grinder on the list.
func GrinderAdd(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	name, err := t.Lang().NewName(turn.Option(c, "name", ""), say.GrinderNames(r.InUse()))
	if err != nil {
		return nil, err
	}
	g := bar.Grinder{Name: name}
	if err := setGrinder(t.Lang(), &g, c); err != nil {
		return nil, err
	}
	err = t.Change(func(tx *store.Tx) (bar.Setting, error) {
		g.ID = 0
		err := tx.PutGrinder(t.Bar.ID, &g)
		return bar.Setting{Grinder: g, ToGrinder: g, Added: true}, err
	})
	return t.Says(chat.Recorded, setup.In(t.Lang()).Grinder(t.Lang().Say(say.Added), g)), err
}

// GrinderEdit changes a grinder.
func GrinderEdit(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	said, all := turn.Option(c, "name", ""), r.InUse()
	switch {
	case said == "" && len(all) == 1:
		said = all[0].Name
	case said == "":
		return nil, turn.Mistake(t.WriterLang().WhichChange(c.Name, t.WriterLang().WhichGrinder(all), say.GrinderNames(all)))
	}
	old, err := turn.FindGrinder(r, said)
	if err != nil {
		return nil, err
	}
	g := old
	g.Guessed = false
	if err := setGrinder(t.Lang(), &g, c); err != nil {
		return nil, err
	}
	if to := turn.Option(c, "rename", ""); to != "" {
		if g.Name, err = t.Lang().NewName(to, say.GrinderNames(r.InUse())); err != nil {
			return nil, err
		}
	}
	if g == old {
		return nil, turn.Mistake(t.WriterLang().NothingChanged(setup.In(t.WriterLang()).Grinder("", g)))
	}
	err = t.Change(func(tx *store.Tx) (bar.Setting, error) {
		if otherNumbers(r, old, g) {
			if err := resolve.NewNumbers(t, tx, g.ID, bar.Entry{Message: t.Msg.ID, At: t.Now}); err != nil {
				return bar.Setting{}, err
			}
		}
		return bar.Setting{Grinder: old, ToGrinder: g}, tx.PutGrinder(t.Bar.ID, &g)
	})
	return t.Says(chat.Recorded, setup.In(t.Lang()).Grinder(t.Lang().Say(say.Changed), g)), err
}

// otherNumbers reports whether what was read off a grinder's dial, or counted on
// it, has nothing in common with what will be.
func otherNumbers(r *recent.Book, old, g bar.Grinder) bool {
	if (old.Step > 0) != (g.Step > 0) {
		return true
	}
	placed := r.Shots(func(_ bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && s.Grind.From != bar.None })
	return len(placed) > 0 && (old.Small != g.Small || old.Wraps != g.Wraps)
}

// setGrinder takes over what the options say of a grinder.
func setGrinder(l say.Lang, g *bar.Grinder, c chat.Command) error {
	if err := setScale(g, c); err != nil {
		return err
	}
	err := turn.Each(c, func(name, value string) (err error) {
		var x float64
		switch name {
		case "finer":
			g.Finer, err = parse.Direction(value)
		case "min":
			g.Min, err = dialEnd(*g, value)
		case "max":
			g.Max, err = dialEnd(*g, value)
		case "worth":
			x, err = parse.Secs(value)
			g.Worth = bar.Seconds(x)
		case "doser":
			g.Doser, err = parse.Doser(value)
		case "purge":
			x, err = parse.PurgeGrams(value)
			g.Purge = bar.Grams(x)
		}
		return err
	})
	if err == nil && g.Finer != bar.Unknown && g.Step == 0 && turn.Option(c, "finer", "") != "" && turn.Option(c, "step", "") == "" {
		err = turn.Mistake(l.Say(say.StepMissing))
	}
	if err == nil && (g.Min != 0 || g.Max != 0) && !(g.Min < g.Max) {
		err = turn.Mistake(l.Say(say.DialEnds))
	}
	return err
}

// setScale takes over what the options say of how a dial is read. A small step
// is the step of a dial of two parts, unless it is said.
func setScale(g *bar.Grinder, c chat.Command) error {
	err := turn.Each(c, func(name, value string) (err error) {
		switch name {
		case "step":
			g.Step, err = parse.Step(value)
		case "small":
			g.Small, g.Letters, err = parse.SmallSteps(value)
		case "wraps":
			g.Wraps, err = parse.WholeTurn(value)
		}
		return err
	})
	switch {
	case err != nil || turn.Option(c, "step", "") != "":
	case turn.Option(c, "small", "") != "" && g.Small > 0:
		g.Step = 1 / float64(g.Small)
	case turn.Option(c, "wraps", "") != "" && g.Wraps > 0 && !(g.Step > 0):
		g.Step = 1
	}
	return err
}

// dialEnd reads an end of a dial as its people write positions.
func dialEnd(g bar.Grinder, value string) (bar.Dial, error) {
	if d, ok := parse.Place(value, g, bar.Value[bar.Dial]{}); ok {
		return d, nil
	}
	x, err := parse.Position(value)
	return bar.Dial(x), err
}

// coffeeName checks the name of a new coffee: a word of the shorthand is none,
// since a message with it would say something else.
func coffeeName(l say.Lang, name string, taken []string) (string, error) {
	name, err := l.NewName(name, taken)
	if err == nil && parse.Reserved(name) {
		err = turn.Mistake(l.WordName(name))
	}
	return name, err
}
