package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// threeDays are the lines of a script.
func threeDays(t *testing.T) []string {
	t.Helper()
	script, err := os.ReadFile("../../testdata/days/three-days.txt")
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSpace(string(script)), "\n")
}

// Three days of a bar: the reminders and the closing notes come at their
// instants, each day has one card, and the drift is told once.
func TestThreeDays(t *testing.T) {
	t.Parallel()
	answers := runJSON(t, []string{"-db", filepath.Join(t.TempDir(), "bar.db")}, threeDays(t))
	var posted []string
	edits := map[string]int{}
	alerts := 0
	for _, a := range answers {
		for _, d := range a.Due {
			first, _, _ := strings.Cut(d.Text, "\n")
			if d.Edits != "" {
				edits[first]++
				continue
			}
			posted = append(posted, d.At+" "+d.Kind+" "+first)
		}
		for _, r := range a.Replies {
			if r.Kind == "alert" {
				alerts++
			}
		}
	}
	want := []string{
		"2026-03-02T06:30:00+01:00 reminder Harbour Lane · Mon 2 March",
		"2026-03-02T18:00:00+01:00 info Closing.",
		"2026-03-03T06:45:05+01:00 info Harbour Lane · Tue 3 March", // nothing needed a reminder
		"2026-03-03T18:00:00+01:00 info Closing.",
		"2026-03-04T06:30:00+01:00 reminder Harbour Lane · Wed 4 March",
		"2026-03-04T18:00:00+01:00 info Closing.",
	}
	if diff := cmp.Diff(want, posted); diff != "" {
		t.Errorf("posted by the clock (-want +got):\n%s", diff)
	}
	if alerts != 1 {
		t.Errorf("%d alerts, want 1", alerts)
	}
	for _, day := range []string{"Mon 2", "Tue 3", "Wed 4"} {
		if n := edits["Harbour Lane · "+day+" March"]; n == 0 {
			t.Errorf("the card of %s was never edited", day)
		}
	}
}

// The tasting that the README plays is the conversation that is held to its
// answers.
func TestCupByCupIsTheConversation(t *testing.T) {
	script, err := os.ReadFile("../../testdata/days/cup-by-cup.txt")
	if err != nil {
		t.Fatal(err)
	}
	played, err := os.ReadFile("../../testdata/conversations/layers-espresso.txtar")
	if err != nil {
		t.Fatal(err)
	}
	var typed strings.Builder
	for line := range strings.Lines(string(played)) {
		if text, ok := strings.CutPrefix(line, "> "); ok {
			typed.WriteString(text)
		}
	}
	if diff := cmp.Diff(typed.String(), string(script)); diff != "" {
		t.Errorf("(-conversation +script):\n%s", diff)
	}
}
