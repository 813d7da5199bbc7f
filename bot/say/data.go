package say

import (
	"math"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// adviceData is an advice as a program reads it. The keys are a promise: add,
// never rename.
type adviceData struct {
	Coffee  string      `json:"coffee"`
	Shot    int         `json:"shot"` // of this coffee today, from 1
	Read    readData    `json:"read"`
	Change  changeData  `json:"change"`
	Purge   bool        `json:"purge"`
	Expect  *expectData `json:"expect"` // null where nothing can be expected
	Sure    float64     `json:"sure"`   // probability that the setting just used is right
	State   string      `json:"state"`
	Reasons []string    `json:"reasons"`
}

// readData is where the shot stands, in taste steps.
type readData struct {
	Extraction   float64  `json:"extraction"`
	ExtractionSD float64  `json:"extraction_sd"`
	Strength     float64  `json:"strength"`
	StrengthSD   float64  `json:"strength_sd"`
	Even         float64  `json:"even"`
	Words        []string `json:"words"`
	Unread       []string `json:"unread"`
}

// changeData is the one change. From and To are null where there is none.
type changeData struct {
	Lever string   `json:"lever"`
	From  *float64 `json:"from"`
	To    *float64 `json:"to"`
	Unit  *string  `json:"unit"`
	// As the grinder's people write them, on a dial whose positions are no
	// plain numbers.
	FromText string `json:"from_text,omitempty"`
	ToText   string `json:"to_text,omitempty"`
}

// expectData is what the next shot should show, in s.
type expectData struct {
	Time  float64 `json:"time_s"`
	Low   float64 `json:"low_s"`
	High  float64 `json:"high_s"`
	Level float64 `json:"level"` // of the interval
}

// Data returns the advice as a program reads it.
func (v Advice) Data() adviceData {
	d := adviceData{
		Coffee: v.coffee.Name, Shot: v.Nth, Purge: v.Purge, Sure: round(v.Sure, 3),
		State: v.State.String(), Reasons: []string{},
		Read: readData{
			Extraction: round(v.Read.Extraction, 2), ExtractionSD: round(v.Read.ExtractionSD, 2),
			Strength: round(v.Read.Strength, 2), StrengthSD: round(v.Read.StrengthSD, 2),
			Even: round(v.Read.Even, 3), Words: v.said(), Unread: append([]string{}, v.shot.Unread...),
		},
		Change: changeData{Lever: v.Lever.String()},
	}
	for _, r := range v.Reasons {
		d.Reasons = append(d.Reasons, r.String())
	}
	if v.Unit != advisor.NoUnit {
		unit, from, to := v.Unit.String(), round(v.From, 6), round(v.To, 6)
		d.Change.Unit, d.Change.From, d.Change.To = &unit, &from, &to
	}
	if v.Unit == advisor.DialUnit && parse.Odd(v.grinder) {
		d.Change.FromText, d.Change.ToText = parse.Write(v.grinder, bar.Dial(v.From)), parse.Write(v.grinder, bar.Dial(v.To))
	}
	if v.Expect.Time > 0 {
		d.Expect = &expectData{
			Time: round(float64(v.Expect.Time), 1), Low: round(float64(v.Expect.Low), 1),
			High: round(float64(v.Expect.High), 1), Level: v.Expect.Level,
		}
	}
	return d
}

// round rounds x to a number of decimals.
func round(x float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(x*p)/p + 0 // + 0 takes the sign off a zero
}
