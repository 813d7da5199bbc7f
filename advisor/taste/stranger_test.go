package taste

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shothand/advisor/bar"
)

// An outcome is how a phrase of the stranger's list came out.
type outcome int

const (
	right outcome = iota
	missed
	wrong
)

// The lists hold a phrase to what a bar would mean by it. No negation may come
// out the other way round; the rest is held to what was reached.
func TestStranger(t *testing.T) {
	for _, list := range []string{"stranger.txt", "stranger-second.txt"} {
		t.Run(list, func(t *testing.T) { hearList(t, list) })
	}
}

func hearList(t *testing.T, list string) {
	const (
		mostWrong  = 0
		leastRight = 100
	)
	text, err := os.ReadFile(filepath.Join("testdata", list))
	if err != nil {
		t.Fatal(err)
	}
	var count [3]int
	for line := range strings.Lines(string(text)) {
		phrase, want, ok := strings.Cut(strings.TrimSpace(line), " = ")
		if !ok || strings.HasPrefix(line, "#") {
			continue
		}
		words, unread := Default().Read(phrase)
		got := recognise(words, strings.Fields(want))
		count[got]++
		if got != right {
			t.Logf("%s: %q, want %q, reads %q, unread %q", [...]string{"right", "missed", "wrong"}[got], phrase, want, short(words), unread)
		}
		if got == wrong && strings.Contains(want, "denied") {
			t.Errorf("%q is turned round", phrase)
		}
	}
	t.Logf("%d right, %d missed, %d wrong", count[right], count[missed], count[wrong])
	if n := count[right] + count[missed] + count[wrong]; n != 100 {
		t.Errorf("%d phrases, want 100", n)
	}
	if count[wrong] > mostWrong || count[right] < leastRight {
		t.Errorf("%d wrong, want at most %d; %d right, want at least %d", count[wrong], mostWrong, count[right], leastRight)
	}
}

// recognise returns how words come out against all that was expected of them.
func recognise(words []bar.Word, want []string) outcome {
	if slices.Contains(want, "nothing") {
		if len(words) > 0 {
			return wrong
		}
		return right
	}
	if len(words) == 0 {
		return missed
	}
	r := say(Default(), words...)
	worst := right
	for _, name := range want {
		worst = max(worst, meets(r, words, name))
	}
	return worst
}

// meets returns how a reading comes out against one thing expected of it.
func meets(r Reading, words []bar.Word, name string) outcome {
	const some = 0.35 // taste steps: what leans less than this is level
	switch name {
	case "under":
		return along(-r.Extraction)
	case "over":
		return along(r.Extraction)
	case "weak":
		return along(-r.Strength)
	case "strong":
		return along(r.Strength)
	case "level":
		if math.Abs(r.Extraction) > some {
			return wrong
		}
		return right
	case "praise":
		return along(r.Praise)
	case "bad":
		return along(-r.Praise)
	case "uneven":
		return along(evenPrior - r.Even)
	case "than":
		if slices.ContainsFunc(words, func(w bar.Word) bool { return !w.Than }) {
			return missed
		}
		return right
	case "denied":
		return right // a mark for the counting
	}
	if slices.Contains(r.Faults, faults()[name]) {
		return right
	}
	return missed
}

// along returns right for what leans the way expected, wrong for the other.
func along(x float64) outcome {
	const nothing = 0.01
	switch {
	case x > nothing:
		return right
	case x < -nothing:
		return wrong
	}
	return missed
}
