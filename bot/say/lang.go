package say

import (
	"fmt"

	"shothand/advisor/bar"
)

// English is a sentence of the bot in English, the master: it is the key under
// which a catalogue has it in another language. Its verbs are those of fmt.
type English string

// A Lang is a language that sentences are said in. The zero Lang is English.
type Lang struct {
	code string
}

// Say says a sentence with its values in place.
func (l Lang) Say(e English, values ...any) string {
	if len(values) == 0 {
		return string(e)
	}
	return fmt.Sprintf(string(e), values...)
}

// In is the language of a bar.
func In(bar.Bar) Lang { return Lang{} }

// english is what is not translated yet.
func english() Lang { return Lang{} }
