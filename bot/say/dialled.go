package say

import (
	"shothand/advisor"
	"shothand/advisor/bar"
)

// Dialled says who called a coffee dialled in, and at what.
func (l Lang) Dialled(c bar.Coffee, g bar.Grinder, s bar.Shot, who string) string {
	return l.Say("%s is dialled in, called by %s: %s.", c.Name, who, l.shotText(g, s))
}

// Tasted is how near to a shot its coffee has been tasted today.
type Tasted int

// From not at all to as it is set now.
const (
	Untasted Tasted = iota
	TastedElsewhere
	TastedHere
)

// Uncalled says why a coffee does not look dialled in by its last shot, or
// nothing if it does.
func (l Lang) Uncalled(c bar.Coffee, s bar.Shot, tasted Tasted, o advisor.Outlook) string {
	recipe := c.RecipeFor(s.Marks)
	x := float64(s.Time.X)
	switch {
	case !s.Timed():
		return l.Say("its last shot has no time")
	case recipe.High > 0 && (x < float64(recipe.Low) || x > float64(recipe.High)):
		return l.Say("its last shot ran %s s, and the window is %s–%s s", l.Number(x), l.Number(float64(recipe.Low)), l.Number(float64(recipe.High)))
	case o.State == advisor.Drifting:
		return l.Say("its shots are moving")
	case o.Blamed:
		return l.Say("something was held against its last cup")
	case tasted == Untasted:
		return l.Say("nobody has tasted it today")
	case tasted == TastedElsewhere:
		return l.Say("nobody has tasted it as it is set now")
	}
	return ""
}

// uncalledNote says beside a shot that its coffee was not called dialled in.
func (l Lang) uncalledNote(why string) string {
	return l.Say("Not called dialled in yet: %s. Say it again if it is.", why)
}

// NotCalled says that a coffee is not called dialled in.
func (l Lang) NotCalled(c bar.Coffee) string {
	return l.Say("Nobody has called %s dialled in today. Nothing was changed.", c.Name)
}

// StillCalled says that a call stands which rested on words that were taken back.
func (l Lang) StillCalled(c bar.Coffee) string {
	return l.Say("%s is still called dialled in. If it is not, tap it or say: not dialled in", c.Name)
}

// CalledElsewhere says that a coffee is called dialled in at another position than its last shot stood at.
func (l Lang) CalledElsewhere(c bar.Coffee, g bar.Grinder, was, said bar.Dial) string {
	return l.Say("The last shot of %s was at %s, not at %s. If it was there, say: was %[3]s. If not, pull one there first. Nothing was changed.", c.Name, l.Written(g, was), l.Written(g, said))
}
