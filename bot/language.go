package bot

import (
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/say"
)

// in returns the language that a message is answered in: that of the bar, or the
// writer's own where the answer is theirs alone.
func (t *turn) in() say.Lang {
	if c, ok := command.Of(t.m.Command.Name); ok && c.Private {
		return t.own()
	}
	return say.In(t.bar.Language)
}

// own returns the language of the person who wrote, where the service tells it,
// for what they alone read.
func (t *turn) own() say.Lang { return ownLanguage(t.m, say.In(t.bar.Language)) }

// in returns the language of the bar.
func (r *room) in() say.Lang { return say.In(r.bar.Language) }

// ownLanguage is the language of whoever wrote m, or another where it is not told
// or not spoken here.
func ownLanguage(m chat.Message, without say.Lang) say.Lang {
	if code := say.LanguageOf(m.Locale); code != "" {
		return say.In(code)
	}
	return without
}

// homeLanguage is the language of a bar that has not chosen one: its server's.
func homeLanguage(m chat.Message) string {
	return spoken(say.LanguageOf(m.Home))
}

// spoken is a language as a bar's record has it: nothing for English.
func spoken(code string) string {
	if code == "en" {
		return ""
	}
	return code
}
