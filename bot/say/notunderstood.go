package say

// NotTaken is said of a message to the bot that was not understood.
const NotTaken English = "I could not take that in, and nothing was changed. Examples of what I read: no, 27 s · was 5.1 · 2 finer · a bit sour · /undo"

// UnreadText is said once of words that were kept and not understood.
func (l Lang) UnreadText(words []string) string {
	return l.Say("New to me, and kept as typed: %s.", l.asTyped(words))
}

// maxUnread is how many words that were not understood are said back.
const maxUnread = 5
