package turn

import (
	"strconv"
	"strings"

	"shothand/advisor/bar"
)

// What a button's state begins with.
const (
	PressDid     = "did"     // the advice was done
	PressStill   = "still"   // it was not: the grinder is where it was
	PressDialled = "dialled" // the coffee is dialled in
	PressUncall  = "uncall"  // it is not, after all
	PressTaste   = "taste"   // how the shot tasted
	PressCoffee  = "coffee"  // which coffee a held message is about
	PressAdd     = "add"     // that its coffee is to be put on the bar
	PressNear    = "near"    // that it is about the one whose name is nearly so
	PressOrder   = "order"   // which order its numbers stand in
	PressFar     = "far"     // which number a far one is
	PressShot    = "shot"    // whether it is a shot: shotYes or shotNo
	PressPut     = "put"     // one number of a shot is another
	PressBy      = "by"      // whose words it was
	PressThat    = "that"    // of which of two coffees a shot is
	PressWas     = "was"     // a shot is as it was before a correction
	PressFiner   = "finer"   // which way the shot's dial goes
)

// PressState returns the state of a button about an entry.
func PressState(verb string, e bar.EntryID, args ...string) string {
	return strings.Join(append([]string{verb, IDText(e)}, args...), ":")
}

// ReadPress takes a state apart again.
func ReadPress(state string) (verb string, e bar.EntryID, arg string, ok bool) {
	verb, rest, ok := strings.Cut(state, ":")
	if !ok {
		return "", 0, "", false
	}
	number, arg, _ := strings.Cut(rest, ":")
	id, err := strconv.ParseUint(number, 10, 64)
	return verb, bar.EntryID(id), arg, err == nil
}

// MaxButtons is how many buttons stand under a post at most.
const MaxButtons = 5

// IDText writes an id.
func IDText[T ~uint64](id T) string { return strconv.FormatUint(uint64(id), 10) }

// Presses about a dial that was set between shots.
const (
	PressUnset = "unset" // it was not
	PressOf    = "of"    // it was the last shot's
	PressOn    = "on"    // which grinder it was
	PressTo    = "to"    // where it stands now
)
