// Package advisor takes a bar's history and says what to change next: shots in,
// advice out. It knows no clock, no disk and no dice.
//
// # From shots to advice
//
//	replay.go    the entries of a coffee, in order, into what is believed now
//	pull.go      one shot of them: through the grinder, the clock and the tasters
//	aim.go       where this coffee tastes best, and what is right
//	response.go  how a change of grind, yield or dose moves the taste
//	moves.go     every reachable move, its size and what it comes to
//	dial.go      what the dial can be set to, and what it shows
//	unpurged.go  shots that say little, for what else was in the grinder
//	unjudged.go  what comes before any choice: slips, faults, chokes, unread cups
//	situation.go what these look at
//	decide.go    keep, one more, or move: one loss and what it weighs
//	guards.go    which moves may be made at all
//	dialunsure.go when to ask where the dial stands
//	clocked.go   where it stood, by the clock, if nobody has said
//	chances.go   how likely a cup is right, by its time, to be drawn
//	advise.go    all of it together
//	team.go      how the tasters lean, by the cups of other coffees
//	memory.go    replays that are kept from one shot to the next
//
// Beneath, package history puts the entries as they are taken, package flow
// predicts times, package extraction says what is in a cup, and package taste
// reads words.
//
// # What is right
//
// A cup is right when it is within one taste step of this coffee's best in
// extraction and in strength, and its bed held. Where the best lies, how much
// extraction answers to time, and from which time on the bed channels are not
// known: package taste weighs some hundreds of ways a coffee may be by all that
// was said of its cups, over the leanings of who said it. That gives a curve, how
// likely a cup of each time is right; the probability that a setting is right is
// that curve over what package flow believes of its time. The window is the
// starting belief about the best time, not the truth.
//
// # What is done
//
// A wrong keep costs some shots, a next shot one and what is still to come if it
// is not right, and a choke more:
//
//	keep  wrongKeep · (1 - P(right here))
//	move  1 + goOn · (1 - P(right there) + chokeCost · P(time > 60 s))
//
// The least is done. Guards in guards.go bound the moves; they never choose. The
// first move on a grinder that has shown nothing of its steps is bounded both
// ways, as if they were steep.
//
// All sizes in the belief and in the loss are assumed and held to simulated bars
// (package simbar), never measured.
package advisor
