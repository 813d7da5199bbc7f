// Package history returns a bar's history as the model takes it: with the bar's
// own words put for what they mean, for the cup a coffee was last pulled for, its
// times counted from the pump. It changes nothing of what it is given.
package history

import "shothand/advisor/bar"

// Of returns h as it is for a coffee.
func Of(h bar.History, id bar.CoffeeID) bar.History { return FromPump(inCup(Heard(h), id)) }
