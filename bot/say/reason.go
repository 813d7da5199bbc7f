package say

import (
	"cmp"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/advisor/why"
)

// reasonText is the second line: why.
func (v Advice) reasonText() string {
	switch {
	case v.Lever == bar.NoLever, v.Because(why.Untasted), v.served(), v.shot.Marks.Has(bar.Practice):
		return ""
	}
	seen := slices.DeleteFunc([]string{v.voicesText(), v.clockText()}, func(s string) bool { return s == "" })
	what := cmp.Or(v.ruleText(), v.readingText())
	switch {
	case what == "" && len(seen) == 0 && len(v.voices) == 0 && v.changes():
		return v.lang.Say("Nobody said how this one tastes: that is from the shots before it.")
	case what == "" && len(seen) == 0:
		return ""
	case len(seen) == 0:
		return what + "."
	case what == "":
		return Upper(v.lang.join(seen)) + "."
	case len(seen) == 2 && !v.bothSides() && (v.Because(why.UnderExtracted) && v.Because(why.Slow) || v.Because(why.OverExtracted) && v.Because(why.Fast)):
		return what + v.lang.Colon() + v.lang.Say("%s, though %s", seen[0], seen[1]) + "."
	}
	return what + v.lang.Colon() + v.lang.join(seen) + "."
}

// join puts what was seen one after the other.
func (l Lang) join(seen []string) string {
	text := seen[0]
	for _, more := range seen[1:] {
		text = l.Say("%s, and %s", text, more)
	}
	return text
}

// voicesText says how the cup tasted, and to whom where several tasted it.
func (v Advice) voicesText() string {
	if len(v.voices) == 0 || len(v.voices) == 1 && len(v.voices[0].names) == 1 {
		return strings.Join(v.echo, ", ")
	}
	var parts []string
	for i, voice := range v.voices {
		who, said := v.lang.List(Each(voice.names, Clip)), strings.Join(voice.said, ", ")
		switch {
		case i > 0:
			parts = append(parts, v.lang.Say("%s %s", who, said))
		case len(voice.names) > 1:
			parts = append(parts, v.lang.Say("%s find it %s", who, said))
		default:
			parts = append(parts, v.lang.Say("%s finds it %s", who, said))
		}
	}
	return strings.Join(parts, v.lang.Semicolon())
}

// ruleText is the reason of a rule that has one of its own.
func (v Advice) ruleText() string {
	texts := []struct {
		reason why.Reason
		text   English
	}{
		{why.Choked, "It choked"},
		{why.DoseOff, "The dose was off, so the rest says little"},
		{why.PraisedOutside, "Taste beats the clock"},
		{why.MoveWindow, "Liked out there, and taste beats the clock"},
		{why.Temperature, "Grind and yield have not mended it"},
		{why.LoneOutlier, "This one stands alone, the setting was right before"},
		{why.Uneven, "The water did not go through evenly"},
		{why.TastersDiffer, "Tongues differ"},
		{why.Scattered, "The last shots at this setting lie far apart"},
		{why.HalfBelieved, "A first shot says only half"},
		{why.Unplaced, "Without the setting it says little"},
		{why.YieldOff, "The cup was another length than the recipe's, the clock is innocent"},
		{why.LostInMilk, "It gets lost in the milk"},
		{why.HopperLow, "With little in the hopper a grinder feeds itself unevenly"},
		{why.Unpurged, "The old grounds were still in it, so it says little"},
		{why.Noted, "One complaint moves nothing that was called dialled in; taste the next"},
		{why.Drifting, "It has moved since it was called dialled in"},
		{why.InsideTheNoise, "One shot off means little here, single shots differ by as much"},
	}
	for _, t := range texts {
		if t.reason == why.PraisedOutside && !v.Because(why.Fast) && !v.Because(why.Slow) {
			continue // it is the setting that is outside; this cup came in time
		}
		if v.Because(t.reason) {
			return v.lang.Say(t.text)
		}
	}
	return ""
}

// readingText says where the cup stands.
func (v Advice) readingText() string {
	var parts []string
	switch {
	case v.bothSides() && (v.Lever == bar.Repeat || v.Lever == bar.Keep):
		parts = append(parts, v.lang.Say("Tongues differ"))
	case v.Because(why.UnderExtracted):
		parts = append(parts, v.lang.Say("not enough out of it"))
	case v.Because(why.OverExtracted):
		parts = append(parts, v.lang.Say("too much out of it"))
	}
	switch {
	case v.strengthSaid():
	case v.Because(why.Weak):
		parts = append(parts, v.lang.Say("a bit thin"))
	case v.Because(why.Strong):
		parts = append(parts, v.lang.Say("a bit strong"))
	}
	if len(parts) == 0 && v.nearer() {
		parts = append(parts, v.lang.Say("not there yet"))
	}
	return Upper(v.lang.List(parts))
}

