package say

// What the program says beside the conversation.
const (
	// Connect says how to reach Discord, when the console opens without
	// being asked for.
	Connect = "This is the console. With DISCORD_TOKEN set the bot joins Discord; the README says how to get one."
	// Welcome opens a typed session.
	Welcome = "Type a shot: dose, yield, time, taste.\n" +
		"  18.1 36.4 24 sour thin\n" +
		"help says more, tab completes, quit leaves."
	// Empty is said when nothing was typed at all.
	Empty = "Nothing came in. Type a shot, or pipe one: echo '18.1 36.4 24 sour thin' | shothand console"
	// Private stands before a post that only its reader sees.
	Private = "(only you see this)"
	// Edited stands above a post that is said again, changed.
	Edited = "(changed)"
	// NothingToPress is said where no post has buttons.
	NothingToPress = "There is no button to press there. Buttons stand in [brackets] under an answer; press one by its number or what it says."
	// Unread is said to somebody at the console whose line means nothing.
	Unread = "I read no shot, no words of taste and no command in that, so nothing was recorded. help says what I read."
)

// BadTime says that a time cannot be read.
func BadTime(said string) string {
	return "“" + Clip(said) + "” is no time such as 2026-03-02T06:33:00Z; the line was left out."
}

// BadLineNumber says that a line has no message.
func BadLineNumber(said string) string {
	if said == "" {
		return "Which line? Give its number, such as /edit 3 18 36 28"
	}
	return "No message came from line “" + Clip(said) + "”. Lines count from 1, the first of this session."
}

// ButtonChoices says which buttons there are.
func ButtonChoices(said string, all []string) string {
	if said == "" {
		return "Which button? There is " + List(all) + "."
	}
	return "No one button is called “" + Clip(said) + "”. There is " + List(all) + "."
}
