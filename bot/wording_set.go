package bot

import (
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/parse"
)

// Labels of buttons: that a dial was the last shot's, and that it was not moved.
const (
	ofShotLabel = "the last shot was"
	noLabel     = "no"
)

// setText says where a dial was put.
func setText(g bar.Grinder, w bar.Told, from bar.Dial, known, left bool) string {
	at := func(x bar.Dial) string { return parse.Write(g, x) }
	switch {
	case left && !known:
		return g.Name + " stays as it was."
	case left:
		return g.Name + " stays " + dial(g, w.Dial.X) + ". The next shot has it."
	case w.Dial.From == bar.None:
		return g.Name + ": " + turned(w.Turned) + " than at the last shot. The next shot has it."
	case !(g.Step > 0):
		return g.Name + ": " + dial(g, w.Dial.X) + ". The next shot has it."
	case !known:
		return g.Name + " " + dial(g, w.Dial.X) + ". The next shot has it."
	}
	return g.Name + ": " + at(from) + " → " + at(w.Dial.X) + ". The next shot has it."
}

// turned says how far a dial was turned.
func turned(by float64) string {
	if by < 0 {
		return steps(-by) + " coarser"
	}
	return steps(by) + " finer"
}

// whichSetQuestion asks which grinder was set.
func whichSetQuestion(grinders []bar.Grinder) string {
	return "Which grinder? There is " + list(grinderNames(grinders)) + ". Nothing was noted yet."
}

// farSetQuestion asks whether a dial was put so far from where it stood.
func farSetQuestion(g bar.Grinder, from, to bar.Dial) string {
	return g.Name + " stood at " + parse.Write(g, from) + ": is it at " + parse.Write(g, to) + " now? Nothing was noted yet."
}

// stoodText says where a coffee last stood on its grinder, or nothing.
func stoodText(c bar.Coffee, g bar.Grinder, s bar.Shot) string {
	if s.Grinder != g.ID || s.Grind.From == bar.None || !(g.Step > 0) {
		return ""
	}
	return " " + c.Name + " last stood " + strings.TrimSpace(dial(g, s.Grind.X)) + "."
}
