package say

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Each says each of a list.
func Each[T any](list []T, say func(T) string) []string {
	texts := make([]string, len(list))
	for i, x := range list {
		texts[i] = say(x)
	}
	return texts
}

// List joins words as people do.
func (l Lang) List(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return l.Say("%s and %s", strings.Join(words[:len(words)-1], ", "), words[len(words)-1])
}

// AnyOf joins words of which one is asked for.
func (l Lang) AnyOf(words []string) string {
	if len(words) < 2 {
		return l.List(words)
	}
	return l.Say("%s or %s", strings.Join(words[:len(words)-1], ", "), words[len(words)-1])
}

// Upper begins s with a capital.
func Upper(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}
