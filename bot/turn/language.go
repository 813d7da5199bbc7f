package turn

import (
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/say"
)

// Lang returns the language that a message is answered in: that of the bar, or the
// writer's own where the answer is theirs alone.
func (t *Turn) Lang() say.Lang {
	if c, ok := command.Of(t.Msg.Command.Name); ok && c.Private {
		return t.WriterLang()
	}
	return say.In(t.Bar.Language)
}

// WriterLang returns the language of the person who wrote, where the service tells it,
// for what they alone read.
func (t *Turn) WriterLang() say.Lang { return LanguageOfWriter(t.Msg, say.In(t.Bar.Language)) }

// LanguageOfWriter is the language of whoever wrote m, or another where it is not told
// or not spoken here.
func LanguageOfWriter(m chat.Message, without say.Lang) say.Lang {
	if code := say.LanguageOf(m.Locale); code != "" {
		return say.In(code)
	}
	return without
}

// HomeLanguage is the language of a bar that has not chosen one: its server's.
func HomeLanguage(m chat.Message) string {
	return spoken(say.LanguageOf(m.Home))
}

// spoken is a language as a bar's record has it: nothing for English.
func spoken(code string) string {
	if code == "en" {
		return ""
	}
	return code
}
