// Package advisor takes a bar's history and says what to change next: shots in,
// advice out. It knows no clock, no disk and no dice.
//
// # From shots to advice
//
//	replay.go    the entries of a coffee, in order, into what is believed now
//	pull.go      one shot of them: through the grinder, the clock and the tasters
//	aim.go       where this coffee tastes best, and what is right
//	response.go  how a change of grind, yield or dose moves the taste
//	choose.go    every reachable move, weighed
//	rules.go     the ordered list of rules that bound the model and give reasons
//	advise.go    all of it together
//	memory.go    replays that are kept from one shot to the next
//
// Beneath, package flow predicts times, package extraction says what is in a
// cup, and package taste reads words.
//
// # What is right
//
// A setting is right when the next steady shot there runs within the window at
// the recipe's yield, and tastes within one taste step of the coffee's sweet
// spot in extraction and in strength. The window is the starting belief about
// that spot, not the truth: a coffee is seen in two ways at once, with a recipe
// that is right, give or take, or with one whose window is not where it tastes
// best and binds nobody. Words on cups weigh the two.
//
//	right(move) = P(recipe is right) · P(time in window) · P(tastes right)
//	            + P(it is not) · P(tastes right)
//	score(move) = right(move) - 3·P(time > 60 s)
//
// A choke costs a machine's pressure, a puck and a minute, a fast shot only the
// shot; hence the last term, and a bound on what a move may risk. The first
// move on a grinder that has shown nothing of its steps is bounded as if they
// were as steep as steps come.
//
// At the setting just used, cups that were liked also say that the time is
// right: how much they do, and all sizes in the model of taste, are assumed and
// held to simulated bars (package simbar), never measured.
package advisor
