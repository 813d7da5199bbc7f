package chat

import "time"

// A Desk is what a service asks of the bot while people are still typing, and
// before it listens. Its answers come at once: a person waits for them.
type Desk interface {
	// Specs returns the commands there are, for services that show them.
	Specs(locales ...string) []Spec
	// Suggest returns at most 25 values for the option being typed, the
	// likeliest first.
	Suggest(Asking) []string
	// Form returns the form that a command or a press opens in place of being
	// delivered, or false.
	Form(Message) (Form, bool)
	// Channels returns the channels in which the bot reads.
	Channels() ([]string, error)
	// Handled returns the ids of the messages of the last day that the bot
	// holds of a channel, oldest first: what stands after the last has not been
	// handled, what is missing among them has been deleted meanwhile.
	Handled(channel string) ([]string, error)
	// Unread returns the id of the message after which some of a channel may not
	// have been delivered though later ones were; empty for none.
	Unread(channel string) (id string, err error)
	// SetUnread notes it, empty for none.
	SetUnread(channel, id string) error
	// Threads returns the ids of the threads that the bot opened last in a
	// channel, in which somebody may have written while it was away.
	Threads(channel string) ([]string, error)
}

// Said is a text in other languages, by the locales that were asked for.
type Said map[string]string

// A Spec is a command as a service shows it.
type Spec struct {
	Name    string // "coffee add"
	Help    string // at most 100 characters
	Says    Said   // it, elsewhere
	Options []OptionSpec
	Manage  bool // needs the right to manage the channel
	Private bool // its answer is only for the person who asked
}

// An OptionSpec is an option of a command.
type OptionSpec struct {
	Name     string
	Help     string // at most 100 characters
	Says     Said   // it, elsewhere
	Required bool
	Choices  []string // all there are, at most 25; nil: any value
	Named    []Said   // what each is called elsewhere, or nil
	Suggests bool     // Suggest knows values for it
}

// An Asking is an option being typed.
type Asking struct {
	Channel string
	From    Person
	Command Command   // the options that stand already
	Option  string    // the option being typed
	Typed   string    // of it, so far
	At      time.Time // zero for now
}

// A Form is a few fields to fill in. What is filled in is delivered as a call
// of Command with an option for each field that is not left empty.
type Form struct {
	Title   string // at most 45 characters
	Command Command
	Fields  []Field // one to five
}

// A Field is one field of a form.
type Field struct {
	Name     string // of the option it becomes
	Label    string // at most 45 characters
	Hint     string // shown while it is empty, at most 100 characters
	Required bool
	Long     bool // several lines
}
