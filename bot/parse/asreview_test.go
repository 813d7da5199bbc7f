package parse

import (
	"testing"

	"shothand/advisor/bar"
)

// A review is asked for as one says it, and other talk of a review is left alone.
func TestReviewAsTyped(t *testing.T) {
	v := Vocab{Coffees: []Name[bar.CoffeeID]{{"Harbour", 1}, {"Night Owl", 2}}}
	for said, want := range map[string]string{
		"review": "review", "review last quarter": "review last quarter", "Review march?": "review march", "review since new year": "review since new year",
		"review Harbour against Night Owl": "review Harbour against Night Owl", "review harbour last week": "review harbour last week",
		"review bars": "review bars", "review grinder": "review grinder", "review letzte Woche": "review letzte Woche", "review harbour this bag": "review harbour this bag",
		"which changes worked?": "review", "What did mornings cost?": "review", "what gives trouble?": "review", "Qué da problemas?": "review",
		"review the plan with jo": "", "review harbour with jo": "", "reviews are good": "", "I will review last week": "", "review march with jo": "",
	} {
		if got := bareCommand(said, v); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}
