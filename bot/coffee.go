package bot

import (
	"errors"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// coffeeAdd puts a coffee on the list.
func (t *turn) coffeeAdd(r *room, c chat.Command) ([]Out, error) {
	coffee := bar.Coffee{Recipe: bar.House()}
	name, err := coffeeName(t.in(), option(c, "name", ""), say.Names(r.onBar()))
	if err != nil {
		return nil, err
	}
	if old, ok := retired(r, name); ok {
		return t.coffeeBack(r, old, c)
	}
	coffee.Name = name
	grinders := r.inUse()
	if len(grinders) > 0 {
		coffee.Grinder = grinders[0].ID
	}
	if option(c, "for", "") != "" { // the one recipe is for what it says
		if coffee.For, err = parse.Drink(option(c, "for", "")); err != nil {
			return nil, err
		}
	}
	if err := setCoffee(r, &coffee, c); err != nil {
		return nil, err
	}
	if option(c, "grinder", "") == "" && len(grinders) > 1 {
		return nil, mistake(t.own().WhichGrinder(grinders))
	}
	err = t.change(func(tx *store.Tx) (bar.Setting, error) {
		coffee.ID = 0
		if len(grinders) == 0 {
			g := bar.Grinder{Name: t.in().Say(say.HouseGrinder)}
			if err := tx.PutGrinder(t.bar.ID, &g); err != nil {
				return bar.Setting{}, err
			}
			coffee.Grinder = g.ID
		}
		err := tx.PutCoffee(t.bar.ID, &coffee)
		return bar.Setting{Coffee: coffee, ToCoffee: coffee, Added: true}, err
	})
	return t.say(chat.Recorded, r.coffeeText(t.in().Say(say.Added), coffee)), err
}

// coffeeBack puts a retired coffee on the bar again, with its history and as it was
// but for what is said of it now.
func (t *turn) coffeeBack(r *room, old bar.Coffee, c chat.Command) ([]Out, error) {
	coffee := old
	coffee.Retired = false
	recipe, err := meantRecipe(&coffee, c)
	if err != nil {
		return nil, err
	}
	if err := errors.Join(setRecipe(t.in(), recipe, c), setFacts(r, &coffee, c)); err != nil {
		return nil, err
	}
	return t.changeCoffee(r, old, coffee, t.in().Say(say.OnTheBarAgain))
}

// retired returns the retired coffee of that name, the last of several.
func retired(r *room, name string) (bar.Coffee, bool) {
	for _, c := range slices.Backward(r.coffees) {
		if c.Retired && strings.EqualFold(c.Name, name) {
			return c, true
		}
	}
	return bar.Coffee{}, false
}

// coffeeEdit changes a coffee.
func (t *turn) coffeeEdit(r *room, c chat.Command) ([]Out, error) {
	old, err := namedCoffee(r, c)
	if err != nil {
		return nil, err
	}
	coffee := old
	recipe, err := meantRecipe(&coffee, c)
	if err != nil {
		return nil, err
	}
	if err := setRecipe(t.in(), recipe, c); err != nil {
		return nil, err
	}
	if err := setFacts(r, &coffee, c); err != nil {
		return nil, err
	}
	if to := option(c, "rename", ""); to != "" {
		if coffee.Name, err = coffeeName(t.in(), to, say.Names(r.onBar())); err != nil {
			return nil, err
		}
	}
	return t.changeCoffee(r, old, coffee, t.in().Say(say.Changed))
}

// coffeeRetire takes a coffee off the list; its history stays.
func (t *turn) coffeeRetire(r *room, c chat.Command) ([]Out, error) {
	old, err := namedCoffee(r, c)
	if err != nil {
		return nil, err
	}
	coffee := old
	coffee.Retired = true
	return t.changeCoffee(r, old, coffee, t.in().Say(say.Retired))
}

// namedCoffee returns the coffee whose name a command gives. None is taken for
// granted where a coffee is changed.
func namedCoffee(r *room, c chat.Command) (bar.Coffee, error) {
	name := option(c, "name", "")
	if name == "" {
		return bar.Coffee{}, mistake(r.in().WhichChange(c.Name, r.in().WhichCoffee(r.onBar()), say.Names(r.onBar())))
	}
	return findCoffee(r, name)
}

// changeCoffee writes a coffee in place of old.
func (t *turn) changeCoffee(r *room, old, coffee bar.Coffee, how string) ([]Out, error) {
	if coffee == old {
		return nil, mistake(t.own().NothingChanged(r.coffeeText("", coffee)))
	}
	err := t.change(func(tx *store.Tx) (bar.Setting, error) {
		return bar.Setting{Coffee: old, ToCoffee: coffee}, tx.PutCoffee(t.bar.ID, &coffee)
	})
	return t.say(chat.Recorded, r.coffeeText(how, coffee)), err
}

// coffeeText tells of a coffee.
func (r *room) coffeeText(how string, c bar.Coffee) string {
	g, _ := r.grinder(c.Grinder)
	return r.in().Coffee(how, c, g, r.day)
}

// coffeeList lists the coffees on the bar.
func (r *room) coffeeList() string {
	var lines []string
	for _, c := range r.onBar() {
		lines = append(lines, r.coffeeText("", c))
	}
	return r.in().CoffeeList(lines)
}

// setCoffee takes over what the options say of a coffee with one recipe.
func setCoffee(r *room, coffee *bar.Coffee, c chat.Command) error {
	if err := setRecipe(r.in(), &coffee.Recipe, c); err != nil {
		return err
	}
	return setFacts(r, coffee, c)
}

// meantRecipe returns which recipe of a coffee the options are about. A coffee
// drunk black that is told a recipe for milk carries both from then on; told
// for:milk or for:black alone, it is for that only.
func meantRecipe(coffee *bar.Coffee, c chat.Command) (*bar.Recipe, error) {
	said := option(c, "for", "")
	if said == "" {
		return &coffee.Recipe, nil
	}
	drink, err := parse.Drink(said)
	if err != nil {
		return nil, err
	}
	alone := option(c, "dose", "")+option(c, "yield", "")+option(c, "time", "") == ""
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
func setRecipe(l say.Lang, recipe *bar.Recipe, c chat.Command) error {
	return each(c, func(name, value string) error {
		switch name {
		case "dose":
			x, err := parse.Grams(value)
			if err == nil && !(5 <= x && x <= 30) {
				err = mistake(l.BadRecipe(say.DoseFigure, value, "5–30 g"))
			}
			recipe.Dose = bar.Grams(x)
			return err
		case "yield":
			x, err := parse.Grams(value)
			if err == nil && !(5 <= x && x <= 120) {
				err = mistake(l.BadRecipe(say.YieldFigure, value, "5–120 g"))
			}
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
func setFacts(r *room, coffee *bar.Coffee, c chat.Command) error {
	err := each(c, func(name, value string) (err error) {
		switch name {
		case "grinder":
			g, err := findGrinder(r, value)
			coffee.Grinder = g.ID
			return err
		case "roasted":
			if coffee.Roasted, err = parse.Date(value); err == nil && coffee.Roasted > bar.DayOf(r.now.AddDate(0, 0, 1)) {
				err = mistake(r.in().RoastedLater(coffee.Roasted))
			}
		case "roast":
			coffee.Roast, err = parse.Roast(value)
		case "aim":
			coffee.Aim, err = parse.Aim(value)
		case "basket":
			coffee.Basket, err = parse.Basket(value)
		case "preinfusion":
			coffee.PreInfusion, err = preInfusion(r.in(), value)
		case "price":
			coffee.Price, err = parse.Price(value)
		}
		return err
	})
	if err == nil && (!coffee.Basket.Holds(coffee.Recipe.Dose) || coffee.Milk != (bar.Recipe{}) && !coffee.Basket.Holds(coffee.Milk.Dose)) {
		err = mistake(r.in().Basket(*coffee))
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
		err = mistake(l.BadPreInfusion(value))
	}
	return bar.Seconds(x), err
}

// grinderAdd puts a grinder on the list.
func (t *turn) grinderAdd(r *room, c chat.Command) ([]Out, error) {
	var g bar.Grinder
	name, err := t.in().NewName(option(c, "name", ""), say.GrinderNames(r.inUse()))
	if err != nil {
		return nil, err
	}
	g.Name = name
	if err := setGrinder(t.in(), &g, c); err != nil {
		return nil, err
	}
	err = t.change(func(tx *store.Tx) (bar.Setting, error) {
		g.ID = 0
		err := tx.PutGrinder(t.bar.ID, &g)
		return bar.Setting{Grinder: g, ToGrinder: g, Added: true}, err
	})
	return t.say(chat.Recorded, t.in().Grinder(t.in().Say(say.Added), g)), err
}

// grinderEdit changes a grinder.
func (t *turn) grinderEdit(r *room, c chat.Command) ([]Out, error) {
	said, all := option(c, "name", ""), r.inUse()
	switch {
	case said == "" && len(all) == 1:
		said = all[0].Name
	case said == "":
		return nil, mistake(t.own().WhichChange(c.Name, t.own().WhichGrinder(all), say.GrinderNames(all)))
	}
	old, err := findGrinder(r, said)
	if err != nil {
		return nil, err
	}
	g := old
	g.Guessed = false
	if err := setGrinder(t.in(), &g, c); err != nil {
		return nil, err
	}
	if to := option(c, "rename", ""); to != "" {
		if g.Name, err = t.in().NewName(to, say.GrinderNames(r.inUse())); err != nil {
			return nil, err
		}
	}
	if g == old {
		return nil, mistake(t.own().NothingChanged(t.own().Grinder("", g)))
	}
	err = t.change(func(tx *store.Tx) (bar.Setting, error) {
		if r.otherNumbers(old, g) {
			if err := t.newNumbers(tx, g.ID, bar.Entry{Message: t.m.ID, At: t.now}); err != nil {
				return bar.Setting{}, err
			}
		}
		return bar.Setting{Grinder: old, ToGrinder: g}, tx.PutGrinder(t.bar.ID, &g)
	})
	return t.say(chat.Recorded, t.in().Grinder(t.in().Say(say.Changed), g)), err
}

// otherNumbers reports whether what was read off a grinder's dial, or counted on
// it, has nothing in common with what will be.
func (r *room) otherNumbers(old, g bar.Grinder) bool {
	if (old.Step > 0) != (g.Step > 0) {
		return true
	}
	placed := r.shots(func(_ bar.Entry, s bar.Shot) bool { return s.Grinder == g.ID && s.Grind.From != bar.None })
	return len(placed) > 0 && (old.Small != g.Small || old.Wraps != g.Wraps)
}

// setGrinder takes over what the options say of a grinder.
func setGrinder(l say.Lang, g *bar.Grinder, c chat.Command) error {
	if err := setScale(g, c); err != nil {
		return err
	}
	err := each(c, func(name, value string) (err error) {
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
	if err == nil && g.Finer != bar.Unknown && g.Step == 0 && option(c, "finer", "") != "" && option(c, "step", "") == "" {
		err = mistake(l.Say(say.StepMissing))
	}
	if err == nil && (g.Min != 0 || g.Max != 0) && !(g.Min < g.Max) {
		err = mistake(l.Say(say.DialEnds))
	}
	return err
}

// setScale takes over what the options say of how a dial is read. A small step
// is the step of a dial of two parts, unless it is said.
func setScale(g *bar.Grinder, c chat.Command) error {
	err := each(c, func(name, value string) (err error) {
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
	case err != nil || option(c, "step", "") != "":
	case option(c, "small", "") != "" && g.Small > 0:
		g.Step = 1 / float64(g.Small)
	case option(c, "wraps", "") != "" && g.Wraps > 0 && !(g.Step > 0):
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
		err = mistake(l.WordName(name))
	}
	return name, err
}
