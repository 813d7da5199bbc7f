package parse

import (
	"os"
	"strings"
	"testing"

	"shothand/advisor/bar"
)

// bar is the vocabulary of the tests: an invented bar.
func theBar() Vocab {
	return Vocab{
		Coffees:  []Name[bar.CoffeeID]{{"Harbour", 1}, {"Tide", 2}, {"decaf", 3}},
		Grinders: []Name[bar.GrinderID]{{"left", 1}, {"right", 2}},
		Recipe:   bar.House(),
	}
}

// What a team says in its channel all day gets no answer.
func TestChatterIsLeftAlone(t *testing.T) {
	var lines []string
	for _, file := range []string{"testdata/chatter.txt", "testdata/chatter-abroad.txt"} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, strings.Split(strings.TrimSpace(string(text)), "\n")...)
	}
	if len(lines) < 500 {
		t.Errorf("%d lines of chatter, want 500", len(lines))
	}
	for _, line := range lines {
		if m, err := Message(line, theBar()); m != (Chatter{}) || err != nil {
			t.Errorf("%q is read as %T %+v, %v", line, m, m, err)
		}
	}
}
