package lookback

import (
	"testing"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/chart"
	"shothand/bot/say/past"
)

// A dial that nobody had read when a shot was pulled is not drawn as 0.
func TestNoDialIsDrawnThatNobodyHasSaid(t *testing.T) {
	at := time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC)
	step := func(minute int, grind bar.Value[bar.Dial]) advisor.TrailShot {
		e := bar.Entry{At: at.Add(time.Duration(minute) * time.Minute), Day: "2026-03-02"}
		s := bar.Shot{Grinder: 1, Coffee: 1, Grind: grind}
		e.What = s
		return advisor.TrailShot{Entry: e, Shot: s}
	}
	c := review.Course{
		Coffee: bar.Coffee{ID: 1, Name: "Harbour", Recipe: bar.House()}, Grinder: bar.Grinder{ID: 1, Step: 0.1, Finer: bar.Lower},
		Trail: advisor.Trail{Steps: []advisor.TrailShot{
			step(0, bar.Value[bar.Dial]{From: bar.Last}),
			step(3, bar.Value[bar.Dial]{X: 5.2, From: bar.Said}),
			step(6, bar.Value[bar.Dial]{X: 5.2, From: bar.Last}),
		}},
	}
	p, ok := dialInPicture(past.Lang{}, c, nil, review.Span{From: "2026-03-01", To: "2026-03-03"})
	if !ok {
		t.Fatal("no picture")
	}
	var names []string
	for _, s := range p.Picture.(chart.DialIn).Shots {
		names = append(names, s.Name)
	}
	if len(names) != 3 || names[0] == "0" || names[1] != "5.2" || names[2] != "5.2" {
		t.Errorf("the shots are called %q", names)
	}
}
