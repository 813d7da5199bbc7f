package taste

import (
	"testing"

	"pgregory.net/rapid"

	"shothand/advisor/bar"
)

// A bar's own words are found under the form in which the lexicon looks up.
func TestNormalIsTheLexicons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-zA-Zàéüßñ\x{301}'’ ,/0-9-]{0,20}`)).Draw(t, "text")
		if got, want := bar.Normal(text), normal(text, false); got != want {
			t.Errorf("Normal(%q) = %q, the lexicon has %q", text, got, want)
		}
	})
}
