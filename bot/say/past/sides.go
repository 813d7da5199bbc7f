package past

import (
	"strconv"
	"strings"

	"shothand/advisor/review"
	"shothand/bot/say"
)

// Reviews side by side.

// Sides sets reviews beside each other, a few lines each, and says which has
// more cups off.
func (l Lang) Sides(list []LookBack) string {
	var lines []string
	same := true
	for _, l := range list {
		same = same && l.Span == list[0].Span
	}
	if same && len(list) > 0 {
		lines = append(lines, l.Say("%s, side by side:", say.Upper(list[0].Days())))
	}
	all := true
	for _, l := range list {
		lines = append(lines, l.side(!same)...)
		all = all && l.Review.Judged > 0
	}
	if all && len(list) > 1 {
		lines = append(lines, l.worseText(list, !same))
	}
	return strings.Join(lines, "\n")
}

// sideName names one side.
func (l LookBack) sideName(days bool) string {
	name := ""
	switch {
	case l.Bar.ID != 0:
		name = l.Bar.Name
	case l.Coffee.ID != 0:
		name = l.Coffee.Name
	case l.Grinder.ID != 0:
		name = l.Say("grinder %s", l.Grinder.Name)
	}
	if l.Who.ID != 0 {
		name = strings.TrimPrefix(name+", "+l.Say("your own"), ", ")
	}
	if days || name == "" {
		name = strings.TrimPrefix(name+", "+l.Days(), ", ")
	}
	return say.Upper(name)
}

// side is one side in a few lines.
func (l LookBack) side(days bool) []string {
	r := l.Review
	if r.Shots == 0 {
		return []string{l.Say("%s: no shots.", l.sideName(days))}
	}
	text := l.sideName(days) + l.Colon() + l.Count(r.Shots, "shot")
	if r.Judged > 0 {
		text += ", " + l.Say("%s of %s right", strconv.Itoa(r.Right), l.Count(r.Judged, "cup"))
	}
	lines := []string{text + "."}
	if c := r.Cost.Total; c.Mornings > 0 {
		lines = append(lines, "• "+l.Say("mornings: %s", l.Say("%s to dial one coffee in", l.each(c))+l.Semicolon()+l.Say("%s in all", l.bill(c))))
	}
	for _, list := range l.Troubles() {
		if list[0].Plain() {
			lines = append(lines, "• "+l.Say("trouble: %s, cups off %s", l.Where(list[0]), l.offText(list[0])))
		}
	}
	if helps := l.helping(r.Effects); helps != "" {
		lines = append(lines, "• "+l.Say("helps here: %s", helps))
	}
	if len(r.Best) == 1 {
		lines = append(lines, "• "+l.Best(l.coffee(r.Best[0].Coffee), l.grinderOf(r.Best[0].Coffee), r.Best[0]))
	}
	return lines
}

// helping names the changes that help.
func (l Lang) helping(effects []review.Effect) string {
	var names []string
	for _, w := range ways(effects) {
		if w.verdict == review.Helps {
			names = append(names, l.wayText(w))
		}
	}
	return l.List(names)
}

// worseText says which of several has more cups off than the others.
func (l Lang) worseText(all []LookBack, days bool) string {
	worst, sure := "", 0.0
	for i, l := range all {
		off, n, rest := l.Review.Judged-l.Review.Right, l.Review.Judged, 0
		restOff := 0
		for k, other := range all {
			if k != i {
				rest += other.Review.Judged
				restOff += other.Review.Judged - other.Review.Right
			}
		}
		if p := review.Worse(off, n, restOff, rest); n > 0 && p > sure {
			worst, sure = l.sideName(days), p
		}
	}
	if sure > 1-0.1/float64(len(all)) {
		return l.Say("%s has more cups off than the rest.", worst)
	}
	return l.Say("None has more cups off than the others, as far as these cups show.")
}

// OnlyYourBars says which bars were looked at.
func (l Lang) OnlyYourBars(bars int) string {
	if bars == 1 {
		return l.Say("I know of no other bar that you may manage; bars of other channels are left out.")
	}
	return l.Say("Only bars of channels that you may manage are here; any other is left out.")
}
