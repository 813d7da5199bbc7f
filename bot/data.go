package bot

import (
	"math"

	"shothand/advisor"
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
}

// expectData is what the next shot should show, in s.
type expectData struct {
	Time  float64 `json:"time_s"`
	Low   float64 `json:"low_s"`
	High  float64 `json:"high_s"`
	Level float64 `json:"level"` // of the interval
}

// data returns the advice as a program reads it.
func (v view) data() adviceData {
	d := adviceData{
		Coffee: v.coffee.Name, Shot: v.Nth, Purge: v.Purge, Sure: round(v.Sure, 3),
		State: stateName(v.State), Reasons: []string{},
		Read: readData{
			Extraction: round(v.Read.Extraction, 2), ExtractionSD: round(v.Read.ExtractionSD, 2),
			Strength: round(v.Read.Strength, 2), StrengthSD: round(v.Read.StrengthSD, 2),
			Even: round(v.Read.Even, 3), Words: v.said(), Unread: append([]string{}, v.shot.Unread...),
		},
		Change: changeData{Lever: leverName(v.Lever)},
	}
	for _, r := range v.Reasons {
		d.Reasons = append(d.Reasons, r.Name)
	}
	if v.Unit != advisor.NoUnit {
		unit, from, to := unitName(v.Unit), round(v.From, 6), round(v.To, 6)
		d.Change.Unit, d.Change.From, d.Change.To = &unit, &from, &to
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

func stateName(s advisor.State) string {
	switch s {
	case advisor.Dialling:
		return "dialling"
	case advisor.DialledIn:
		return "dialled"
	case advisor.Drifting:
		return "drifting"
	}
	return ""
}

func leverName(l advisor.Lever) string {
	switch l {
	case advisor.NoLever:
		return "none"
	case advisor.Grind:
		return "grind"
	case advisor.Yield:
		return "yield"
	case advisor.Time:
		return "time"
	case advisor.Dose:
		return "dose"
	case advisor.Temperature:
		return "temperature"
	case advisor.Prep:
		return "prep"
	case advisor.Repeat:
		return "repeat"
	case advisor.Keep:
		return "keep"
	}
	return ""
}

func unitName(u advisor.Unit) string {
	switch u {
	case advisor.NoUnit:
		return ""
	case advisor.DialUnit:
		return "dial"
	case advisor.GramUnit:
		return "g"
	case advisor.SecondUnit:
		return "s"
	case advisor.CelsiusUnit:
		return "C"
	case advisor.StepUnit:
		return "steps"
	}
	return ""
}
