package extraction_test

import (
	"fmt"

	"shothand/advisor/extraction"
)

// A double caught in three cups by weight.
func ExampleCurve_Cup() {
	c, err := extraction.Default().Pour(extraction.Brew{Dose: 18, Yield: 36, Time: 28})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, from := range []float64{0, 12, 24} {
		cup := c.Cup(from, from+12)
		fmt.Printf("%2.0f to %2.0f g: %4.1f %% TDS, %.0f %% of the solids\n",
			from, from+12, cup.TDS, 100*cup.Solids/c.Whole().Solids)
	}
	// Output:
	//  0 to 12 g: 17.4 % TDS, 60 % of the solids
	// 12 to 24 g:  7.9 % TDS, 27 % of the solids
	// 24 to 36 g:  3.5 % TDS, 12 % of the solids
}

// What a slower shot would do to the cup.
func ExampleParams_Slopes() {
	s, err := extraction.Default().Slopes(extraction.Brew{Dose: 18, Yield: 36, Time: 28})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("EY %.1f %%, and %+.2f points for a tenth more time\n", s.Cup.EY, s.Cup.EY*s.EY.Time*0.0953)
	// Output:
	// EY 19.2 %, and +0.21 points for a tenth more time
}
