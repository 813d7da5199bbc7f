package setup

import (
	"cmp"
	"strings"
	"time"
	"unicode"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// Format refuses a format.
func (l Lang) Format(said string) string {
	return l.Say("“%s” is no format: csv holds the shots, jsonl everything.", say.Clip(said))
}

// Export goes with the file, of everything or of shots.
func (l Lang) Export(everything bool) string {
	if everything {
		return l.Say("Everything this bar has, one record a line. Another shothand takes it with: shothand import")
	}
	return l.Say("All shots, one a row. format:jsonl is everything.")
}

// ExportAlt says what the file is, for those who do not see it.
func (l Lang) ExportAlt(everything bool) string {
	if everything {
		return l.Say("all records of the bar as JSON lines")
	}
	return l.Say("all shots of the bar as a table")
}

// ExportName is the name of the file.
func ExportName(bar bar.Bar, now time.Time, ending string) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, string([]rune(bar.Name)[:min(say.MaxName, len([]rune(bar.Name)))]))
	return cmp.Or(strings.Trim(name, "-"), "bar") + "-" + now.Format(time.DateOnly) + "." + ending
}

// ExportTooLarge says where it can be had all the same.
func (l Lang) ExportTooLarge(format string) string {
	return l.Say("That is too much for a chat. The operator has it with: shothand export --format %s", format)
}

// What a person who wants to be forgotten hears.
const (
	ForgetLabel say.English = "forget me"
	Forgotten   say.English = "You are forgotten here: your name, your account and what you typed are gone. Your shots stay, as somebody’s. Backups of the operator’s may still tell; ask for those."
)

// ForgetQuestion asks whether a person means it.
func (l Lang) ForgetQuestion(name string) string {
	return l.Say("Take your name (%s) and what you typed out of all records? Your shots stay, without a name. It cannot be undone.", say.Clip(name))
}
