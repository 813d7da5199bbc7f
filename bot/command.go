package bot

import (
	"slices"
	"strings"

	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/cups"
	"shothand/bot/device"
	"shothand/bot/parse"
	"shothand/bot/recent"
	"shothand/bot/report"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/settings"
	"shothand/bot/shots"
	"shothand/bot/turn"
	"shothand/store"
)

// choicesOf puts the English value where one was typed in the writer's or the bar's
// language, as "roast:scura".
func choicesOf(t *turn.Turn, known command.Command, c chat.Command) chat.Command {
	c.Options = slices.Clone(c.Options)
	for i, o := range c.Options {
		if option, ok := known.Option(o.Name); ok {
			c.Options[i].Value = t.Lang().Chosen(option, t.WriterLang().Chosen(option, o.Value))
		}
	}
	return c
}

// doCommand handles a command, whether it was typed or came in parts.
func doCommand(t *turn.Turn, c chat.Command) ([]turn.Out, error) {
	seen, err := t.Seen()
	if err != nil || seen {
		return nil, err
	}
	known, _ := command.Of(c.Name)
	if known.Manages && !t.Msg.Manager {
		return nil, turn.Mistake(t.WriterLang().Say(say.NotManager))
	}
	if c, err = parse.Settle(choicesOf(t, known, c)); err != nil {
		return nil, err
	}
	switch c.Name {
	case "shot":
		return shotCommand(t, c)
	case "undo":
		return undo(t)
	case "export":
		return export(t, c)
	case "forget":
		return forget(t)
	case "help":
		return help(t, turn.Option(c, "topic", ""))
	}
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	switch c.Name {
	case "coffee add":
		return settings.CoffeeAdd(t, r, c)
	case "coffee edit":
		return settings.CoffeeEdit(t, r, c)
	case "coffee list":
		return t.Says(chat.Info, settings.CoffeeList(r)), nil
	case "coffee show":
		return report.CoffeeShow(t, r, c)
	case "coffee retire":
		return settings.CoffeeRetire(t, r, c)
	case "grinder add":
		return settings.GrinderAdd(t, r, c)
	case "grinder edit":
		return settings.GrinderEdit(t, r, c)
	case "grinder list":
		return t.Says(chat.Info, setup.In(t.Lang()).GrinderList(r.InUse(), r.StandsNow)), nil
	case "dialled":
		return dialledCommand(t, r, c)
	case "today":
		return today(t, r)
	case "why":
		return why(t, r, c)
	case "setup":
		if turn.Option(c, "device", "") != "" {
			return device.SetupDevice(t, c)
		}
		return settings.Setup(t, c)
	case "mention":
		return mention(t, c)
	case "layers start", "layers taste", "layers reveal", "layers strike", "layers pair", "layers stop", "layers show", "layers mine":
		return cups.Layers(t, r, c)
	case "review":
		return report.Review(t, r, c)
	}
	return nil, parse.Mistake{Kind: parse.UnknownCommand, What: "/" + c.Name}
}

// shotCommand takes the options of /shot for a shot.
func shotCommand(t *turn.Turn, c chat.Command) ([]turn.Out, error) {
	r, err := t.Book()
	if err != nil {
		return nil, err
	}
	p, err := parse.ShotOf(c, r.Vocab())
	if err != nil {
		return nil, err
	}
	if t.Msg.Kind == chat.Called {
		t.Msg.Text = parse.FormatCommand(c) // a question about it reads it again
	}
	return shots.Shot(t, r, p)
}

// help tells what one can type: all of it, or what belongs to one command.
func help(t *turn.Turn, topic string) ([]turn.Out, error) {
	of := strings.ToLower(strings.TrimPrefix(topic, "/"))
	if of == "words" {
		return settings.WordsHelp(t)
	}
	text := setup.In(t.Lang()).Help(of)
	if text == "" {
		return nil, turn.MisnamedOf(setup.In(t.Lang()).NoTopic(topic), topic, setup.Topics())
	}
	return t.Private(text)
}

// dialledCommand calls a coffee dialled in.
func dialledCommand(t *turn.Turn, r *recent.Book, c chat.Command) ([]turn.Out, error) {
	coffee, err := t.Meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	return shots.Dialled(t, r, coffee.ID)
}

// mention notes whether the person who asks wants to be mentioned for alerts.
// Nobody can ask for somebody else.
func mention(t *turn.Turn, c chat.Command) ([]turn.Out, error) {
	me := turn.Option(c, "me", "yes")
	wants, err := parse.YesNo(me)
	if err != nil {
		return nil, turn.Mistake(t.WriterLang().MentionWhom(me))
	}
	err = t.Update(func(tx *store.Tx) error {
		who, err := tx.PersonOf(t.Bar.ID, t.Msg.From.ID, t.Msg.From.Name)
		if err != nil {
			return err
		}
		who.Mention = wants
		if err := tx.PutPerson(t.Bar.ID, who); err != nil {
			return err
		}
		return tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now)
	})
	if err != nil {
		return nil, err
	}
	return t.Private(setup.In(t.Lang()).Mention(t.Who.Name, wants))
}
