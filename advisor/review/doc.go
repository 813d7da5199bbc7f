// Package review looks back: which changes worked, what a dial-in cost, what
// tastes best, and how good the advice was.
//
// Most shots after a bad one are better, whatever was changed in between. So a
// change is never held against the shot that caused it, but against what was
// believed of the next shot had nothing been changed, which has taken the bad
// shot for what it was: one shot. The difference is the effect:
//
//	effect = time of the shot − time believed had nothing been changed
//
// The mean effect of a kind of change is pulled towards none, by a prior
// N(0, 4 s) or N(0, 1 taste step), and has a 90 % interval of Student's t. That on
// taste is told beyond the mean of the repeated shots, below.
//
// A use of a grind change moved as foretold if the time moved the way and at
// least half as far as the advisor foretold from its belief before the shot;
// a use of anything else if the cup came at least half a taste step, or half of
// the way, nearer to the middle than it was believed to be without. The shots that were simply
// repeated are the control: how often would the scatter of single shots alone
// have looked like that? Uses that moved are binomial, with a prior that says
// what the control says and weighs as much as four uses:
//
//	rate ~ Beta(4c + moved, 4(1−c) + uses − moved),  c = (1 + control moved)/(2 + control)
//
// A kind works here only if P(rate > control's rate) > 0.9, and below five uses
// there are too few to say. That a prior of the bar's rates as a whole would
// call one lucky use a success is why it is the control's.
package review
