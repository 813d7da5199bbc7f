package parse

import (
	"os"
	"strings"
	"testing"

	"shothand/advisor/taste"
)

// Every word of taste of the lexicon, alone and in any of its languages, is read by
// somebody who has just pulled a shot and said nothing of it.
func TestEveryTasteWordAlone(t *testing.T) {
	text, err := os.ReadFile("../../advisor/taste/lexicon.txt")
	if err != nil {
		t.Fatal(err)
	}
	v := Vocab{Untasted: true}
	words := 0
	for line := range strings.Lines(string(text)) {
		head, rest, ok := strings.Cut(line, "|")
		if !ok || strings.HasPrefix(line, "#") {
			continue
		}
		forms, _, _ := strings.Cut(rest, "|")
		entry, _ := taste.Default().Entry(strings.TrimSpace(head))
		if entry.Kind == taste.Faulty || entry.Kind == taste.Flow {
			continue
		}
		for form := range strings.SplitSeq(forms, ",") {
			form = strings.TrimRight(strings.TrimSpace(form), "?~>")
			if form == "" || strings.Contains(form, " ") || form == "okay" || form == "mild" { // an answer; a degree in English
				continue
			}
			m, err := Message(form, v)
			if said, ok := m.(Words); !ok || err != nil || len(said.Words) == 0 {
				t.Errorf("%q of %q is %#v, %v", form, entry.Term, m, err)
			}
			words++
		}
	}
	if words < 1000 {
		t.Errorf("%d words, want 1000", words)
	}
}