// nearer reports whether the cup was only compared with the one before, and is to
// be changed all the same.
func (v Advice) nearer() bool {
	spoken := v.spoken()
	return v.changes() && len(spoken) > 0 && !slices.ContainsFunc(spoken, func(w bar.Word) bool { return !w.Than })
}

// changes reports whether the advice is to set something otherwise.
func (v Advice) changes() bool {
	return slices.Contains([]bar.Lever{bar.Grind, bar.Yield, bar.Dose}, v.Lever)
}

// bothSides reports whether some found too little in the cup and others too much.
func (v Advice) bothSides() bool {
	return len(v.voices) > 1 && v.Because(why.UnderExtracted) && v.Because(why.OverExtracted)
}

// strengthSaid reports whether the words alone say how strong the cup was.
func (v Advice) strengthSaid() bool {
	return slices.ContainsFunc(v.spoken(), func(w bar.Word) bool {
		e, ok := taste.Default().Entry(w.Term)
		return ok && e.Kind == taste.Body && !w.Not
	})
}

// clockText says how the time stands to the window, if it is outside.
func (v Advice) clockText() string {
	if v.shot.Time.From == bar.None || v.shot.Marks.Has(bar.Choked) {
		return ""
	}
	if fast := v.Because(why.Fast); fast && !v.shot.Timed() {
		return v.lang.Say("it gushed")
	}
	took, window := v.lang.Timed(v.shot.Time.X), v.lang.Window(v.coffee.Recipe)
	fast := v.Because(why.Fast)
	r := v.coffee.Recipe // a time within it can be off for the length of the cup alone
	forLength := v.offLength() || r.Low <= v.shot.Time.X && v.shot.Time.X <= r.High
	switch {
	case !fast && !v.Because(why.Slow):
		return ""
	case forLength && fast:
		return v.lang.Say("%s s is short for %s g (%s is for %s g)", took, v.lang.Grams(v.shot.Yield.X), window, v.lang.Grams(r.Yield))
	case forLength:
		return v.lang.Say("%s s is long for %s g (%s is for %s g)", took, v.lang.Grams(v.shot.Yield.X), window, v.lang.Grams(r.Yield))
	case fast:
		return v.lang.Say("%s s is short of %s", took, window)
	}
	return v.lang.Say("%s s is over %s", took, window)
}

// offLength reports whether the cup was of another length than the recipe's.
func (v Advice) offLength() bool {
	off := float64(v.shot.Yield.X / v.coffee.Recipe.Yield)
	return off > 1.15 || off < 0.85
}

// said returns the taste words of the shot as they are understood.
func (v Advice) said() []string {
	return v.lang.WordsText(v.spoken())
}

// WordsText returns words as they were understood, each once.
func (l Lang) WordsText(spoken []bar.Word) []string {
	words := []string{}
	for _, w := range spoken {
		if s := l.WordText(w); !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	return words
}

// comparedText is a word that compares with the cup before.
func (l Lang) comparedText(w bar.Word) string {
	text := l.Say("more %s", l.Term(w.Term))
	switch {
	case w.Term == "nice" && !w.Not, w.Term == "bad" && w.Not:
		text = l.Say("better")
	case w.Term == "bad", w.Term == "nice":
		text = l.Say("worse")
	case w.Term == "sweet" && !w.Not:
		text = l.Say("sweeter")
	case w.Not:
		text = l.Say("less %s", l.Term(w.Term))
	}
	if w.Degree < 1 && !w.Not || w.Degree > 1 && w.Not { // only the far end is denied
		return l.Say("compared|a bit %s", text)
	}
	return text
}

// WordText is a word as it was understood.
func (l Lang) WordText(w bar.Word) string {
	term := l.Term(w.Term)
	switch {
	case w.Than:
		return l.comparedText(w)
	case w.Not && w.Degree > 1:
		return l.Say("not too %s", term)
	case w.Not:
		return l.Say("not %s", term)
	case w.Degree >= 2:
		return l.Say("far too %s", term)
	case w.Degree > 1:
		return l.Say("very %s", term)
	case w.Degree < 1:
		return l.Say("a bit %s", term)
	}
	return term
}

// Term is a word of taste, by its name in the lexicon.
func (l Lang) Term(name string) string {
	if l.English() {
		return name
	}
	return l.Say(tasted(name))
}

// tasted is the key of a word of taste.
func tasted(name string) English { return English("taste|" + name) }
