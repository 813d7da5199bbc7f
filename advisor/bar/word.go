package bar

// A Word is one thing a taster said of a cup.
type Word struct {
	Term   string  // headword of the lexicon, "sour"
	Degree float64 // how much: 0.5 a bit, 1 plain, 1.5 very, 2 way too; above 0, at most 3
	Not    bool    // "not sour", "no sweetness"; Degree is where the denial begins: 1.5 "not too sour"
	Than   bool    // compared with the cup before: "less sour", "sweeter"
}
