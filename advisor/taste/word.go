package taste

// A Word is one thing a taster said of a cup.
type Word struct {
	Term   string  // headword of the lexicon, "sour"
	Degree float64 // how much: 0.5 a bit, 1 plain, 1.5 very, 2 way too; above 0, at most 3
	Not    bool    // "not sour", "no sweetness"; Degree is where the denial begins: 1.5 "not too sour"
	Than   bool    // compared with the cup before: "less sour", "sweeter"
}

// A Tasting is what one person said of one shot.
type Tasting struct {
	Taster uint64 // who, 0 if nobody in particular
	Words  []Word
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
