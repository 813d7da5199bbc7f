package setup

import "shothand/bot/say"

// What a terminal says by itself, beside the bot's answers.
const (
	// ConsoleWelcome opens a typed session.
	ConsoleWelcome say.English = "Type a shot: dose, yield, time, taste.\n  18.1 36.4 24 sour thin\nhelp says more, tab completes, quit leaves."
	// ConsoleKeys follows the help of a typed session.
	ConsoleKeys say.English = "Here @jo 18 36 28 sour is jo's shot, and @jo alone speaks as jo from then on. A number presses a button, tab completes, quit leaves."
	// ConsoleEmpty is said when nothing was typed at all.
	ConsoleEmpty say.English = "Nothing came in. Type a shot, or pipe one: echo '18.1 36.4 24 sour thin' | shothand console"
	// ConsolePrivate stands before a post that only its reader sees.
	ConsolePrivate say.English = "(only you see this)"
	// ConsoleEdited stands above a post that is said again, changed.
	ConsoleEdited say.English = "(changed)"
	// ConsoleNothingToPress is said where no post has buttons.
	ConsoleNothingToPress say.English = "There is no button to press there. Buttons stand in [brackets] under an answer; press one by its number or what it says."
	// ConsoleUnread is said to somebody whose line means nothing.
	ConsoleUnread say.English = "Not read, nothing recorded. A shot is typed so: 18 36 28 sour. help says more."
)

// BadTime says that a time cannot be read.
func (l Lang) BadTime(said string) string {
	return l.Say("“%s” is no time such as 2026-03-02T06:33:00Z; the line was left out.", say.Clip(said))
}

// BadLineNumber says that a line has no message.
func (l Lang) BadLineNumber(said string) string {
	if said == "" {
		return l.Say("Which line? Give its number, such as /edit 3 18 36 28, /delete 3 or /reply 3 sour.")
	}
	return l.Say("No message came from line “%s”. Lines count from 1, the first of this session.", say.Clip(said))
}

// NoSuchNumber says that the last answer has no button of that number, and how
// one further up is pressed.
func (l Lang) NoSuchNumber(n string, has []string, above string) string {
	if len(has) > 0 {
		return l.Say("There is no button %s on the last answer: it has %s. Nothing was changed.", n, l.List(has))
	}
	return l.Say("The last answer has no button. One further up is pressed by what it says, such as /press %s. Nothing was changed.", above)
}

// ButtonChoices says which buttons there are.
func (l Lang) ButtonChoices(said string, all []string) string {
	if said == "" {
		return l.Say("Which button? There is %s.", l.List(all))
	}
	return l.Say("No one button is called “%s”. There is %s.", say.Clip(said), l.List(all))
}

// Called returns what a button that has that label in English is called in l's
// language: English is understood everywhere.
func (l Lang) Called(label string) string { return l.Say(say.English(label)) }
