package bot

import (
	"errors"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/store"
)

// command handles a command, whether it was typed or came in parts.
func (t *turn) command(c chat.Command) ([]Out, error) {
	seen, err := t.seen()
	if err != nil || seen {
		return nil, err
	}
	if known, _ := command.Of(c.Name); known.Manages && !t.m.Manager {
		return nil, mistake(t.own().Say(say.NotManager))
	}
	if c, err = parse.Settle(c); err != nil {
		return nil, err
	}
	switch c.Name {
	case "shot":
		return t.shotCommand(c)
	case "undo":
		return t.undo()
	case "export":
		return t.export(c)
	case "forget":
		return t.forget()
	case "help":
		return t.help(option(c, "topic", ""))
	}
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	switch c.Name {
	case "coffee add":
		return t.coffeeAdd(r, c)
	case "coffee edit":
		return t.coffeeEdit(r, c)
	case "coffee list":
		return t.say(chat.Info, r.coffeeList()), nil
	case "coffee show":
		return t.coffeeShow(r, c)
	case "coffee retire":
		return t.coffeeRetire(r, c)
	case "grinder add":
		return t.grinderAdd(r, c)
	case "grinder edit":
		return t.grinderEdit(r, c)
	case "grinder list":
		return t.say(chat.Info, t.in().GrinderList(r.inUse())), nil
	case "dialled":
		return t.dialledCommand(r, c)
	case "today":
		return t.today(r)
	case "why":
		return t.why(r, c)
	case "setup":
		return t.setup(c)
	case "mention":
		return t.mention(c)
	case "layers start", "layers taste", "layers reveal", "layers strike", "layers pair", "layers stop", "layers show", "layers mine":
		return t.layers(r, c)
	case "review":
		return t.review(r, c)
	}
	return nil, parse.Mistake{Kind: parse.UnknownCommand, What: "/" + c.Name}
}

// private returns a post for the person who wrote only.
func (t *turn) private(text string) ([]Out, error) {
	p := t.post(chat.Info, text)
	p.Private = true
	return []Out{{Post: p}}, nil
}

// option returns the value of an option, or without if it was not given.
func option(c chat.Command, name, without string) string {
	for _, o := range c.Options {
		if o.Name == name {
			return o.Value
		}
	}
	return without
}

// said reports whether an option of yes or no was given as yes.
func said(c chat.Command, name string) bool { return option(c, name, "no") == "yes" }

