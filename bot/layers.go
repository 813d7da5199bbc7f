package bot

import (
	"fmt"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/tasting"
	"shothand/store"
)

// What a button of a tasting begins with.
const (
	pressCups   = "cups"   // somebody wants to say what is in the cups
	pressReveal = "reveal" // show what all have said
	pressPair   = "pair"   // compare two real shots
	pressBetter = "better" // which of them is better
	pressMove   = "move"   // the recipe to where the cups say
	pressLeave  = "leave"  // it as it is
)

// layers runs one of the commands of a tasting.
func (t *turn) layers(r *room, c chat.Command) ([]Out, error) {
	switch c.Name {
	case "layers start":
		return t.layersStart(r, c)
	case "layers mine":
		return t.layersMine(r)
	case "layers show":
		return t.layersShow(r, c)
	case "layers pair":
		return t.layersPair(r, c)
	}
	b, err := t.table(r)
	if err != nil {
		return nil, err
	}
	switch c.Name {
	case "layers taste":
		said, err := parse.CupsOf(c)
		if err != nil {
			return nil, err
		}
		return t.sip(r, b, said)
	case "layers reveal":
		return t.reveal(r, b)
	case "layers strike":
		return t.strike(b, c)
	case "layers stop":
		return t.layersStop(b)
	}
	return nil, fmt.Errorf("command %q", c.Name)
}

// table returns the tasting that is going on.
func (t *turn) table(r *room) (layers.Table, error) {
	e, ok := tasting.Open(r.recent, r.now)
	if !ok {
		return layers.Table{}, mistake(t.own().Say(say.NoTable))
	}
	return t.tastings(r).Table(e)
}

// layersMine tells somebody, and nobody else, how they taste beside the others.
func (t *turn) layersMine(r *room) ([]Out, error) {
	p, err := t.tastings(r).Progress(t.who.ID)
	if err != nil {
		return nil, err
	}
	return t.private(t.own().Progress(p))
}

// layersStart begins a tasting and says what to do.
func (t *turn) layersStart(r *room, c chat.Command) ([]Out, error) {
	l, err := t.begin(r, c)
	if err != nil {
		return nil, err
	}
	cuts, err := layers.Plan(l.Method, layers.BrewOf(l))
	if err != nil {
		return nil, mistake(t.own().Say(say.NoSplit))
	}
	if l.Blind {
		l.Key = tasting.KeyFor(t.now, l.Coffee)
	}
	b := layers.Table{Begun: l}
	b.Coffee, _ = r.coffee(l.Coffee)
	err = t.update(func(tx *store.Tx) error {
		if err := t.closeTable(tx, r); err != nil {
			return err
		}
		e, err := t.add(tx, r, l)
		b.Entry = e
		return err
	})
	if err != nil {
		return nil, err
	}
	outs := []Out{{Post: t.startPost(b, t.who.Name, cuts)}}
	if l.Blind {
		key := t.post(chat.Info, t.own().Key(l.Key))
		key.Private = true
		outs = append(outs, Out{Post: key})
	}
	return outs, nil
}

// startPost says what to do.
func (t *turn) startPost(b layers.Table, leader string, cuts [layers.Cups]layers.Cut) chat.Post {
	p := t.post(chat.Info, t.in().TastingStart(b, leader, cuts, t.bar.Ends))
	p.Buttons = cupButtons(t.in(), b)
	return p
}

// layersAnew makes the answer to a message of a tasting as things stand. What
// was for one person alone is not said again.
func (t *turn) layersAnew(e bar.Entry) (chat.Post, error) {
	r, err := t.room()
	if err != nil {
		return chat.Post{}, err
	}
	of, split := e, 0
	if s, ok := e.What.(bar.Sips); ok {
		split = s.Split
		if of, err = t.stored(s.Layers); err != nil {
			return chat.Post{}, err
		}
	}
	b, err := t.tastings(r).Table(of)
	switch {
	case err != nil || of.Deleted:
		return chat.Post{}, err
	case of.ID != e.ID && b.Shown(split) && lastSaid(b, split) == e.ID: // once, with what was said last
		return t.accountPost(r, b, false, false)
	case of.ID != e.ID:
		return chat.Post{}, nil
	case b.OfPair():
		return t.pairStartPost(b), nil
	}
	cuts, err := layers.Plan(b.Begun.Method, b.Brew())
	return t.startPost(b, r.name(e.Person), cuts), err
}

