package say

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// Numbers, plurals and dates are written as each language writes them.
func TestWritten(t *testing.T) {
	tests := map[string][]string{
		"":   {"5.2", "1 shot", "2 shots", "Mon 2 March", "07:05"},
		"it": {"5,2", "1 estrazione", "2 estrazioni", "lun 2 marzo", "07:05"},
		"es": {"5,2", "1 extracción", "2 extracciones", "lun 2 de marzo", "07:05"},
		"de": {"5,2", "1 Bezug", "2 Bezüge", "Mo 2. März", "07:05"},
		"fr": {"5,2", "1 extraction", "2 extractions", "lun 2 mars", "07 h 05"},
		"pt": {"5,2", "1 extração", "2 extrações", "seg 2 de março", "07:05"},
	}
	for code, want := range tests {
		l := In(code)
		at := time.Date(2026, 3, 2, 7, 5, 0, 0, time.UTC)
		got := []string{l.Number(5.2), l.Count(1, "shot"), l.Count(2, "shot"), l.DayName("2026-03-02"), l.Clock(at)}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%q: %q, want %q", code, got, want)
		}
	}
}

// A locale is taken for its language, and for none where that is not spoken.
func TestLanguageOf(t *testing.T) {
	for locale, want := range map[string]string{"pt-BR": "pt", "es-419": "es", "en-GB": "en", "de": "de", "sv-SE": "", "": "", "x": ""} {
		if got := LanguageOf(locale); got != want {
			t.Errorf("%q: %q, want %q", locale, got, want)
		}
	}
}

// What a catalogue lacks is said in English wholly.
func TestLacking(t *testing.T) {
	if got := In("it").Say("nobody|There is %s.", "x"); got != "There is x." {
		t.Error(got)
	}
	if got := In("tlh"); !got.English() || strings.TrimSpace(got.Code()) != "en" {
		t.Error(got.Code())
	}
}

// French sets a space before a colon and a semicolon, also where sentences are
// joined; the others do not.
func TestJoinersAreSpacedAsTheLanguageHasThem(t *testing.T) {
	for code, want := range map[string]string{"en": "a: b; c", "it": "a: b; c", "es": "a: b; c", "de": "a: b; c", "fr": "a : b ; c", "pt": "a: b; c"} {
		if l := In(code); "a"+l.Colon()+"b"+l.Semicolon()+"c" != want {
			t.Errorf("%s: %q", code, "a"+l.Colon()+"b"+l.Semicolon()+"c")
		}
	}
}
