package cups

import (
	"fmt"
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/say"
	"shothand/bot/say/bycup"
	"shothand/bot/tasting"
	"shothand/bot/turn"
	"shothand/store"
)

// What a button of a tasting begins with.
const (
	PressCups   = "cups"   // somebody wants to say what is in the cups
	PressReveal = "reveal" // show what all have said
	PressPair   = "pair"   // compare two real shots
	PressBetter = "better" // which of them is better
	PressMove   = "move"   // the recipe to where the cups say
	PressLeave  = "leave"  // it as it is
)

// Layers runs one of the commands of a tasting.
func Layers(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	switch c.Name {
	case "layers start":
		return layersStart(t, r, c)
	case "layers mine":
		return layersMine(t, r)
	case "layers show":
		return layersShow(t, r, c)
	case "layers pair":
		return layersPair(t, r, c)
	}
	b, err := table(t, r)
	if err != nil {
		return nil, err
	}
	switch c.Name {
	case "layers taste":
		said, err := parse.CupsOf(c)
		if err != nil {
			return nil, err
		}
		return sip(t, r, b, said)
	case "layers reveal":
		return reveal(t, r, b)
	case "layers strike":
		return strike(t, b, c)
	case "layers stop":
		return layersStop(t, b)
	}
	return nil, fmt.Errorf("command %q", c.Name)
}

// table returns the tasting that is going on.
func table(t *turn.Turn, r *recent.Book) (layers.Table, error) {
	e, ok := tasting.Open(r.Recent, r.Now)
	if !ok {
		return layers.Table{}, turn.Mistake(t.WriterLang().Say(bycup.NoTable))
	}
	return Tastings(t, r).Table(e)
}

// layersMine tells somebody, and nobody else, how they taste beside the others.
func layersMine(t *turn.Turn, r *recent.Book) ([]turn.Out, error) {
	p, err := Tastings(t, r).Progress(t.Who.ID)
	if err != nil {
		return nil, err
	}
	return t.Private(bycup.In(t.WriterLang()).Progress(p))
}

// layersStart begins a tasting and says what to do.
func layersStart(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	l, err := begin(t, r, c)
	if err != nil {
		return nil, err
	}
	cuts, err := layers.Plan(l.Method, layers.BrewOf(l))
	if err != nil {
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NoSplit))
	}
	if l.Blind {
		l.Key = tasting.KeyFor(t.Now, l.Coffee)
	}
	b := layers.Table{Begun: l}
	b.Coffee, _ = r.Coffee(l.Coffee)
	var post chat.Post
	err = t.Update(func(tx *store.Tx) (err error) {
		if err := closeTable(t, tx, r); err != nil {
			return err
		}
		if b.Entry, err = add(t, tx, r, l); err != nil {
			return err
		}
		post = startPost(t, r, b, t.Who.Name, cuts)
		return t.Remember(tx, post)
	})
	if err != nil {
		return nil, err
	}
	outs := []turn.Out{{Post: post}}
	if l.Blind {
		outs = append(outs, turn.Out{Post: t.PrivatePost(chat.Info, bycup.In(t.WriterLang()).Key(l.Key))})
	}
	return outs, nil
}

// startPost says what to do.
func startPost(t *turn.Turn, r *recent.Book, b layers.Table, leader string, cuts [layers.Cups]layers.Cut) chat.Post {
	p := t.Post(chat.Info, bycup.In(t.Lang()).TastingStart(b, leader, cuts, t.Bar.Ends, tasting.Warned(b.Entry, r.Recent)))
	p.Buttons = cupButtons(t.Lang(), b)
	return p
}

