package parse

import (
	"testing"

	"shothand/advisor/bar"
)

func TestSpanOf(t *testing.T) {
	const today = bar.Day("2026-03-11") // a Wednesday
	for _, test := range []struct {
		said     string
		from, to bar.Day
	}{
		{"today", "2026-03-11", "2026-03-11"},
		{"Yesterday", "2026-03-10", "2026-03-10"},
		{"this week", "2026-03-09", "2026-03-11"},
		{"last week", "2026-03-02", "2026-03-08"},
		{"last  month", "2026-02-01", "2026-02-28"},
		{"since last week", "2026-03-02", "2026-03-11"},
		{"last 10 days", "2026-03-02", "2026-03-11"},
		{"10 days", "2026-03-02", "2026-03-11"},
		{"last 2 weeks", "2026-02-26", "2026-03-11"},
		{"since 1 March", "2026-03-01", "2026-03-11"},
		{"since march 1", "2026-03-01", "2026-03-11"},
		{"since 12 March", "2025-03-12", "2026-03-11"},
		{"since 2026-02-20", "2026-02-20", "2026-03-11"},
		{"since Monday", "2026-03-09", "2026-03-11"},
		{"since wed", "2026-03-11", "2026-03-11"},
		{"1 march", "2026-03-01", "2026-03-01"},
		{"February", "2026-02-01", "2026-02-28"},
		{"since february", "2026-02-01", "2026-03-11"},
		{"since the beginning", ever, "2026-03-11"},
		{"all", ever, "2026-03-11"},
		{"last quarter", "2025-10-01", "2025-12-31"},
		{"this quarter", "2026-01-01", "2026-03-11"},
		{"Q4", "2025-10-01", "2025-12-31"},
		{"q1", "2026-01-01", "2026-03-11"},
		{"since new year", "2026-01-01", "2026-03-11"},
		{"since New Year's", "2026-01-01", "2026-03-11"},
		{"last year", "2025-01-01", "2025-12-31"},
		{"last weekend", "2026-03-07", "2026-03-08"},
		{"in february", "2026-02-01", "2026-02-28"},
		{"december 2024", "2024-12-01", "2024-12-31"},
		{"last december", "2025-12-01", "2025-12-31"},
		{"1 to 10 march", "2026-03-01", "2026-03-10"},
		{"1–10 march", "2026-03-01", "2026-03-10"},
		{"from 20 february to 3 march", "2026-02-20", "2026-03-03"},
		{"january to march", "2026-01-01", "2026-03-11"},
		{"from 20 february to today", "2026-02-20", "2026-03-11"},
	} {
		got, err := SpanOf(test.said, today)
		if err != nil || got != (Span{test.from, test.to}) {
			t.Errorf("%q is %v, %v, want %s to %s", test.said, got, err, test.from, test.to)
		}
	}
	for _, said := range []string{"", "soon", "last", "last 0 days", "since tomorrow", "since 2027-01-01", "99999 days", "since 31 February", "10 to 1 march", "to march", "q5"} {
		if got, err := SpanOf(said, today); err == nil {
			t.Errorf("%q is %v", said, got)
		}
	}
}
