package watch

import "math"

// Sizes of the chart. With them one series in 1,000 shots is said to have moved
// that has not, if shots are as noisy as was believed (computed by the method of
// Brook and Evans 1972), and a move by one sd is found after some 12.
const (
	slack  = 0.5
	height = 5.76
	clip   = 2.5 // sds that a single shot can count for: one that channelled raises no alarm
	// A series that has moved is back when the average of its last few errors
	// is within half an sd of where it was. Assumed, tried on simulated days.
	backLambda = 0.3
	backWithin = 0.5
)

// A Series is the logarithms of times at one setting, as they come. It is a
// plain value: a copy shares nothing with it.
type Series struct {
	mean, variance float64 // of what is believed of their mean
	chart          CUSUM
	up, down       run
	way            int // 1 or -1 while it has moved, else 0
	back           EWMA
	moves          int
}

// A run is the shots since one of the sums was last zero: if the series has
// moved, it is likeliest to have moved with the first of them.
type run struct {
	shots int
	sum   float64
	first int     // the number of the first
	base  float64 // what was believed of the mean before it
}

// Begin returns a series of whose mean something is known, with the variance of
// that.
func Begin(mean, variance float64) Series {
	return Series{mean: mean, variance: variance, chart: CUSUM{Slack: slack, Height: height}, back: EWMA{Lambda: backLambda}}
}

// Add takes in the nth shot: the logarithm of its time and the variance of a
// single one.
func (s *Series) Add(n int, x, noise float64) {
	if !(noise > 0) || math.IsNaN(x) || math.IsInf(x, 0) {
		return
	}
	if s.way != 0 {
		s.follow(x, noise)
		return
	}
	spread := s.variance + noise
	z := min(max((x-s.mean)/math.Sqrt(spread), -clip), clip)
	before := s.mean
	s.way = s.chart.Add(z)
	s.up.add(s.chart.High, n, x, before)
	s.down.add(s.chart.Low, n, x, before)
	gain := s.variance / spread
	s.mean += gain * z * math.Sqrt(spread)
	s.variance *= 1 - gain
	if s.way != 0 {
		s.moves++
		s.back.Mean = float64(s.way) * clip
	}
}

// add takes a shot into a run, or ends it.
func (r *run) add(sum float64, n int, x, before float64) {
	if !(sum > 0) {
		*r = run{}
		return
	}
	if r.shots == 0 {
		r.first, r.base = n, before
	}
	r.shots++
	r.sum += x
}

// follow takes in a shot of a series that has moved, until it is back.
func (s *Series) follow(x, noise float64) {
	r := s.run()
	s.back.Add(min(max((x-r.base)/math.Sqrt(noise), -clip), clip))
	if math.Abs(s.back.Mean) < backWithin {
		moves := s.moves
		*s = Begin(r.base, s.variance)
		s.moves = moves
		return
	}
	r.shots++
	r.sum += x
}

// run returns the run of the way it has moved.
func (s *Series) run() *run {
	if s.way < 0 {
		return &s.down
	}
	return &s.up
}

// A Move is that a series has moved.
type Move struct {
	Way      int     // 1: slower, -1: faster
	First    int     // the number of the shot with which it is likeliest to have begun
	From, To float64 // logarithms of the times before and since
	Nth      int     // which move of the series it is, from 1
}

// Moved returns the move that lasts, or false if there is none.
func (s *Series) Moved() (Move, bool) {
	if s.way == 0 {
		return Move{}, false
	}
	r := s.run()
	return Move{Way: s.way, First: r.first, From: r.base, To: r.sum / float64(r.shots), Nth: s.moves}, true
}

// Leans returns the way the series has moved or is half on its way to be said
// to, else 0.
func (s *Series) Leans() int {
	switch {
	case s.way != 0:
		return s.way
	case s.chart.High > height/2 && s.chart.High > s.chart.Low:
		return 1
	case s.chart.Low > height/2:
		return -1
	}
	return 0
}
