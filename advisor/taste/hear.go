package taste

import "math"

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
	blurred              [2]axis // the same where the bed was uneven
	torn                 bool    // under- and over-extracted at once
	odds                 float64 // of an uneven bed, besides
	disliked             bool    // and nothing said of why
}

// An axis is the likelihood of what was said on one axis, over the taste steps
// from -reachOut to +reachOut.
type axis [axisPoints]float64

const (
	reachOut   = 6.0
	axisPoints = 121
)

// at returns the likelihood at v, between its points.
func (a *axis) at(v float64) float64 {
	x := (min(max(v, -reachOut), reachOut-1e-9) + reachOut) / (2 * reachOut) * (axisPoints - 1)
	i := int(x)
	return a[i] + (x-float64(i))*(a[i+1]-a[i])
}

// likelihood returns that of what was said of a cup at (e, s), of a bed that runs
// unevenly with that probability.
func (h *hearing) likelihood(e, s, uneven float64) float64 {
	pe, ps := h.extraction.at(e), h.strength.at(s)
	even, odd := pe*ps, h.odds*h.blurred[0].at(e)*h.blurred[1].at(s)
	if h.torn {
		even, odd = ps*contrary, torn*h.blurred[1].at(s)
	}
	if h.disliked {
		even *= 1 - 0.85*inside(e)*inside(s)
	}
	return (1-uneven)*even + uneven*odd
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
	for i := range axisPoints {
		h.blurred[0][i], h.blurred[1][i] = math.Pow(h.extraction[i], unevenTo), math.Pow(h.strength[i], unevenTo)
	}
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

// fill works out the likelihood on one axis.
func (a *axis) fill(low, high strongest, quiet, praise float64, strength bool, denials []said) {
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
		a[i] = (1-slip)*p + slip*slipped
	}
}

// plainLiking is the praise that a word like "balanced" or "sweet" holds.
const plainLiking = 0.5
