// Package setup says what is set of a bar and taken back, what its devices post, how
// records are carried, and the help.
package setup

import "shothand/bot/say"

// A Lang says it in a language.
type Lang struct{ say.Lang }

// In returns what says it as l does all else.
func In(l say.Lang) Lang { return Lang{l} }
