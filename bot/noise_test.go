package bot

import (
	"slices"
	"testing"

	"shothand/bot/turn"
)

// ticked reports whether the last of the posts says no more than a tick does.
func ticked(out []turn.Out) bool { return out[len(out)-1].Tick }

// A coffee that was called dialled in outside its window, by somebody who was asked,
// runs as it should when it runs as it did then.
func TestAsCalledNeedsNoWord(t *testing.T) {
	lines := []string{
		"/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31",
		"18 36 24 grind 5 balanced", "18 36 24 sweet", "/dialled", "/dialled",
	}
	for _, c := range []struct {
		name  string
		shots []string
		want  bool
	}{
		{"as it was called", []string{"18 36 24"}, true},
		{"again and again", []string{"18 36 24", "18 36 24", "18 36 24"}, true},
		{"far from it", []string{"18 36 21"}, false},
		{"as called, and found sour", []string{"18 36 24 sour"}, false},
	} {
		if got := ticked(posted(t, slices.Concat(lines, c.shots)...)); got != c.want {
			out := posted(t, slices.Concat(lines, c.shots)...)
			t.Errorf("%s: a tick %v: %s", c.name, got, out[len(out)-1].Text)
		}
	}
}

// Somebody else who tastes the same cup and changes nothing of what was advised is
// noted, and the advice is not said twice.
func TestSecondTasterWhoAgrees(t *testing.T) {
	lines := []string{
		"/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31",
	}
	for _, c := range []struct {
		name string
		said []string
		want bool
	}{
		{"the same move", []string{"18 36 21 grind 5 sour", "@jo sour"}, true},
		{"another move", []string{"18 36 21 grind 5 sour", "@jo bitter"}, false},
		{"the first to taste", []string{"18 36 21 grind 5", "@jo sour"}, true},
		{"the first to taste, and it is right", []string{"18 36 28 grind 5", "@jo balanced"}, false},
	} {
		if got := ticked(posted(t, slices.Concat(lines, c.said)...)); got != c.want {
			out := posted(t, slices.Concat(lines, c.said)...)
			t.Errorf("%s: a tick %v: %s", c.name, got, out[len(out)-1].Text)
		}
	}
}
