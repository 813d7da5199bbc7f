package parse

import (
	"slices"

	"shothand/advisor/bar"
)

// What was as in the shot before.

// same takes "same": dose and yield as in the last shot.
func same(s *sheet, i int) int {
	if slices.Contains(asBefore(), s.lows(i, 2)) && s.count()+s.labels > 0 { // nothing that was advised was done
		s.shot.Same = true
		s.shot.Marks |= bar.Stuck
		return 2
	}
	if s.at(i).is("again") && s.count() == 1 && s.items[0].to == i && aShot(s.items[0].vals[0]) { // "27 again, a little dry"
		s.shot.Same = true
		return 1
	}
	if n := s.alike(i); n > 0 {
		s.shot.Same = true
		return s.skip(i+n, "thing", "again", "recipe", "settings", "setup", "dose", "numbers", "weights", "as", "the", "before", "last", "one", "shot", "just", "only", "but", ",", "nur", "ma", "aber", "mais", "pero", "mas") - i
	}
	return 0
}

// alike returns how many tokens from i on say "the same".
func (s *sheet) alike(i int) int {
	if s.at(i).is("same", "ditto", "uguale", "igual") && (i == 0 || s.at(i).is("same", "ditto")) {
		return 1
	}
	if i == 0 && slices.Contains(sameAgain(), s.lows(0, 2)) {
		return 2
	}
	for _, words := range []string{"lo stesso", "lo mismo", "o mesmo", "la même", "das gleiche", "das selbe"} {
		if i == 0 && s.lows(0, 2) == words {
			return 2
		}
	}
	return 0
}

// asBefore are the two words that say that nothing was changed for a shot.
func asBefore() []string {
	return []string{"as before", "like before", "wie vorher", "wie zuvor", "come prima", "como antes", "comme avant"}
}

// sameAgain are the two words that by themselves say that a shot was as the last.
func sameAgain() []string {
	return []string{
		"same again", "ancora uguale", "otra igual", "outra igual", "nochmal gleich", "wieder gleich", "encore pareil",
		"encore pareille",
	}
}
