package command

import "slices"

// A Command is one of the commands there are.
type Command struct {
	Name    string // "coffee add"
	Help    string // one line, at most 100 characters
	Options []Option
	Free    string // the option that words without a name are meant for, or [FreeWords], or empty: it takes none
	Manages bool   // needs the right to manage the channel
	Private bool   // its answer is only for the person who asked
}

// An Option is one of a command's options.
type Option struct {
	Name     string
	Help     string   // one line, at most 100 characters
	Choices  []string // all the values that it has, or nil
	Suggest  Suggest
	Required bool
}

// A Suggest is what kind of value is suggested for an option.
type Suggest int

// What is suggested. Nothing stands for an option whose value is typed, or is
// one of its choices.
const (
	Nothing Suggest = iota
	Coffees
	Grinders
	Tastes
	Zones
	Topics
)

// FreeWords is what words are called that a command reads itself.
const FreeWords = "words"

// Takes reports whether the command has that option.
func (c Command) Takes(option string) bool { return slices.Contains(c.Names(), option) }

// Names are the names of the options.
func (c Command) Names() []string {
	var names []string
	for _, o := range c.Options {
		names = append(names, o.Name)
	}
	return names
}

// Of returns the command of that name.
func Of(name string) (Command, bool) {
	if name == "" { // as of all that is typed without one
		return Command{}, false
	}
	for _, c := range All() {
		if c.Name == name {
			return c, true
		}
	}
	return Command{}, false
}

// Option returns the option of that name.
func (c Command) Option(name string) (Option, bool) {
	for _, o := range c.Options {
		if o.Name == name {
			return o, true
		}
	}
	return Option{}, false
}
