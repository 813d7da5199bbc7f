package taste

import (
	"math"
	"sync"
)

// How words are heard, in taste steps. Assumed; common practice, no source.
const (
	blur      = 0.5  // how softly a word begins
	plainFrom = 0.8  // where a plain word begins
	slip      = 0.04 // how often a word on an axis is a slip of the tongue
	slipped   = 0.3  // what a slip is as likely as
	mild      = 0.25 // how much silence says: of a denial
	within    = 0.9  // what praise says on both axes
	faintLoad = 1.5  // logits a taste step from which a word is plain
	contrary  = 0.03 // how often an even bed is called sour and bitter at once
	torn      = 0.6  // how often an uneven one is
	unevenTo  = 0.4  // how much the words of an uneven bed count for where the cup stands
)

// A hearing is what one taster said of a cup, by axis.
type hearing struct {
	extraction, strength axis
	torn                 bool    // under- and over-extracted at once
	odds                 float64 // of an uneven bed, besides
	disliked             bool    // and nothing said of why
}

// An axis is the likelihood of what was said on one axis, over the taste steps
// from -reachOut to +reachOut.
type axis [axisPoints]chance

// A chance is a likelihood where the bed was even and where it was not.
type chance struct{ even, uneven float64 }

const (
	reachOut   = 6.0
	axisPoints = 121
)

// at returns the likelihood at v, between its points.
func (a *axis) at(v float64) chance {
	x := (min(max(v, -reachOut), reachOut-1e-9) + reachOut) * ((axisPoints - 1) / (2 * reachOut))
	i := int(x)
	from, to, on := a[i], a[i+1], x-float64(i)
	return chance{from.even + on*(to.even-from.even), from.uneven + on*(to.uneven-from.uneven)}
}

// leaning returns where each way to lean by sd takes v: the nodes of a three-point
// Gauss-Hermite quadrature.
func leaning(v, sd float64) [3]float64 {
	const far = 1.7320508075688772 // √3
	return [3]float64{v - sd*far, v, v + sd*far}
}

// likelihoods returns that of what was said of a cup that stands at a place, of a bed
// that runs unevenly with that probability, by leaning.
func (h *hearing) likelihoods(at Place, uneven float64) (q [nodes]float64) {
	es, ss := leaning(at.Extraction, leanE), leaning(at.Strength, leanS)
	var e, s [3]chance
	for n := range 3 {
		e[n], s[n] = h.extraction.at(es[n]), h.strength.at(ss[n])
		e[n].uneven *= h.odds
		if h.torn {
			e[n] = chance{contrary, torn}
		}
	}
	for n := range 3 { // of strength; q has those of extraction first
		for m := range 3 {
			even, odd := e[m].even*s[n].even, e[m].uneven*s[n].uneven
			if h.disliked {
				even *= 1 - 0.85*inside(es[m])*inside(ss[n])
			}
			q[3*n+m] = (1-uneven)*even + uneven*odd
		}
	}
	return q
}

// inside returns how likely a cup at v is called right on its axis.
func inside(v float64) float64 { return phi((within-v)/blur) - phi((-within-v)/blur) }

// hear sorts words by axis: of those that say the same only the strongest counts,
// since they share the cup's noise.
func hear(words []said, odds float64) hearing {
	h := hearing{odds: odds}
	var over, under, strong, weak strongest
	praise, blamed, tasted := 0.0, false, false
	var denials []said
	for _, w := range words {
		tasted = tasted || w.Kind != Flow
		if w.Than && w.Not && w.Degree == 1 { // what was left unsaid has its own part below
			continue
		}
		praise += w.praise()
		switch way := w.way(); {
		case way == (Place{}):
		case w.Not:
			denials = append(denials, w)
		case way.Extraction > 0:
			over.take(w)
		case way.Extraction < 0:
			under.take(w)
		case way.Strength > 0:
			strong.take(w)
		default:
			weak.take(w)
		}
	}
	blamed = over.said || under.said || strong.said || weak.said
	h.torn = over.said && under.said
	h.disliked = praise < -0.3 && !blamed
	quiet := 0.0
	if tasted {
		quiet = mild
	}
	if praise > 0 && !blamed {
		quiet = 0
	}
	h.extraction.fill(under, over, quiet, praise, false, denials)
	h.strength.fill(weak, strong, quiet, praise, true, denials)
	return h
}

