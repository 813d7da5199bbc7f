package advisor

// How the taste of a cup answers, in taste steps. A step of extraction is taken
// as 1.1 points of yield, what two single shots must differ by (from the scatter
// of 0.41 points in Smrke 2024), and a step of strength as a fifth of it, the
// difference tasters notice in filter coffee (Frost 2019); that both carry over
// is assumed. Then, at 1:2 in 28 s:
const (
	// Extraction rises by 2.0 to 3.7 points for each unit of log time (Smrke
	// 2024, Egidi 2024).
	extractionByTime = 2.6
	// From 1:2 to 1:2.5 extraction rises by 0.96 points and strength falls by
	// 16 % (Schmieder 2023).
	extractionByYield = 4.2
	strengthByYield   = -4.2
	// What extraction gains strength gains too.
	strengthByTime = 0.8
)

// A spot is where a cup stands: the logarithms of its time at the recipe's dose
// and yield, and of its yield, both against the recipe's.
type spot struct{ time, yield float64 }

// extraction returns how far s lies from the recipe in extraction.
func (s spot) extraction() float64 {
	return extractionByTime*s.time + extractionByYield*s.yield
}

// strength returns how far s lies from the recipe in strength.
func (s spot) strength() float64 {
	return strengthByTime*s.time + strengthByYield*s.yield
}
