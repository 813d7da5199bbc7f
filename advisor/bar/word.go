package bar

// A Word is one thing a taster said of a cup.
type Word struct {
	Term   string  `json:"term"`           // headword of the lexicon, "sour"
	Degree float64 `json:"degree"`         // how much: 0.5 a bit, 1 plain, 1.5 very, 2 way too; above 0, at most 3
	Not    bool    `json:"not,omitempty"`  // "not sour", "no sweetness"; Degree is where the denial begins: 1.5 "not too sour"
	Than   bool    `json:"than,omitempty"` // compared with the cup before: "less sour", "sweeter"
}
