package parse

import (
	"slices"
	"strings"
)

// Language reads a language by its code or its name, its own or the English one:
// "it", "italiano", "Italian". English is empty.
func Language(value string) (string, error) {
	said := strings.ToLower(strings.TrimSpace(value))
	for _, names := range languages() {
		if slices.Contains(names[1:], said) {
			return names[0], nil
		}
	}
	return "", bad(value, "en, it, es, de, fr or pt")
}

// languages are the code that is kept, and all ways to say it.
func languages() [][]string {
	return [][]string{
		{"", "en", "english", "none"},
		{"it", "it", "italian", "italiano"},
		{"es", "es", "spanish", "español", "espanol"},
		{"de", "de", "german", "deutsch"},
		{"fr", "fr", "french", "français", "francais"},
		{"pt", "pt", "portuguese", "português", "portugues"},
	}
}