// lastSaid returns the last entry that was made before a split was shown.
func lastSaid(b layers.Table, split int) (last bar.EntryID) {
	for _, e := range b.Sips {
		if s := e.What.(bar.Sips); !e.Deleted && !s.After && (b.OfPair() || s.Split == split) {
			last = max(last, e.ID)
		}
	}
	return last
}

// begin reads the options of /layers start; what is left out is the coffee's
// recipe, or for a pour-over common practice.
func (t *turn) begin(r *room, c chat.Command) (bar.Layers, error) {
	coffee, err := t.meant(r, c, "coffee")
	if err != nil {
		return bar.Layers{}, err
	}
	l := bar.Layers{Coffee: coffee.ID, Split: 1}
	if l.Method, err = parse.Method(option(c, "method", "espresso")); err != nil {
		return l, err
	}
	l.Dose, l.Yield, l.Time = coffee.Recipe.Dose, coffee.Recipe.Yield, (coffee.Recipe.Low+coffee.Recipe.High)/2
	if t.bar.FromDrip {
		l.Time += coffee.Wetting()
	}
	if l.Method == bar.PourOver {
		like := layers.DefaultFilter()
		l.Dose, l.Yield, l.Time = bar.Grams(like.Dose), bar.Grams(like.Yield), bar.Seconds(like.Time)
	}
	if err := brewOptions(t.in(), l.Method, c); err != nil {
		return l, err
	}
	water := 0.0
	err = each(c, func(name, value string) (err error) {
		var x float64
		switch name {
		case "tasters":
			l.Tasters, err = parse.Tasters(value)
		case "blind":
			l.Blind, err = parse.YesNo(value)
		case "dose":
			x, err = parse.Grams(value)
			l.Dose = bar.Grams(x)
		case "yield":
			x, err = parse.Mass(value, mostBrew)
			l.Yield = bar.Grams(x)
		case "water":
			water, err = parse.Mass(value, mostBrew)
		case "time":
			x, err = parse.BrewTime(value)
			l.Time = bar.Seconds(x)
		}
		return err
	})
	if water > 0 {
		l.Yield = bar.Grams(water - extraction.DripKept*float64(l.Dose))
	}
	return l, err
}

// brewOptions refuses the water of an espresso, and what is in the cups said
// twice over.
func brewOptions(l say.Lang, m bar.Method, c chat.Command) error {
	switch water := option(c, "water", ""); {
	case water == "":
	case m != bar.PourOver:
		return mistake(l.NoWater(water))
	case option(c, "yield", "") != "":
		return mistake(l.Say(say.WaterOrYield))
	}
	return nil
}

// mostBrew is the most that one person brews to split, in g.
const mostBrew = 1000

// closeTable stops the tasting that was left open, if there is one.
func (t *turn) closeTable(tx *store.Tx, r *room) error {
	e, ok := tasting.Open(r.recent, r.now)
	if !ok {
		return nil
	}
	l := e.What.(bar.Layers)
	l.Stopped = true
	e.What = l
	return tx.PutEntry(t.bar.ID, e)
}

// add records what the message says of a tasting.
func (t *turn) add(tx *store.Tx, r *room, w bar.What) (bar.Entry, error) {
	e := bar.Entry{Message: t.m.ID, Person: t.who.ID, At: t.now, Day: r.day, Raw: t.m.Text, What: w}
	id, err := tx.AddEntry(t.bar.ID, e)
	if e.ID = id; err != nil {
		return e, err
	}
	return e, tx.PutReply(t.bar.ID, store.Reply{Cause: t.m.ID, Entry: id, Kind: chat.Info.String(), At: t.now})
}

// put writes the state of a tasting, and that the message was handled.
func (t *turn) put(tx *store.Tx, b layers.Table) error {
	b.Entry.What = b.Begun
	if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
		return err
	}
	return tx.PutEntry(t.bar.ID, b.Entry)
}

// leads reports whether who writes may show, strike and stop.
func (t *turn) leads(b layers.Table) bool { return b.Entry.Person == t.who.ID || t.m.Manager }

