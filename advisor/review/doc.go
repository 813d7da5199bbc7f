// Package review looks back: which changes worked, what mornings cost, what gives
// trouble, what tastes best, and how good the advice was.
//
// Most cups after a bad one are better, whatever was changed in between. So a
// change is never held against the cup that caused it alone. What it did is what
// it adds to the cup that was to be expected, and what that is the repeated shots
// teach: those that nothing was changed before. For each shot that came within
// the day of another, with one thing changed or nothing,
//
//	right = expected + any change + its kind + its kind with this coffee, grinder and week + noise
//	expected = a level of the bar, coffee, grinder and week
//	         + was the cup before right, or a bit off, or off by the clock as well
//	         + how far the setting had been right that day + had the coffee been called dialled in that day
//
// where right is 1 for a cup that nothing was said against, 0 for one that was
// plainly off, in between for one that was a bit off; the clock says it where
// nobody tasted, and then what the advisor believed of it counts too. Each group of
// terms is normal around 0, how wide being unknown: so few uses are drawn to what
// all kinds of change do, and many speak for themselves. The posterior is exact on
// a grid of the widths.
//
// A cup that is off by taste alone often comes of itself; one that is off by the
// clock as well mostly comes of where the dial stands, and the next is like it. A
// lever that is pulled after such cups, as care of the puck after a morning's
// first shot, would else be blamed for what it was called for.
//
// At a setting that had been right that day there is little to mend, and a change
// then counts in that part; after a cup that was only a bit off a kind may do
// something else than after one that was plainly off; a change after a cup that
// was right is left out. What is told is what the uses of a kind did together, and
// one does more than another: of few uses the interval is wider by that.
//
// A kind helps if it is 9 in 10 sure that more cups are right after it than
// would have been, it harms if it is 98 in 100 sure of fewer, it does nothing that
// can be seen if the interval, of 9 in 10, lies within two cups of ten. All else is
// open, and how many more uses would settle it follows from the interval.
package review
