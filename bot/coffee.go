package bot

import (
	"shothand/advisor"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/store"
)

// maxName is how long a name may be, in characters: it has to fit on a button.
const maxName = 40

// coffeeAdd puts a coffee on the list.
func (t *turn) coffeeAdd(r *room, c chat.Command) ([]Out, error) {
	coffee := advisor.Coffee{Recipe: advisor.House()}
	name, err := newName(option(c, "name", free(c)), taken(r.onBar(), func(c advisor.Coffee) string { return c.Name }))
	if err != nil {
		return nil, err
	}
	coffee.Name = name
	grinders := r.inUse()
	if len(grinders) > 0 {
		coffee.Grinder = grinders[0].ID
	}
	if err := setCoffee(r, &coffee, c); err != nil {
		return nil, err
	}
	if option(c, "grinder", "") == "" && len(grinders) > 1 {
		return nil, mistake(whichGrinderText(grinders))
	}
	err = t.change(advisor.Setting{}, func(tx *store.Tx) (advisor.Setting, error) {
		coffee.ID = 0
		if len(grinders) == 0 {
			g := advisor.Grinder{Name: houseGrinder}
			if err := tx.PutGrinder(t.bar.ID, &g); err != nil {
				return advisor.Setting{}, err
			}
			coffee.Grinder = g.ID
		}
		err := tx.PutCoffee(t.bar.ID, &coffee)
		return advisor.Setting{Coffee: coffee, Added: true}, err
	})
	return t.say(chat.Recorded, coffeeText(addedText, coffee, r)), err
}

// coffeeEdit changes a coffee.
func (t *turn) coffeeEdit(r *room, c chat.Command) ([]Out, error) {
	old, err := t.meant(r, c, "name")
	if err != nil {
		return nil, err
	}
	coffee := old
	if err := setCoffee(r, &coffee, c); err != nil {
		return nil, err
	}
	if to := option(c, "rename", ""); to != "" {
		if coffee.Name, err = newName(to, taken(r.onBar(), func(c advisor.Coffee) string { return c.Name })); err != nil {
			return nil, err
		}
	}
	return t.changeCoffee(r, old, coffee, changedText)
}

// coffeeRetire takes a coffee off the list; its history stays.
func (t *turn) coffeeRetire(r *room, c chat.Command) ([]Out, error) {
	old, err := t.meant(r, c, "name")
	if err != nil {
		return nil, err
	}
	coffee := old
	coffee.Retired = true
	return t.changeCoffee(r, old, coffee, retiredText)
}

// changeCoffee writes a coffee in place of old.
func (t *turn) changeCoffee(r *room, old, coffee advisor.Coffee, how string) ([]Out, error) {
	err := t.change(advisor.Setting{}, func(tx *store.Tx) (advisor.Setting, error) {
		return advisor.Setting{Coffee: old}, tx.PutCoffee(t.bar.ID, &coffee)
	})
	return t.say(chat.Recorded, coffeeText(how, coffee, r)), err
}

// coffeeShow tells what is known of a coffee.
func (t *turn) coffeeShow(r *room, c chat.Command) ([]Out, error) {
	coffee, err := t.meant(r, c, "name")
	if err != nil {
		return nil, err
	}
	return t.say(chat.Info, coffeeText("", coffee, r)), nil
}

// setCoffee takes over what the options say of a coffee.
func setCoffee(r *room, coffee *advisor.Coffee, c chat.Command) error {
	return each(c, func(name, value string) error {
		switch name {
		case "grinder":
			g, err := findGrinder(r, value)
			coffee.Grinder = g.ID
			return err
		case "dose":
			x, err := parse.Grams(value)
			if err == nil && !(5 <= x && x <= 30) {
				err = mistake(badRecipeText("dose", value, "5–30 g"))
			}
			coffee.Recipe.Dose = advisor.Grams(x)
			return err
		case "yield":
			x, err := parse.Grams(value)
			if err == nil && !(5 <= x && x <= 120) {
				err = mistake(badRecipeText("yield", value, "5–120 g"))
			}
			coffee.Recipe.Yield = advisor.Grams(x)
			return err
		case "time":
			low, high, err := parse.Window(value)
			coffee.Recipe.Low, coffee.Recipe.High, coffee.Recipe.Soft = advisor.Seconds(low), advisor.Seconds(high), false
			return err
		case "roasted":
			day, err := parse.Date(value)
			coffee.Roasted = day
			return err
		}
		return nil
	})
}

// taken returns the names there are.
func taken[T any](all []T, name func(T) string) []string {
	var names []string
	for _, x := range all {
		names = append(names, name(x))
	}
	return names
}

// grinderAdd puts a grinder on the list.
func (t *turn) grinderAdd(r *room, c chat.Command) ([]Out, error) {
	var g advisor.Grinder
	name, err := newName(option(c, "name", free(c)), taken(r.inUse(), func(g advisor.Grinder) string { return g.Name }))
	if err != nil {
		return nil, err
	}
	g.Name = name
	if err := setGrinder(&g, c); err != nil {
		return nil, err
	}
	err = t.change(advisor.Setting{}, func(tx *store.Tx) (advisor.Setting, error) {
		g.ID = 0
		err := tx.PutGrinder(t.bar.ID, &g)
		return advisor.Setting{Grinder: g, Added: true}, err
	})
	return t.say(chat.Recorded, grinderText(addedText, g)), err
}

// grinderEdit changes a grinder.
func (t *turn) grinderEdit(r *room, c chat.Command) ([]Out, error) {
	said := option(c, "name", free(c))
	if said == "" && len(r.inUse()) == 1 {
		said = r.inUse()[0].Name
	}
	old, err := findGrinder(r, said)
	if err != nil {
		return nil, err
	}
	g := old
	g.Guessed = false
	if err := setGrinder(&g, c); err != nil {
		return nil, err
	}
	if to := option(c, "rename", ""); to != "" {
		if g.Name, err = newName(to, taken(r.inUse(), func(g advisor.Grinder) string { return g.Name })); err != nil {
			return nil, err
		}
	}
	err = t.change(advisor.Setting{}, func(tx *store.Tx) (advisor.Setting, error) {
		if (old.Step > 0) != (g.Step > 0) { // steps counted and numbers read have nothing in common
			if err := t.newNumbers(tx, g.ID, t.now); err != nil {
				return advisor.Setting{}, err
			}
		}
		return advisor.Setting{Grinder: old}, tx.PutGrinder(t.bar.ID, &g)
	})
	return t.say(chat.Recorded, grinderText(changedText, g)), err
}

// setGrinder takes over what the options say of a grinder.
func setGrinder(g *advisor.Grinder, c chat.Command) error {
	err := each(c, func(name, value string) (err error) {
		var x float64
		switch name {
		case "finer":
			g.Finer, err = parse.Direction(value)
		case "step":
			g.Step, err = parse.Step(value)
		case "min":
			x, err = parse.Position(value)
			g.Min = advisor.Dial(x)
		case "max":
			x, err = parse.Position(value)
			g.Max = advisor.Dial(x)
		case "worth":
			x, err = parse.Secs(value)
			g.Worth = advisor.Seconds(x)
		}
		return err
	})
	if err == nil && g.Finer != advisor.Unknown && g.Step == 0 && option(c, "finer", "") != "" && option(c, "step", "") == "" {
		err = mistake(stepMissingText)
	}
	if err == nil && (g.Min != 0 || g.Max != 0) && !(g.Min < g.Max) {
		err = mistake(dialEndsText)
	}
	return err
}