// layersStop ends a tasting.
func (t *turn) layersStop(b layers.Table) ([]Out, error) {
	if !t.leads(b) {
		return nil, mistake(t.own().Say(say.NotLeader))
	}
	b.Begun.Stopped = true
	err := t.update(func(tx *store.Tx) error { return t.put(tx, b) })
	return t.say(chat.Recorded, t.in().Stopped(b.Coffee)), err
}

// strike takes a bad split out of the account.
func (t *turn) strike(b layers.Table, c chat.Command) ([]Out, error) {
	if !t.leads(b) {
		return nil, mistake(t.own().Say(say.NotLeader))
	}
	split := b.Begun.Split
	if said := option(c, "split", ""); said != "" {
		n, err := parse.Split(said)
		if err != nil {
			return nil, err
		}
		split = n
	}
	if b.OfPair() || split > b.Begun.Split || b.Begun.IsStruck(split) {
		return nil, mistake(t.in().NoSuchSplit(split))
	}
	b.Begun.Struck = append(slices.Clone(b.Begun.Struck), split)
	err := t.update(func(tx *store.Tx) error { return t.put(tx, b) })
	return t.say(chat.Recorded, t.in().Struck(split)), err
}

// pressLayers handles a button of a tasting.
func (t *turn) pressLayers(r *room, e bar.Entry, verb, arg string) ([]Out, error) {
	if _, ok := e.What.(bar.Layers); !ok {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	b, err := t.tastings(r).Table(e)
	if err != nil {
		return nil, err
	}
	if verb == pressPair {
		return t.pairOf(r, b, 0)
	}
	if verb == pressMove || verb == pressLeave {
		return t.move(b, verb == pressMove)
	}
	if b.Begun.Stopped {
		return nil, mistake(t.own().Say(say.OldButton))
	}
	switch verb {
	case pressCups:
		return t.private(t.own().HowToTaste(b))
	case pressReveal:
		return t.reveal(r, b)
	case pressBetter:
		return t.sip(r, b, parse.Cups{Better: arg})
	}
	return nil, mistake(t.own().Say(say.OldButton))
}

// cupButtons are those under what there is to taste.
func cupButtons(l say.Lang, b layers.Table) []chat.Button {
	state := func(verb string, args ...string) string { return pressState(verb, b.Entry.ID, args...) }
	if b.OfPair() {
		return []chat.Button{
			{Label: "X", State: state(pressBetter, "X")},
			{Label: "Y", State: state(pressBetter, "Y")},
			{Label: l.Say(say.SameLabel), State: state(pressBetter, "same")},
		}
	}
	return []chat.Button{{Label: l.Say(say.CupsLabel), State: state(pressCups)}, {Label: l.Say(say.RevealLabel), State: state(pressReveal)}}
}

// layersForm returns the form that the button of a tasting opens, on services
// that have forms.
func (b *Bot) layersForm(m chat.Message) (chat.Form, bool) {
	verb, id, _, ok := readPress(m.Press)
	if !ok || verb != pressCups {
		return chat.Form{}, false
	}
	var l bar.Layers
	lang := say.Lang{}
	err := b.tools.store.View(func(tx *store.Tx) error {
		here, known := tx.BarOf(m.Channel)
		if ok = known; !ok {
			return nil
		}
		home, err := tx.Bar(here)
		if err != nil {
			return err
		}
		lang = ownLanguage(m, say.In(home.Language))
		e, err := tx.Entry(here, id)
		if err != nil {
			return err
		}
		l, ok = e.What.(bar.Layers)
		return nil
	})
	if err != nil || !ok || l.Stopped {
		return chat.Form{}, false
	}
	f := chat.Form{Title: lang.Say(say.CupsFormTitle), Command: chat.Command{Name: "layers taste"}}
	field := func(name, label string) {
		f.Fields = append(f.Fields, chat.Field{Name: name, Label: label, Hint: lang.Say(say.CupHint)})
	}
	if !l.Blind {
		field("early", lang.Say("early"))
		field("middle", lang.Say("middle"))
		field("late", lang.Say("late"))
		field("whole", lang.Say(say.WholeFieldLabel))
		return f, true
	}
	for _, letter := range parse.Letters {
		field(strings.ToLower(string(letter)), lang.CupLabel(string(letter)))
	}
	f.Fields = append(f.Fields, chat.Field{Name: "order", Label: lang.Say(say.OrderFieldLabel), Hint: lang.Say(say.OrderHint)})
	field("whole", lang.Say(say.WholeFieldLabel))
	return f, true
}
