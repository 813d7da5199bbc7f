package settings

import (
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
)

// Setup changes what the bar tells of itself.
func Setup(t *turn.Turn, c chat.Command) ([]turn.Out, error) {
	b := t.Bar
	err := turn.Each(c, func(name, value string) (err error) {
		switch name {
		case "zone":
			b.Zone, err = value, CheckZone(t.Lang(), value)
		case "order":
			b.Order, err = parse.Order(value)
		case "ends":
			b.Ends, err = parse.Ends(value)
		case "clock":
			b.FromDrip, err = parse.Clock(value)
		case "name":
			b.Name, err = t.Lang().NewName(value, nil)
		case "opens":
			b.Opens, err = hour(value)
		case "closes":
			b.Closes, err = hour(value)
		case "remind":
			b.Remind, err = hour(value)
		case "days":
			b.Days, err = parse.DaysOpen(value)
		case "levers":
			b.Crew, err = parse.CrewLevers(value)
		case "currency":
			b.Currency, err = parse.Currency(value)
		case "language":
			b.Language, err = parse.Language(value)
		case "word":
			b.Words, err = Taught(t.Lang(), b.Words, value, turn.Option(c, "means", ""))
		case "means":
			if turn.Option(c, "word", "") == "" {
				err = parse.Mistake{Kind: parse.MissingOption, What: "word"}
			}
		case "lag", "yield", "dose", "secret", "allow":
			err = parse.Mistake{Kind: parse.MissingOption, What: "device"}
		}
		return err
	})
	if err == nil && b.Opens != "" && b.Opens == b.Closes {
		err = turn.Mistake(t.WriterLang().Say(say.Hours))
	}
	if err != nil {
		return nil, err
	}
	in := setup.In(say.In(b.Language))
	switch {
	case len(c.Options) == 0:
		all, err := t.Devices()
		return t.Says(chat.Info, setup.In(t.Lang()).Setup(b)+setup.In(t.Lang()).Devices(all)), err
	case b.Equal(t.Bar):
		return nil, turn.Mistake(t.WriterLang().NothingChanged(setup.In(t.WriterLang()).Setup(b)))
	}
	err = t.ChangeBar(b)
	text := in.Setup(b)
	if word := turn.Option(c, "word", ""); word != "" {
		learnt := in.OwnWord(b.Words, word)
		if text = learnt; len(c.Options) > 2 { // more than the word and what it means
			text = learnt + "\n" + in.Setup(b)
		}
	}
	return t.Says(chat.Recorded, text), err
}

// CheckZone returns the mistake of a zone that does not exist, or nil.
func CheckZone(l say.Lang, name string) error {
	if _, bad := time.LoadLocation(name); bad != nil || name == "Local" {
		near := nearestZone(name)
		return turn.Misnamed{Mistake: turn.Mistake(setup.In(l).BadZone(name, near)), Said: name, Right: near}
	}
	return nil
}

// hour reads a time of day, or that there is none.
func hour(value string) (bar.TimeOfDay, error) {
	if parse.None(value) {
		return "", nil
	}
	return parse.HourOfDay(value)
}
