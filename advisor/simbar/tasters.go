package simbar

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
)

// A person pulls shots and tastes them.
type person struct {
	extraction, strength float64 // bias in taste steps: what they taste too much of
	loose                float64 // 1 is usual; more is less sharp
}

// anyPerson returns a person. The sd of the bias is assumed.
func anyPerson(dice *rand.Rand, t traits) person {
	return person{
		extraction: t.bias * dice.NormFloat64(), strength: 0.8 * t.bias * dice.NormFloat64(),
		loose: t.looseness * logUniform(dice, 0.8, 1.25),
	}
}

// words is how many words somebody might say.
const words = 8

// an item is a word and what makes somebody say it.
type item struct {
	word string
	sees func(in mouth) float64 // in taste steps
	from float64                // where it is said as often as not
	talk float64                // how often it is said where it is plain
}

// mouth is what a taster notices of a cup: the least extracted part of it, the
// most extracted part, and the strength.
type mouth struct{ under, over, strength float64 }

// items returns the words in the order in which they are looked for. What they
// say of extraction and strength follows the directions in the package comment;
// sizes are assumed.
func items() [words]item {
	return [words]item{
		{"sour", func(m mouth) float64 { return -m.under + 0.15*m.strength }, 0.9, 0.95},
		{"bitter", func(m mouth) float64 { return m.over + 0.15*m.strength }, 0.9, 0.95},
		{"thin", func(m mouth) float64 { return -m.strength }, 0.9, 0.9},
		{"strong", func(m mouth) float64 { return m.strength }, 0.9, 0.9},
		{"dry", func(m mouth) float64 { return m.over }, 1.4, 0.5},
		{"uneven", func(m mouth) float64 { return (m.over - m.under) / 2 }, 1.2, 0.5},
		{"balanced", middle, 0.2, 0.9},
		{"sweet", middle, 0.3, 0.5},
	}
}

// middle is how near the best a cup seems.
func middle(m mouth) float64 {
	return 1 - math.Hypot((m.under+m.over)/2, m.strength) - (m.over-m.under)/2
}

// sharpness is how sharply a word depends on what it sees, in logits a taste
// step.
const sharpness = 3

// say returns what p says of a cup at a reading, uneven or not.
func (p person) say(e, s float64, channelled bool, all *[words]item, n chatter) []string {
	in := mouth{e + p.extraction, e + p.extraction, s + p.strength}
	if channelled {
		// The mean fell short; what the channel washed is far beyond it.
		in.over += 4
	}
	var said []string
	praised := true
	for i, it := range all {
		over := sharpness / p.loose * (it.sees(in) - it.from)
		if !(n.said[i] < it.talk/(1+math.Exp(-over))) {
			continue
		}
		praise := i >= words-2
		if praise && !praised || !praise && len(said) == 2 {
			continue
		}
		said = append(said, strings.TrimSpace(degree(over, praise)+it.word))
		praised = praised && (praise || over < 0)
	}
	if len(said) == 0 {
		return []string{"ok"}
	}
	return said
}

// degree returns how strongly a word is said that far beyond where it begins.
func degree(over float64, praise bool) string {
	switch {
	case praise:
		return ""
	case over < -0.5:
		return "a bit "
	case over > 4:
		return "very "
	}
	return ""
}

// puller returns who pulls the shot after so many: people take turns of three.
func (w *World) puller(before int) int { return before/3%len(w.ways.people) + 1 }

// taste puts what is said of c into shot, and keeps what would be said if
// somebody asked.
func (w *World) taste(shot *Shot, c cup, channelled bool, n noise) {
	w.state.asked, w.state.other = nil, nil
	if w.Row.Family() {
		shot.Tastings = []Tasting{{Person: 1, Words: []string{w.verdict(shot.Set, c)}}}
		return
	}
	if shot.Choked {
		return // nothing to taste
	}
	e, s := w.truth.reading(c)
	all := items()
	tasters := 1
	if n.second < w.ways.second && len(w.ways.people) > 1 {
		tasters = maxTasters
	}
	for k := range min(maxTasters, len(w.ways.people)) {
		who := (shot.Person-1+k)%len(w.ways.people) + 1
		said := Tasting{who, w.ways.people[who-1].say(e, s, channelled, &all, n.tasters[k])}
		if k >= tasters {
			if n.tasters[k].answer < w.ways.answers {
				w.state.other = append(w.state.other, said)
			}
			continue
		}
		switch chat := n.tasters[k]; {
		case chat.silent >= w.ways.silent:
			shot.Tastings = append(shot.Tastings, said)
		case chat.answer < w.ways.answers:
			w.state.asked = append(w.state.asked, said)
		}
	}
}

// Second lets somebody else taste the last shot, and returns it with what they say,
// if there is somebody and they say anything. It costs no shot.
func (w *World) Second() Shot {
	last := &w.state.shots[len(w.state.shots)-1]
	last.Tastings, w.state.other = slices.Concat(last.Tastings, w.state.other), nil
	return *last
}

// verdict returns what a taster without error says in a row of the family of a
// shot at s that came out as c.
func (w *World) verdict(s Setting, c cup) string {
	e, _ := w.TrueReading(s)
	if w.Says == OfShot {
		e, _ = w.truth.reading(c)
	}
	switch {
	case w.Says == Fine, math.Abs(e) <= 1:
		return "balanced"
	case e < 0:
		return "sour"
	}
	return "bitter"
}

// Ask asks how the last shot tasted and returns it with what is said now, if
// anything. It costs no shot, and asking twice brings nothing new.
func (w *World) Ask() Shot {
	last := &w.state.shots[len(w.state.shots)-1]
	if w.state.asked != nil {
		last.Tastings = slices.Concat(last.Tastings, w.state.asked)
		w.state.asked = nil
	}
	return *last
}
