package say

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
)

// English is a sentence of the bot in English, the master: it is the key under
// which a catalogue has it in another language. Its verbs are those of fmt. What
// stands before a "|" tells apart what is one word in English and two elsewhere;
// it is never said.
type English string

// A Thing is what can be counted, one of it in English.
type Thing string

// many is the sentence that counts a thing.
func (t Thing) many() English { return English("%d " + string(t) + "s") }

// A Lang is a language that sentences are said in. The zero Lang is English.
type Lang struct {
	code    string
	printer *message.Printer // nil for English
	known   map[English]string
}

// In returns a language by its code, "it"; English for one that has no catalogue.
func In(code string) Lang {
	read, ok := shipped()[code]
	if !ok {
		return Lang{}
	}
	c := read()
	return Lang{code, c.printer, c.sentences}
}

// Languages are the codes of all languages there are, English first.
func Languages() []string { return []string{"en", "it", "es", "de", "fr", "pt"} }

// LanguageOf returns the code of the language of a locale, as "pt" of "pt-BR". It
// is empty for one that is not spoken here.
func LanguageOf(locale string) string {
	tag, err := language.Parse(locale)
	if err != nil {
		return ""
	}
	base, _ := tag.Base()
	if slices.Contains(Languages(), base.String()) {
		return base.String()
	}
	return ""
}

// Code is the language's code, "en" for English.
func (l Lang) Code() string { return cmp.Or(l.code, "en") }

// English reports whether it is the master.
func (l Lang) English() bool { return l.printer == nil }

// Say says a sentence with its values in place. What a catalogue lacks is said in
// English.
func (l Lang) Say(e English, values ...any) string {
	text, ok := l.known[e]
	switch {
	case ok && len(values) > 0:
		return l.printer.Sprintf(string(e), values...)
	case ok:
		return text
	}
	before, bare, found := strings.Cut(string(e), "|")
	if !found || strings.HasSuffix(before, " ") { // that of a shell
		bare = string(e)
	}
	if len(values) == 0 {
		return bare
	}
	return fmt.Sprintf(bare, values...)
}

// Colon joins a name and what is said of it, as the language spaces it.
func (l Lang) Colon() string { return l.Say("colon|: ") }

// Semicolon joins what is said one after the other.
func (l Lang) Semicolon() string { return l.Say("semicolon|; ") }

// Count prints a number of things.
func (l Lang) Count(n int, thing Thing) string {
	if _, ok := l.known[thing.many()]; ok {
		return l.Say(thing.many(), n)
	}
	if n == 1 {
		return "1 " + string(thing)
	}
	return fmt.Sprintf(string(thing.many()), n)
}