// way returns the axis and the side that a word speaks of: none for words of the
// centre.
func (s said) way() Place {
	e, t := math.Abs(s.Extraction), math.Abs(s.Strength)
	switch {
	case s.Centre > 0 || s.Kind == Flow || max(e, t) < 0.35:
		return Place{}
	case e >= t:
		return Place{Extraction: s.Extraction}
	}
	return Place{Strength: s.Strength}
}

// strongest is the word that says most of one side of an axis.
type strongest struct {
	said  bool
	from  float64 // taste steps where it begins
	upTo  float64 // where a stronger word would begin, and how surely it would be taken
	sure  float64
	blur  float64
	share float64 // of the word that counts
}

// take lets w be heard.
func (s *strongest) take(w said) {
	from, upTo, sure := begins(w.Degree)
	from += (w.From - 1) / 2
	load := max(math.Abs(w.Extraction), math.Abs(w.Strength))
	if s.said && from <= s.from {
		return
	}
	*s = strongest{said: true, from: from, upTo: upTo, sure: sure, blur: blur / min(max(load/faintLoad, 0.5), 1), share: w.weight()}
}

// begins returns where a word of that degree begins and where the next stronger
// one would be used in its place, and how surely.
func begins(degree float64) (from, upTo, sure float64) {
	switch {
	case degree < 0.75:
		return 0.5, 1.4, 0.8
	case degree < 1.25:
		return plainFrom, 2.2, 0.5
	case degree < 1.75:
		return 1.5, 0, 0
	}
	return 1.8, 0, 0
}

// at returns how likely the word is at v steps to its own side.
func (s *strongest) at(v float64) float64 {
	p := phi((v - s.from) / s.blur)
	if s.sure > 0 {
		p -= s.sure * phi((v-s.upTo)/blur)
	}
	return math.Pow(max(p, 1e-6), s.share)
}

// silent returns the likelihood on an axis that somebody who tasted said nothing of.
//
//nolint:gochecknoglobals // made once, never changed
var silent = sync.OnceValue(func() *axis {
	a := new(axis)
	a.work(strongest{}, strongest{}, mild, 0, false, nil)
	return a
})

// fill puts in the likelihood on one axis.
func (a *axis) fill(low, high strongest, quiet, praise float64, strength bool, denials []said) {
	if !low.said && !high.said && quiet == mild && !(praise > 0) && len(denials) == 0 {
		*a = *silent()
		return
	}
	a.work(low, high, quiet, praise, strength, denials)
}

// work works it out.
func (a *axis) work(low, high strongest, quiet, praise float64, strength bool, denials []said) {
	both := low.said && high.said
	for i := range a {
		v := -reachOut + 2*reachOut*float64(i)/(axisPoints-1)
		p := 1.0
		switch {
		case both: // says nothing of where
		case low.said:
			p = low.at(-v)
		case high.said:
			p = high.at(v)
		case praise > 0:
			p = math.Pow(inside(v), min(1, praise/plainLiking))
		default:
			p = math.Pow((1-phi((v-plainFrom)/blur))*(1-phi((-v-plainFrom)/blur)), quiet)
		}
		for _, d := range denials {
			way := d.way()
			side := way.Extraction
			if strength {
				side = way.Strength
			}
			if side != 0 {
				from, _, _ := begins(d.Degree)
				p *= math.Pow(1-phi((math.Copysign(v, v*side)-from)/blur), d.weight())
			}
		}
		p = (1-slip)*p + slip*slipped
		a[i] = chance{p, math.Exp(unevenTo * math.Log(p))}
	}
}

// plainLiking is the praise that a word like "balanced" or "sweet" holds.
const plainLiking = 0.5
