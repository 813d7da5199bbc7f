// Package past says what is looked back at: reviews, their pictures, the page of a
// coffee.
package past

import (
	"shothand/bot/say"
	"shothand/bot/say/bycup"
)

// A Lang says it in a language.
type Lang struct{ bycup.Lang }

// In returns what says it as l does all else.
func In(l say.Lang) Lang { return Lang{bycup.In(l)} }
