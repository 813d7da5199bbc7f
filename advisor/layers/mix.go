package layers

// Water returns how many grams of water thin so many grams of a cup of a
// strength to another, both in %. It is 0 where the cup is no stronger.
func Water(grams, tds, to float64) float64 {
	if !(tds > to && to > 0) {
		return 0
	}
	return grams * (tds/to - 1)
}

// Mix returns how many grams of each cup stand for a shot that is stopped at a
// yield, from what the cups weigh: all of the cups it has whole, a part of the
// one it ends in. It is false for a yield that ends past the cups.
func Mix(masses [Cups]float64, yield float64) ([Cups]float64, bool) {
	var parts [Cups]float64
	left := yield
	for i, m := range masses {
		parts[i] = min(max(left, 0), m)
		left -= m
	}
	const weighing = 0.5 // g, as near as cups are weighed
	return parts, left <= weighing
}
