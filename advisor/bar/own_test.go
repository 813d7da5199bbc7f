package bar

import (
	"testing"

	"pgregory.net/rapid"
)

// What is undone is the change that was made, and nothing that came since.
func TestOwnWordsRestore(t *testing.T) {
	word := rapid.SampledFrom([]string{"gribbly", "snorky", "wumply"})
	means := rapid.SampledFrom([]string{"sour", "bitter", ""})
	change := func(t *rapid.T, o OwnWords, label string) OwnWords {
		w := word.Draw(t, label)
		if rapid.Bool().Draw(t, label+" forgotten") {
			return o.Forget(w)
		}
		return o.Teach(w, means.Draw(t, label+" means"))
	}
	rapid.Check(t, func(t *rapid.T) {
		var start OwnWords
		for range 3 {
			start = change(t, start, "before")
		}
		after := change(t, start, "change")
		if got := after.Restore(start, after); !got.Equal(start) {
			t.Errorf("%q changed to %q is restored to %q", start, after, got)
		}
		later := change(t, after, "later")
		got := later.Restore(start, after)
		for _, w := range []string{"gribbly", "snorky", "wumply"} {
			was, ok1 := start.Means(w)
			is, ok2 := after.Means(w)
			now, ok3 := later.Means(w)
			want, okWant := now, ok3
			if (was != is || ok1 != ok2) && is == now && ok2 == ok3 {
				want, okWant = was, ok1
			}
			if m, ok := got.Means(w); m != want || ok != okWant {
				t.Errorf("%s: %q, %v; want %q, %v (%q, %q, %q)", w, m, ok, want, okWant, start, after, later)
			}
		}
	})
}
