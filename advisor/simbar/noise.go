package simbar

// maxTasters is how many people taste one shot at most.
const maxTasters = 2

// noise is all the chance of one shot. It is drawn whole and in one order
// whatever is ordered, so that all players meet the same.
type noise struct {
	walk, time, dose, yield, ey, size float64 // standard normal

	// uniform in 0 to 1
	outlier, strongly, channel, misread, misreadBy float64
	forget, tell, patience, spurt, second          float64

	tasters [maxTasters]chatter
}

// chatter is the chance in what one taster says, uniform in 0 to 1.
type chatter struct {
	silent, answer float64
	said           [words]float64
}

// roll draws the noise of the next shot.
func (w *World) roll() noise {
	var n noise
	d := w.state.dice
	for _, x := range []*float64{&n.walk, &n.time, &n.dose, &n.yield, &n.ey, &n.size} {
		*x = d.NormFloat64()
	}
	for _, x := range []*float64{
		&n.outlier, &n.strongly, &n.channel, &n.misread, &n.misreadBy,
		&n.forget, &n.tell, &n.patience, &n.spurt, &n.second,
	} {
		*x = d.Float64()
	}
	for i := range n.tasters {
		c := &n.tasters[i]
		c.silent, c.answer = d.Float64(), d.Float64()
		for k := range c.said {
			c.said[k] = d.Float64()
		}
	}
	return n
}