// each calls read for every option of c that has a value, in order.
func each(c chat.Command, read func(name, value string) error) error {
	for _, o := range c.Options {
		if o.Value == "" {
			continue
		}
		err := read(o.Name, o.Value)
		if m, ok := errors.AsType[parse.Mistake](err); ok && m.Kind == parse.Impossible { // no shot is meant
			return parse.Mistake{Kind: parse.BadOption, What: o.Name + ":" + o.Value, More: m.More, Would: m.Would}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// shotCommand takes the options of /shot for a shot.
func (t *turn) shotCommand(c chat.Command) ([]Out, error) {
	r, err := t.room()
	if err != nil {
		return nil, err
	}
	p, err := parse.ShotOf(c, r.vocab())
	if err != nil {
		return nil, err
	}
	if t.m.Kind == chat.Called {
		t.m.Text = parse.FormatCommand(c) // a question about it reads it again
	}
	return t.shot(r, p)
}

// help tells what one can type: all of it, or what belongs to one command.
func (t *turn) help(topic string) ([]Out, error) {
	of := strings.ToLower(strings.TrimPrefix(topic, "/"))
	if of == "words" {
		return t.wordsHelp()
	}
	text := t.in().Help(of)
	if text == "" {
		return nil, misnamedOf(t.in().NoTopic(topic), topic, say.Topics())
	}
	return t.private(text)
}

// dialledCommand calls a coffee dialled in.
func (t *turn) dialledCommand(r *room, c chat.Command) ([]Out, error) {
	coffee, err := t.meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	return t.dialled(r, coffee.ID)
}

// meant returns the coffee that an option of c names; else the one a message
// without a name is about.
func (t *turn) meant(r *room, c chat.Command, name string) (bar.Coffee, error) {
	if said := option(c, name, ""); said != "" {
		return findCoffee(r, said)
	}
	if coffee, ok := r.which(0); ok {
		return coffee, nil
	}
	if last := r.shots(func(bar.Entry, bar.Shot) bool { return true }); len(last) > 0 {
		coffee, _ := r.coffee(last[0].What.(bar.Shot).Coffee)
		return coffee, nil
	}
	return bar.Coffee{}, mistake(t.own().WhichCoffee(r.onBar()))
}

// findCoffee returns the coffee of that name, or the only one that begins so.
func findCoffee(r *room, said string) (bar.Coffee, error) {
	found, err := find(r.onBar(), said, func(c bar.Coffee) string { return c.Name }, r.in().NoCoffee)
	if old, ok := retired(r, said); err != nil && ok {
		return found, mistake(r.in().RetiredCoffee(old))
	}
	return found, err
}

// findGrinder returns the grinder of that name, or the only one that begins so.
func findGrinder(r *room, said string) (bar.Grinder, error) {
	return find(r.inUse(), said, func(g bar.Grinder) string { return g.Name }, r.in().NoGrinder)
}

// find returns the thing of that name, or the only one whose name begins so.
func find[T any](all []T, said string, name func(T) string, none func(said string, names []string) string) (T, error) {
	var zero T
	var near []T
	var names []string
	for _, x := range all {
		n := name(x)
		names = append(names, n)
		if strings.EqualFold(n, said) {
			return x, nil
		}
		if len(n) >= len(said) && strings.EqualFold(n[:len(said)], said) {
			near = append(near, x)
		}
	}
	if len(near) == 1 {
		return near[0], nil
	}
	return zero, misnamedOf(none(said, names), said, names)
}

// checkZone returns the mistake of a zone that does not exist, or nil.
func checkZone(l say.Lang, name string) error {
	if _, bad := time.LoadLocation(name); bad != nil || name == "Local" {
		near := nearestZone(name)
		return misnamed{mistake(l.BadZone(name, near)), name, near}
	}
	return nil
}

// setup changes what the bar tells of itself.
func (t *turn) setup(c chat.Command) ([]Out, error) {
	if option(c, "device", "") != "" {
		return t.setupDevice(c)
	}
	bar := t.bar
	err := each(c, func(name, value string) (err error) {
		switch name {
		case "zone":
			bar.Zone, err = value, checkZone(t.in(), value)
		case "order":
			bar.Order, err = parse.Order(value)
		case "ends":
			bar.Ends, err = parse.Ends(value)
		case "clock":
			bar.FromDrip, err = parse.Clock(value)
		case "name":
			bar.Name, err = t.in().NewName(value, nil)
		case "opens":
			bar.Opens, err = hour(value)
		case "closes":
			bar.Closes, err = hour(value)
		case "remind":
			bar.Remind, err = hour(value)
		case "days":
			bar.Days, err = parse.DaysOpen(value)
		case "levers":
			bar.Crew, err = parse.CrewLevers(value)
		case "currency":
			bar.Currency, err = parse.Currency(value)
		case "language":
			bar.Language, err = parse.Language(value)
		case "word":
			bar.Words, err = taught(t.in(), bar.Words, value, option(c, "means", ""))
		case "means":
			if option(c, "word", "") == "" {
				err = parse.Mistake{Kind: parse.MissingOption, What: "word"}
			}
		case "lag", "yield", "dose", "secret", "allow":
			err = parse.Mistake{Kind: parse.MissingOption, What: "device"}
		}
		return err
	})
	if err == nil && bar.Opens != "" && bar.Opens == bar.Closes {
		err = mistake(t.own().Say(say.Hours))
	}
	if err != nil {
		return nil, err
	}
	in := say.In(bar.Language)
	switch {
	case len(c.Options) == 0:
		all, err := t.devices()
		return t.say(chat.Info, t.in().Setup(bar)+t.in().Devices(all)), err
	case bar.Equal(t.bar):
		return nil, mistake(t.own().NothingChanged(t.own().Setup(bar)))
	}
	err = t.changeBar(bar)
	text := in.Setup(bar)
	if word := option(c, "word", ""); word != "" {
		learnt := in.OwnWord(bar.Words, word)
		if text = learnt; len(c.Options) > 2 { // more than the word and what it means
			text = learnt + "\n" + in.Setup(bar)
		}
	}
	return t.say(chat.Recorded, text), err
}

// hour reads a time of day, or that there is none.
func hour(value string) (bar.TimeOfDay, error) {
	if parse.None(value) {
		return "", nil
	}
	return parse.HourOfDay(value)
}

// mention notes whether the person who asks wants to be mentioned for alerts.
// Nobody can ask for somebody else.
func (t *turn) mention(c chat.Command) ([]Out, error) {
	me := option(c, "me", "yes")
	wants, err := parse.YesNo(me)
	if err != nil {
		return nil, mistake(t.own().MentionWhom(me))
	}
	err = t.update(func(tx *store.Tx) error {
		who, err := tx.PersonOf(t.bar.ID, t.m.From.ID, t.m.From.Name)
		if err != nil {
			return err
		}
		who.Mention = wants
		if err := tx.PutPerson(t.bar.ID, who); err != nil {
			return err
		}
		return tx.MarkSeen(t.bar.ID, t.m.ID, t.now)
	})
	if err != nil {
		return nil, err
	}
	return t.private(t.in().Mention(t.who.Name, wants))
}

// changeBar writes the bar in place of what it was.
func (t *turn) changeBar(here bar.Bar) error {
	return t.change(func(tx *store.Tx) (bar.Setting, error) {
		return bar.Setting{Bar: t.bar, ToBar: here}, tx.PutBar(here)
	})
}

// change makes a change of settings and an entry by which it can be undone.
func (t *turn) change(do func(*store.Tx) (bar.Setting, error)) error {
	return t.update(func(tx *store.Tx) error {
		old, err := do(tx)
		if err != nil {
			return err
		}
		_, err = tx.AddEntry(t.bar.ID, bar.Entry{
			Message: t.m.ID, Person: t.who.ID, At: t.now, Day: bar.DayOf(t.now), Raw: t.m.Text, What: old,
		})
		return err
	})
}
