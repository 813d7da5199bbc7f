package extraction

import (
	"fmt"
)

// What an extraction yield can be, in percent. Hours of stirring dissolve 28 to
// 32 % (Moroney 2015, Chem Eng Sci 137:216).
const (
	QueryYield = 25 // above this, ask whether the numbers are right
	BadYield   = 30 // above this, one of them is wrong
)

// Yield returns the extraction yield in percent of a beverage of so many grams
// and percent of TDS from a dose in grams. It does not judge the result:
// [QueryYield], [BadYield].
func Yield(tds, beverage, dose float64) (float64, error) {
	if err := checkCup(tds, beverage, dose); err != nil {
		return 0, err
	}
	return tds * beverage / dose, nil
}

// checkCup returns an error unless a beverage of so many grams and percent of
// TDS can have come from a dose in grams.
func checkCup(tds, beverage, dose float64) error {
	if !(0 < tds && tds < 100) {
		return fmt.Errorf("%w: TDS %g %%", ErrImplausible, tds)
	}
	if !(0 < beverage && beverage <= maxMass) {
		return fmt.Errorf("%w: beverage %g g", ErrImplausible, beverage)
	}
	if !(0.1 <= dose && dose <= maxMass) {
		return fmt.Errorf("%w: dose %g g", ErrImplausible, dose)
	}
	return nil
}

// maxMass is more than anybody weighs here, in grams.
const maxMass = 1e5

// DripKept is the water that a filter's grounds keep, in g for each g of dose
// (Guinard 2023, J Food Sci 88:2168).
const DripKept = 2.1
