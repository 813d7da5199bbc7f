package bar

// Steps returns a dial position in steps, + is finer.
func (g Grinder) Steps(d Dial) float64 {
	if !(g.Step > 0) {
		return float64(d)
	}
	if g.Finer == Higher {
		return float64(d) / g.Step
	}
	return -float64(d) / g.Step
}

// At returns the dial position that is at that many steps, + is finer.
func (g Grinder) At(steps float64) Dial {
	if !(g.Step > 0) {
		return Dial(steps)
	}
	if g.Finer == Higher {
		return Dial(steps * g.Step)
	}
	return Dial(-steps * g.Step)
}
