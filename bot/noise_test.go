package bot

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shothand/bot/chat"
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

// The time since when a coffee runs otherwise is on the card as it was told, however
// many shots come after.
func TestSinceStandsStill(t *testing.T) {
	lines := []string{
		"/setup opens:06:00 closes:18:00", "/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour time:25-31",
		"18 36 28 grind 5 balanced", "18 36 28 balanced", "18 36 28 sweet", "/dialled",
	}
	since := regexp.MustCompile(`since (\d\d:\d\d)`)
	told := ""
	for _, ramp := range []float64{0.4, 0.6, 0.8, 1} {
		all := slices.Clone(lines)
		for i := range 22 {
			all = append(all, fmt.Sprintf("18 36 %.1f", 28+min(ramp*float64(i), 9)), "/today")
		}
		told = ""
		for _, o := range posted(t, all...) {
			found := since.FindStringSubmatch(o.Text)
			switch {
			case found == nil:
			case o.Kind == chat.Alert:
				told = found[1]
			case told != "" && found[1] != told:
				t.Fatalf("%.1f s a shot: told since %s, then\n%s", ramp, told, o.Text)
			}
		}
		if told == "" {
			t.Errorf("%.1f s a shot: no alert", ramp)
		}
	}
}

// Whoever calls a coffee that nobody has tasted as it is set now is asked once.
func TestCallOfAnUntastedSetting(t *testing.T) {
	lines := []string{"/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"}
	for _, c := range []struct {
		name  string
		shots []string
		asked string
	}{
		{"nobody has tasted", []string{"18 36 28 grind 5"}, "Nobody has tasted it today"},
		{"tasted at another setting", []string{"18 36 24 grind 5 sour", "18 36 28 grind 4.6"}, "Nobody has tasted it as it is set now"},
		{"tasted at another yield", []string{"18 36 28 grind 5 sour", "18 41 29"}, "Nobody has tasted it as it is set now"},
		{"tasted one before, as it is set", []string{"18 36 28 grind 5 balanced", "18 36 28"}, ""},
		{"tasted with a weight a little off", []string{"18 36 28 grind 5 balanced", "18.1 36.8 28"}, ""},
		{"tasted at it, and it was left and set again", []string{"18 36 28 grind 5 balanced", "18 36 30 grind 4.9", "18 36 28 grind 5"}, ""},
		{"tasted before steps were turned", []string{"18 36 24 sour", "18 36 28 2 finer"}, "Nobody has tasted it as it is set now"},
	} {
		out := posted(t, slices.Concat(lines, c.shots, []string{"/dialled"})...)
		last := out[len(out)-1]
		if asked := last.Kind == chat.Question; asked != (c.asked != "") || !strings.Contains(last.Text, c.asked) {
			t.Errorf("%s: %s", c.name, last.Text)
		}
	}
}