// LayersAnew makes the answer to a message of a tasting as things stand. What
// was for one person alone is not said again.
func LayersAnew(t *turn.Turn, e bar.Entry) (chat.Post, error) {
	r, err := t.Book()
	if err != nil {
		return chat.Post{}, err
	}
	of, split := e, 0
	if s, ok := e.What.(bar.Sips); ok {
		split = s.Split
		if of, err = t.Stored(s.Layers); err != nil {
			return chat.Post{}, err
		}
	}
	b, err := Tastings(t, r).Table(of)
	switch {
	case err != nil || of.Deleted:
		return chat.Post{}, err
	case of.ID != e.ID && b.Shown(split) && lastSaid(b, split) == e.ID: // once, with what was said last
		return accountPost(t, r, b, split, false)
	case of.ID != e.ID:
		return chat.Post{}, nil
	case b.OfPair():
		return pairStartPost(t, b), nil
	}
	cuts, err := layers.Plan(b.Begun.Method, b.Brew())
	return startPost(t, r, b, r.NameOf(e.Person), cuts), err
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
func begin(t *turn.Turn, r *recent.Book, c chat.Command) (bar.Layers, error) {
	coffee, err := t.Meant(r, c, "coffee")
	if err != nil {
		return bar.Layers{}, err
	}
	l := bar.Layers{Coffee: coffee.ID, Split: 1}
	if l.Method, err = parse.Method(turn.Option(c, "method", "espresso")); err != nil {
		return l, err
	}
	l.Dose, l.Yield, l.Time = coffee.Recipe.Dose, coffee.Recipe.Yield, (coffee.Recipe.Low+coffee.Recipe.High)/2
	if t.Bar.FromDrip {
		l.Time += coffee.Wetting()
	}
	if l.Method == bar.PourOver {
		like := layers.DefaultFilter()
		l.Dose, l.Yield, l.Time = bar.Grams(like.Dose), bar.Grams(like.Yield), bar.Seconds(like.Time)
	}
	if err := brewOptions(t.Lang(), l.Method, c); err != nil {
		return l, err
	}
	water := 0.0
	err = turn.Each(c, func(name, value string) (err error) {
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
	switch water := turn.Option(c, "water", ""); {
	case water == "":
	case m != bar.PourOver:
		return turn.Mistake(bycup.In(l).NoWater(water))
	case turn.Option(c, "yield", "") != "":
		return turn.Mistake(l.Say(bycup.WaterOrYield))
	}
	return nil
}

// mostBrew is the most that one person brews to split, in g.
const mostBrew = 1000

// closeTable stops the tasting that was left open, if there is one.
func closeTable(t *turn.Turn, tx *store.Tx, r *recent.Book) error {
	e, ok := tasting.Open(r.Recent, r.Now)
	if !ok {
		return nil
	}
	l := e.What.(bar.Layers)
	l.Stopped = true
	e.What = l
	return tx.PutEntry(t.Bar.ID, e)
}

// add records what the message says of a tasting.
func add(t *turn.Turn, tx *store.Tx, r *recent.Book, w bar.What) (bar.Entry, error) {
	e := bar.Entry{Message: t.Msg.ID, Person: t.Who.ID, At: t.Now, Day: r.Day, Raw: t.Msg.Text, What: w}
	id, err := tx.AddEntry(t.Bar.ID, e)
	if e.ID = id; err != nil {
		return e, err
	}
	return e, tx.PutReply(t.Bar.ID, store.Reply{Cause: t.Msg.ID, Entry: id, Kind: chat.Info.String(), At: t.Now})
}

// put writes the state of a tasting, and that the message was handled.
func put(t *turn.Turn, tx *store.Tx, b layers.Table) error {
	b.Entry.What = b.Begun
	if err := tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now); err != nil {
		return err
	}
	return tx.PutEntry(t.Bar.ID, b.Entry)
}

// leads reports whether who writes may show, strike and stop.
func leads(t *turn.Turn, b layers.Table) bool { return b.Entry.Person == t.Who.ID || t.Msg.Manager }

// layersStop ends a tasting.
func layersStop(t *turn.Turn, b layers.Table) ([]turn.Out, error) {
	if !leads(t, b) {
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NotLeader))
	}
	b.Begun.Stopped = true
	err := t.Update(func(tx *store.Tx) error { return put(t, tx, b) })
	return t.Says(chat.Recorded, bycup.In(t.Lang()).Stopped(b.Coffee)), err
}

// strike takes a bad split out of the account.
func strike(t *turn.Turn, b layers.Table, c chat.Command) ([]turn.Out, error) {
	if !leads(t, b) {
		return nil, turn.Mistake(t.WriterLang().Say(bycup.NotLeader))
	}
	split := b.Begun.Split
	if said := turn.Option(c, "split", ""); said != "" {
		n, err := parse.Split(said)
		if err != nil {
			return nil, err
		}
		split = n
	}
	if b.OfPair() || split > b.Begun.Split || b.Begun.IsStruck(split) {
		return nil, turn.Mistake(bycup.In(t.Lang()).NoSuchSplit(split))
	}
	b.Begun.Struck = append(slices.Clone(b.Begun.Struck), split)
	err := t.Update(func(tx *store.Tx) error { return put(t, tx, b) })
	return t.Says(chat.Recorded, bycup.In(t.Lang()).Struck(split)), err
}

// PressLayers handles a button of a tasting.
func PressLayers(t *turn.Turn, r *recent.Book, e bar.Entry, verb, arg string) ([]turn.Out, error) {
	if _, ok := e.What.(bar.Layers); !ok {
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	b, err := Tastings(t, r).Table(e)
	if err != nil {
		return nil, err
	}
	switch {
	case verb == PressPair:
		return pairOf(t, r, b, 0)
	case verb == PressMove || verb == PressLeave:
		return move(t, b, verb == PressMove)
	case b.Begun.Stopped:
		return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
	}
	switch verb {
	case PressCups:
		return t.Private(bycup.In(t.WriterLang()).HowToTaste(b))
	case PressReveal:
		return reveal(t, r, b)
	case PressBetter:
		return sip(t, r, b, parse.Cups{Better: arg})
	}
	return nil, turn.Mistake(t.WriterLang().Say(say.OldButton))
}

// cupButtons are those under what there is to taste.
func cupButtons(l say.Lang, b layers.Table) []chat.Button {
	state := func(verb string, args ...string) string { return turn.PressState(verb, b.Entry.ID, args...) }
	if b.OfPair() {
		return []chat.Button{
			{Label: "X", State: state(PressBetter, "X")},
			{Label: "Y", State: state(PressBetter, "Y")},
			{Label: l.Say(bycup.SameLabel), State: state(PressBetter, "same")},
		}
	}
	return []chat.Button{{Label: l.Say(bycup.CupsLabel), State: state(PressCups)}, {Label: l.Say(bycup.RevealLabel), State: state(PressReveal)}}
}
