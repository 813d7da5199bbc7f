// Package bycup says what belongs to a tasting cup by cup, in the languages of
// package say.
package bycup

import "shothand/bot/say"

// A Lang says it in a language.
type Lang struct{ say.Lang }

// In returns what says it as l does all else.
func In(l say.Lang) Lang { return Lang{l} }
