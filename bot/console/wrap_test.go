package console

import (
	"strings"
	"testing"

	"github.com/rivo/uniseg"
	"pgregory.net/rapid"
)

func TestWrap(t *testing.T) {
	const path = "shothand.db.files/1234567890-harbour.png"
	for _, test := range []struct {
		text  string
		width int
		want  string
	}{
		{"one two three four five six", 0, "one two three four five six"},
		{"one two three four five six", 20, "one two three four\n  five six"},
		{"/today  where each coffee stands", 24, "/today  where each\n  coffee stands"},
		{"  one two three four five six", 20, "  one two three four\n    five six"},
		{"see " + path, 30, "see\n  " + path},
		{"ééééé ééééé ééééé ééééé", 23, "ééééé ééééé ééééé ééééé"},
		{"日本語 日本語 日本語 日", 20, "日本語 日本語 日本語\n  日"}, // two columns each
		{"house, first: 18 → 36 g, 28 s", 20, "house, first: 18 →\n  36 g, 28 s"},
		{"Keep what it is, at 5.2, then", 20, "Keep what it is,\n  at 5.2, then"},
		{"at", 20, "at"},
		{"a b\n\nc", 30, "a b\n\nc"},
		{"[1 did it]  [2" + hardSpace + "still" + hardSpace + "5.2]", 20, "[1 did it]\n  [2 still 5.2]"},
	} {
		if got := wrap(test.text, test.width); got != test.want {
			t.Errorf("wrap(%q, %d) = %q, want %q", test.text, test.width, got, test.want)
		}
	}
}

// Nothing is lost between the lines, and a line is too wide only where one
// word is.
func TestWrapKeepsWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zé0-9 \n]{0,200}`).Draw(t, "text")
		width := rapid.IntRange(40, 120).Draw(t, "width")
		got := wrap(text, width)
		if a, b := strings.Fields(got), strings.Fields(text); strings.Join(a, " ") != strings.Join(b, " ") {
			t.Fatalf("words %q of %q", a, b)
		}
		for line := range strings.SplitSeq(got, "\n") {
			if uniseg.StringWidth(strings.TrimRight(line, " ")) > width && len(strings.Fields(line)) > 1 {
				t.Fatalf("%q is wider than %d", line, width)
			}
		}
	})
}
