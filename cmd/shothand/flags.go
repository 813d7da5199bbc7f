package main

import (
	"errors"
	"flag"

	"shothand/bot"
)

// parseFlags reads the options of a command that takes at most so many names
// besides. It is false when it cannot, or when only help was asked for.
func parseFlags(flags *flag.FlagSet, args []string, names int) (bool, error) {
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return false, nil
		}
		return false, err
	}
	if flags.NArg() > names {
		return false, errors.New(bot.UnknownArgumentText(flags.Arg(names)))
	}
	return true, nil
}
