package advisor

import (
	"math"
	"slices"

	"shothand/advisor/bar"
)

// When it is asked where a dial stands that was advised to be moved, where nobody
// has said whether it was. Assumed.
const (
	unshown  = 2    // moves that have shown nothing
	noEffect = 0.3  // share of what was expected of them that is as good as nothing
	plainly  = 0.08 // log time that has to have been expected of them, to be missed
)

// unmoved: the last moves of the dial, that nobody has said were done, have shown
// nothing on the clock. Then where it stands has to be known first.
func unmoved(s *situation) (verdict, bool) {
	first, moves := s.assumed()
	if moves < unshown || first == 0 || s.liked() {
		return verdict{}, false
	}
	before, expected := s.pulls[first-1], 0.0
	for i := first; i < len(s.pulls); i++ {
		expected += s.pulls[i].expected - s.pulls[i-1].runs
	}
	way := math.Copysign(1, s.last.grind-before.grind)
	effect := way * (math.Log(s.last.time) - math.Log(before.time))
	nothing := way*expected >= plainly && effect < noEffect*way*expected // false where a time is not known
	return verdict{move: s.again(bar.Repeat)}, nothing
}

// assumed returns the first of today's last shots whose dial nobody has said, and
// between how many of them it was to be moved, all the same way and for cups of the
// same size.
func (s *situation) assumed() (first, moves int) {
	first = len(s.pulls)
	way := 0.0
	for i, p := range slices.Backward(s.pulls) {
		if i == 0 || i < s.opened || !s.unsaid(p) {
			break
		}
		by := p.grind - s.pulls[i-1].grind
		if way*by < 0 || math.Abs(logRatio(s.pulls[i-1].shot.Yield, s.last.shot.Yield.X)) >= sameYield {
			break
		}
		if first = i; by != 0 {
			way, moves = by, moves+1
		}
	}
	return first, moves
}

// unsaid reports whether nobody has said where the dial stood in a shot of today.
func (s *situation) unsaid(p pull) bool {
	grind := p.shot.Grind.From
	return p.Day == s.last.Day && p.shot.Grinder == s.grinder.ID && (grind.Supposed() || grind == bar.None)
}

// stands returns where the dial may stand: as it was said last, and as advised since.
func (s *situation) stands() []bar.Dial {
	first, _ := s.assumed()
	var list []bar.Dial
	for _, p := range s.pulls[first-1:] {
		if x := bar.Dial(s.reading(p.grind)); !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}
