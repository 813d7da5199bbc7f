// Package layers is the arithmetic of tasting a coffee cup by cup: one shot or
// pour-over is caught in three cups in order, early, middle and late, and each
// is tasted apart.
//
//	plan.go    where to cut, and how long each cup takes
//	expect.go  what each cup should hold, with ranges (package extraction)
//	hold.go    what each cup held, and whether the three balance
//	family.go  words and scores as families: sour, bitter, dry, sweet, …
//	lean.go    where the shot should end
//	mix.go     cups put together again, and the early one thinned
//	chance.go  how often guessing does as well
//
// # What it shows, and what it does not
//
// Every compound that has been measured falls from the early cup to the late
// one (Schmieder 2023, Foods 12:2871), and in filter coffee most attributes of
// taste fall with it (Batali 2020, J Sci Food Agric, doi 10.1002/jsfa.10323).
// So the cups differ in strength as much as in flavour; that is why the early
// one is thinned to the late one's strength before they are compared. One split
// is noisy: the same three shots scatter by 22 to 37 % of a cut's strength
// (Waszkiewicz, Phys Fluids 38:063113), so a second split is asked for before
// anything is concluded.
//
// # Where the shot should end
//
// The yield moves the share of the late cup, so what counts is how the late cup
// tastes beside the two before it. That early is intense and sour, middle
// sweet, late thin and bitter or roasty, and none of them good alone, is common
// practice, no source: a late cup that is a little worse than the rest is what
// every coffee has, and asks for nothing. Of each taster, with scores from 0 to
// 5,
//
//	flavour = sweet − sour − bitter − dry
//	lean    = flavour(late) − flavour(early and middle, by weight) + usual + tilt
//
// where tilt is half of what the whole shot is too sour by (or too bitter, below 0). A
// lean above 0 asks for a longer shot, below 0 for a shorter one. Strength,
// thin and heavy, has no part in it. All sizes here are assumed; nobody has
// measured them.
package layers
