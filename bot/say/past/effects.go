package past

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot/say"
)

// What changes did.

// workedText answers which changes worked, in a sentence.
func (l Lang) workedText(effects []review.Effect) string {
	if len(effects) == 0 {
		return l.Say("Which changes worked: nothing was changed that a shot came after.")
	}
	var worked, idle []string
	for _, w := range ways(effects) {
		switch w.verdict {
		case review.Helps:
			worked = append(worked, l.Say("%s (%s of %s right after it, about %s without)", l.wayText(w), cups(w.right), l.Count(w.uses, "cup"), cups(w.left)))
		case review.Harms, review.Nothing:
			idle = append(idle, l.wayText(w))
		case review.Open:
		}
	}
	if len(worked) == 0 {
		worked = []string{l.Say("none that we can be sure of")}
	}
	if len(idle) > 0 {
		worked = append(worked, l.Say("no help that we can see from %s", l.List(idle)))
	}
	return l.Say("Which changes worked: %s.", strings.Join(worked, l.Semicolon()))
}

// A way is a change in one direction, or in both where the same is to be said of
// both: then what worked is to change it as the cup asked.
type way struct {
	kinds       []review.Kind
	verdict     review.Verdict
	uses        int
	right, left float64
}

// ways puts the two directions of a change together where one thing is to be said of
// them.
func ways(effects []review.Effect) (list []way) {
	for _, e := range effects {
		i := slices.IndexFunc(list, func(w way) bool { return w.verdict == e.Verdict && w.kinds[0] == opposite(e.Kind) })
		if i < 0 {
			i = len(list)
			list = append(list, way{verdict: e.Verdict})
		}
		w := &list[i]
		w.kinds = append(w.kinds, e.Kind)
		w.uses += e.Uses
		w.right, w.left = w.right+math.Round(e.Right), w.left+math.Round(e.Left) // as the two are told
	}
	return list
}

// opposite returns the other direction of a kind of change, 0 where there is none.
func opposite(k review.Kind) review.Kind {
	return map[review.Kind]review.Kind{
		review.Finer: review.Coarser, review.Coarser: review.Finer, review.Longer: review.Shorter, review.Shorter: review.Longer,
		review.MoreDose: review.LessDose, review.LessDose: review.MoreDose,
	}[k]
}

// wayText names a way as what somebody does.
func (l Lang) wayText(w way) string {
	both := len(w.kinds) > 1
	switch k := w.kinds[0]; {
	case both && (k == review.Finer || k == review.Coarser):
		return l.Say("changing the grind the way the cup calls for")
	case both && (k == review.Longer || k == review.Shorter):
		return l.Say("a longer or shorter cup, as the taste calls for")
	case both:
		return l.Say("more or less coffee, as the taste calls for")
	case k == review.Finer:
		return l.Say("going finer")
	case k == review.Coarser:
		return l.Say("going coarser")
	case k == review.Longer:
		return l.Say("a longer cup")
	case k == review.Shorter:
		return l.Say("a shorter cup")
	}
	return l.kindText(w.kinds[0])
}

// EffectText is one kind of change in figures, an idea a sentence.
func (l Lang) EffectText(e review.Effect) string {
	text := []string{
		l.Say("After it %s of %s were right.", cups(e.Right), l.Count(e.Uses, "cup")),
		l.Say("Without it about %s would have been.", cups(e.Left)),
		l.Say("That makes %s of ten (%s to %s).", l.moreText(e.Cups.Mid), l.signed(e.Cups.Low), l.signed(e.Cups.High)),
	}
	switch grind := e.Kind == review.Finer || e.Kind == review.Coarser; { // after other changes a time comes back by itself
	case grind && e.Time.Low > 0:
		text = append(text, l.Say("The shot runs %s s longer.", l.Tenths(bar.Seconds(e.Time.Mid))))
	case grind && e.Time.High < 0:
		text = append(text, l.Say("The shot runs %s s shorter.", l.Tenths(bar.Seconds(-e.Time.Mid))))
	}
	if e.Verdict == review.Open {
		text = append(text, say.Upper(l.settleText(e.More, 1))+".")
	}
	return strings.Join(text, " ")
}

// EffectNote is one kind of change for the foot of its row.
func (l Lang) EffectNote(e review.Effect) string {
	text := l.Say("%s of %s right, about %s without", cups(e.Right), strconv.Itoa(e.Uses), cups(e.Left))
	if e.Verdict == review.Open {
		text += l.Semicolon() + l.settleText(e.More, 1)
	}
	return text
}

// moreText says how many cups more or fewer.
func (l Lang) moreText(x float64) string {
	switch n := l.Number(math.Abs(math.Round(10*x) / 10)); {
	case n == "0":
		return l.Say("none more")
	case x < 0:
		return l.Say("%s fewer", n)
	default:
		return l.Say("%s more", n)
	}
}

// settleText says how many uses would settle what is open, of each of so many kinds.
func (l Lang) settleText(more, kinds int) string {
	if kinds > 1 {
		return l.Say("%s of each would settle it", l.moreUses(more))
	}
	return l.Say("%s would settle it", l.moreUses(more))
}

// moreUses prints a number of uses, no more exactly than it is known.
func (l Lang) moreUses(more int) string {
	switch {
	case more <= 5:
		return l.Say("a few more")
	case more > 100:
		return l.Say("over a hundred more")
	case more > 20:
		return l.Say("about %s more", strconv.Itoa(nearest(more, 10)))
	}
	return l.Say("about %s more", strconv.Itoa(nearest(more, 5)))
}

// openText lists what is open, kinds together that as many more uses would settle.
func (l Lang) openText(open []review.Effect) string {
	var parts []string
	for len(open) > 0 {
		first := open[0]
		alike := func(e review.Effect) bool { return l.moreUses(e.More) == l.moreUses(first.More) }
		var names []string
		for _, e := range open {
			if alike(e) {
				names = append(names, l.kindText(e.Kind)+" "+l.times(e.Uses))
			}
		}
		parts = append(parts, strings.Join(names, ", ")+" ("+l.settleText(first.More, len(names))+")")
		open = slices.DeleteFunc(open, alike)
	}
	return l.Say("Still open: %s.", strings.Join(parts, l.Semicolon()))
}

// nearest rounds n to whole units.
func nearest(n, unit int) int { return (n + unit/2) / unit * unit }

// cups prints a number of cups, of which one that is a bit off counts in part.
func cups(x float64) string { return strconv.Itoa(int(math.Round(x))) }

// Kind names a kind of change where a line begins.
func (l Lang) Kind(k review.Kind) string { return say.Upper(l.kindText(k)) }

// kindText names a kind of change.
func (l Lang) kindText(k review.Kind) string {
	switch k {
	case review.Finer:
		return l.Say("finer")
	case review.Coarser:
		return l.Say("coarser")
	case review.Longer:
		return l.Say("longer cup")
	case review.Shorter:
		return l.Say("shorter cup")
	case review.MoreDose:
		return l.Say("more coffee")
	case review.LessDose:
		return l.Say("less coffee")
	case review.Care:
		return l.Say("care of the puck")
	case review.Water:
		return l.Say("water temperature")
	}
	return ""
}

// Verdict says what may be said of a kind of change.
func (l Lang) Verdict(v review.Verdict) string {
	switch v {
	case review.Open:
		return l.Say("is open")
	case review.Helps:
		return l.Say("helps here")
	case review.Nothing:
		return l.Say("makes no difference we can see")
	case review.Harms:
		return l.Say("does not help here")
	}
	return ""
}
