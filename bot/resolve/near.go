package resolve

// How far from what was noted a number without unit or label still passes for
// the same one put right, as a logarithm; and for a dial, in steps. Assumed.
const (
	NearDose  = 0.15
	NearYield = 0.3
	NearTime  = 0.4
	NearSteps = 20

	// FarMove is how many steps a dial is moved at the most in one go. Assumed.
	FarMove = 10

	NearNothing = 0.8
)
