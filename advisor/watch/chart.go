// Package watch tells whether a series of shots at one setting has moved.
//
// A shot's time is judged against what was believed of it before it came, in
// sds of that belief. The errors go into a cumulative sum on each side of
// zero: Page's, as in the NIST/SEMATECH e-Handbook, 6.3.2.3. The belief is of a
// mean that starts from what the dialling-in taught and is learnt as the series
// goes on (Hawkins 1987), so that the few shots before are not taken for the
// truth: a chart around a mean that was frozen after three shots raises a false
// alarm on most days.
package watch

// An EWMA is an exponentially weighted moving average: each value counts for
// Lambda of it, and what was before for the rest (NIST/SEMATECH e-Handbook,
// 6.3.2.4).
type EWMA struct {
	Lambda float64
	Mean   float64
}

// Add takes in a value.
func (e *EWMA) Add(x float64) { e.Mean += e.Lambda * (x - e.Mean) }

// A CUSUM is a cumulative sum on either side of zero: what exceeds Slack is
// summed until it exceeds Height. Both are in the unit of the values.
type CUSUM struct {
	Slack, Height float64
	High, Low     float64 // the sums, neither negative
}

// Add takes in a value and returns 1 if the values have moved up, -1 if they
// have moved down, and 0 if neither can be said.
func (c *CUSUM) Add(x float64) int {
	c.High = max(0, c.High+x-c.Slack)
	c.Low = max(0, c.Low-x-c.Slack)
	switch {
	case c.High > c.Height && c.High >= c.Low:
		return 1
	case c.Low > c.Height:
		return -1
	}
	return 0
}
