package advisor

// How the taste of a cup answers, in taste steps. Sizes are assumed, with the
// directions published: extraction rises with the logarithm of time (2.0 and
// 3.7 points of yield per unit in two coffees: Smrke 2024, Egidi 2024, against
// about 1.1 points for two shots to differ at all) and with the yield (Schmieder
// 2023: 0.96 points from 1:2 to 1:2.5), while strength falls with the yield
// (there 16 %) where a fifth is the difference tasters notice in filter coffee
// (Frost 2019).
const (
	extractionByTime  = 3.0  // steps of extraction for each unit of log time
	extractionByYield = 4.0  // steps of extraction for each unit of log yield
	strengthByYield   = -5.0 // steps of strength for each unit of log yield
	strengthByTime    = 0.5  // steps of strength for each unit of log time
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
