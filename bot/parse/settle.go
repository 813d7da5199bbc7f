package parse

import (
	"strings"

	"shothand/bot/chat"
	"shothand/bot/command"
)

// Settle is the second stage of reading a command, typed or come in parts:
// each word without a name gets that of the option it is meant for, and what
// the command does not take is refused, so that nothing of it is passed over. The
// words of a /shot stay as they are: they are shorthand, and what of it cannot be
// read is told. The error is a Mistake.
func Settle(c chat.Command) (chat.Command, error) {
	s, _, err := findSpec(c.Name)
	if err != nil || s.Name == shotCommand {
		return c, err
	}
	settled := chat.Command{Name: c.Name}
	for _, o := range c.Options {
		if o, err = settle(s, o); err != nil {
			return c, err
		}
		for _, other := range settled.Options {
			if other.Name == o.Name {
				return c, Mistake{Kind: Twice, What: cut(o.Name + ":" + quote(other.Value+" "+o.Value, false)), More: cut(o.Value)}
			}
		}
		settled.Options = append(settled.Options, o)
	}
	return settled, nil
}

// settle settles one option of a command.
func settle(s command.Command, o chat.Option) (chat.Option, error) {
	switch {
	case o.Name == "" && s.Free == "":
		return o, Mistake{Kind: Surplus, What: cut(o.Value), More: "/" + s.Name}
	case o.Name == "":
		o.Name = s.Free
	case !s.Takes(o.Name):
		return o, Mistake{Kind: UnknownOption, What: cut(o.Name), More: strings.Join(s.Names(), ", ")}
	case strings.TrimSpace(o.Value) == "":
		return o, Mistake{Kind: MissingOption, What: o.Name}
	}
	return choice(o)
}

// choice reads the value of an option that has few.
func choice(o chat.Option) (chat.Option, error) {
	switch o.Name {
	case "more", "pictures", "blind", "curve":
		yes, err := YesNo(o.Value)
		if err != nil {
			return o, optionError(o).mistake("yes or no")
		}
		if o.Value = "no"; yes {
			o.Value = "yes"
		}
	case "look":
		low := fold(strings.TrimSpace(o.Value))
		if low != "light" && low != "dark" {
			return o, optionError(o).mistake("light or dark")
		}
		o.Value = low
	}
	return o, nil
}
