// Package advisor takes a bar's history and says what to change next: shots in,
// advice out. It knows no clock, no disk and no dice.
//
// # From shots to advice
//
//	replay.go    the entries of a coffee, in order, into what is believed now
//	aim.go       where this coffee tastes best, from the words of its tasters
//	response.go  how a change of grind or yield moves the taste
//	choose.go    every reachable move, weighed
//	rules.go     the ordered list of rules that bound the model and give reasons
//	advise.go    all of it together
//
// Package flow, beneath, predicts times; package taste reads words.
//
// # What is right
//
// A setting is right when the next steady shot there runs within the window at
// the recipe's dose and yield, and tastes within one taste step of the coffee's
// sweet spot in extraction and in strength. The window is the starting belief
// about that spot: firm where the bar typed it, soft where nobody did.
//
//	right(move) = P(time in window) · P(|extraction| < 1) · P(|strength| < 1)
//	score(move) = right(move) - 3·P(time > 60 s)
//
// A choke costs a machine's pressure, a puck and a minute, a fast shot only the
// shot; hence the second term, and a bound on what a move may risk.
package advisor
