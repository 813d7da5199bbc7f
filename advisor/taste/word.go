package taste

import "shothand/advisor/bar"

// A Tasting is what one person said of one shot.
type Tasting struct {
	Taster uint64 // who, 0 if nobody in particular
	Words  []bar.Word
	Whole  bool // all they had to say of the cup: what would have stood out and was left unsaid counts too
}

// A Reading is where a shot stands, in taste steps: 1 is clearly noticeable.
type Reading struct {
	Extraction, ExtractionSD float64 // − under, + over
	Strength, StrengthSD     float64 // − weak, + strong
	Even                     float64 // probability that the bed extracted evenly, 0 to 1
	Praise                   float64 // how much the cup was liked: 0 none, 1 plain praise; below 0 disliked
	Tasted                   bool    // anybody said anything of the taste
	Faults                   []Fault // what no lever mends
	Under, Over              bool    // somebody called it under- or over-extracted, a bit or more
	Weak, Strong             bool    // or weak, or strong
}

// A Fault is something wrong with a cup that no lever of the bar mends.
type Fault int

// The faults.
const (
	Cleaner Fault = iota + 1 // soapy, chemical: do not serve
	Stale                    // papery, rancid, old
	Roast                    // ashy, charred, rubbery, smoky: scorched in the roast
	Raw                      // grassy, peanut, bready: roasted too little
)
