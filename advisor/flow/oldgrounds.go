package flow

import "math"

// OldGrounds is what a grinder holds of earlier grinding: for each retention of
// the grid, the effective grind of the last dose in steps, + is finer. The
// zero OldGrounds has ground nothing.
type OldGrounds struct {
	used bool
	eff  [retentions]float64
}

// An Effective is the effective grind of one dose, one for each retention.
type Effective [retentions]float64

// Grind returns the effective grind of a dose ground at set, and the old grounds
// after it. Kept is how much of the old grounds is still there to be mixed in:
// 1 after a change, less after a purge or shots nobody posted, 0 for none.
func (c OldGrounds) Grind(set float64, kept Kept) (Effective, OldGrounds) {
	var e Effective
	for i := range e {
		e[i] = set
		if c.used {
			share := retentionAt(i) * kept[i]
			e[i] = (1-share)*set + share*c.eff[i]
		}
	}
	return e, OldGrounds{used: true, eff: e}
}

// Kept is the part of the old grounds that is still there, one for each
// retention.
type Kept [retentions]float64

// AllKept is a grinder that ground nothing since the last dose.
func AllKept() Kept { return Kept{1, 1, 1, 1, 1} }

// PurgedBy returns what purge grams leave, for doses of dose grams: exp(-P/R),
// R the hold-up that each retention stands for.
func PurgedBy(purge, dose float64) Kept {
	var k Kept
	for i := range k {
		if held := hold(retentionAt(i), dose); held > 0 {
			k[i] = math.Exp(-purge / held)
		}
	}
	return k
}
