package parse

import (
	"math"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
)

// recipeTold reads that a coffee's recipe is another from now on, in words: "harbour now
// 18,5 in 37 out", "new recipe for tide: 18 36 27". It is the command that changes it.
func recipeTold(s *sheet) (Meaning, bool) {
	if s.shot.Coffee == 0 || s.unsure.Kind != 0 || s.asks() || s.asked() || s.second() >= 0 {
		return nil, false
	}
	rest, last, ok := s.withoutFromNow()
	if !ok {
		return nil, false
	}
	told, ok := figuresOf(rest, s.vocab)
	if !ok || told.Coffee != s.shot.Coffee {
		return nil, false
	}
	if told.Time.Said && told.Dose.Said && told.Yield.Said && last > s.lastNumber() { // "18 36 28 new recipe" was pulled
		return nil, false
	}
	return Call{Command: chat.Command{Name: "coffee edit", Options: s.recipeOptions(told)}}, true
}

// lastNumber returns the last token that is a number.
func (s *sheet) lastNumber() int {
	last := -1
	for i, t := range s.tokens {
		if t.kind == numberToken {
			last = i
		}
	}
	return last
}

// withoutFromNow returns a message without what says that it is a recipe, and the last
// token of that; false where nothing does.
func (s *sheet) withoutFromNow() (rest string, last int, ok bool) {
	drop := make([]bool, len(s.tokens))
	hold := func(i, n int) {
		for j := i; j < i+n; j++ {
			drop[j], last, ok = true, j, true
		}
	}
	for i := 0; i < len(s.tokens); i++ {
		if n := s.fromNow(i); n > 0 {
			hold(i, n)
			i += n - 1
		}
	}
	if !ok {
		return "", 0, false
	}
	for i, t := range s.tokens {
		if drop[i] || !s.used[i] && t.is(":", "is", "are", "new", "the", "our", "for", "to", "goes", "ist", "è", "est", "es", "é", "la", "le", "el", "a", "o", "de", "di", "für", "neues", "nuova", "nueva", "nova", "nouvelle", "set", "of", "di", "set", "we're", "doing", "at") && !s.isNumber(i-1) {
			continue
		}
		if t.is("'s") {
			continue
		}
		rest += " " + strings.TrimSuffix(strings.TrimSuffix(t.text, "'s"), "’s")
	}
	return strings.TrimSpace(rest), last, true
}

// fromNow returns how many tokens from i on say that a recipe is told.
func (s *sheet) fromNow(i int) int {
	t := s.at(i)
	for _, words := range []string{
		"from now on", "from now", "from today on", "from today", "starting today", "as of today", "as of now", "ab jetzt", "ab heute", "ab sofort", "da oggi in poi", "da oggi", "da ora in poi", "da ora", "d'ora in poi",
		"à partir d'aujourd'hui", "à partir de maintenant", "dès aujourd'hui", "dès maintenant", "a partir de hoy", "a partir de ahora", "desde hoy", "desde ahora", "de ahora en adelante", "a partir de hoje", "a partir de agora", "daqui em diante",
	} {
		if n := s.phrase(i, words); n > 0 {
			return n
		}
	}
	switch {
	case t.is("recipe", "recipe's", "spec", "rezept", "ricetta", "recette", "receta", "receita"):
		return s.skip(i+1, "now", "changed", "becomes", "jetzt", "ora", "adesso", "ahora", "agora", "maintenant") - i
	case t.is("change", "changed", "changing", "cambia", "cambio", "ändere", "cambiamo", "muda", "mude", "change") && i <= 1 && s.holds("to", "a", "auf", "à", "en", "para", "em"):
		return 1
	case t.is("now", "jetzt", "ora", "adesso", "ahora", "agora", "maintenant") && s.bothWeights():
		return 1
	}
	return 0
}

// bothWeights reports whether a message says what goes in and what comes out, or names
// one of them, and no time: "harbour now 18.5 in 37 out", "harbour dose is now 18.5".
func (s *sheet) bothWeights() bool {
	n := 0
	for i, t := range s.tokens {
		switch {
		case t.num.form == colonForm && !minutes(t.num), label(t) == dosePlace && !t.is("in"), label(t) == yieldPlace && !t.is("out", "raus"):
			return s.lastNumber() == len(s.tokens)-1 && s.numbers <= 2
		case t.kind == numberToken:
			n++
		case unitOf(t.low) == second && i > 0 && s.isNumber(i-1):
			return false
		}
	}
	return n == 2 && (s.holds("out", "raus", "→", ">", "fuori", "fora", "fuera") || s.holds("in") && s.holds("to"))
}

// figuresOf reads dose, yield, time and drink of a text that has nothing else.
func figuresOf(text string, v Vocab) (told Shot, ok bool) {
	m, err := newSheet(text, v).understood()
	if err != nil {
		return told, false
	}
	switch w := m.(type) {
	case Shot:
		told = w
		doubtful := len(w.Doubt) > 0 && !w.Half || w.Swapped || w.Stranger != "" || w.Same
		ok = !doubtful && !w.Grind.Said && w.Event == 0 && w.Marks&^bar.InMilk == 0 && len(w.Words)+len(w.Unread)+len(w.Aside) == 0
	case Correction:
		told.Coffee, told.Dose, told.Yield, told.Time = w.Of, w.Dose, w.Yield, w.Time
		ok = !w.Bare.Said && !w.Grind.Said
	case Words, Call, Happened, Set, CallIt, Chatter:
	}
	return told, ok && (told.Dose.Said || told.Yield.Said || told.Ratio.Said || told.Time.Said)
}

// recipeOptions are what /coffee edit is to be told.
func (s *sheet) recipeOptions(told Shot) []chat.Option {
	add := func(list []chat.Option, name string, x float64) []chat.Option {
		return append(list, chat.Option{Name: name, Value: strconv.FormatFloat(x, 'f', -1, 64)})
	}
	var options []chat.Option
	recipes := s.vocab.Recipes[told.Coffee]
	recipe := recipes.Black
	for _, c := range s.vocab.Coffees {
		if c.ID == told.Coffee {
			options = append(options, chat.Option{Name: "name", Value: c.Name})
		}
	}
	if told.Marks.Has(bar.InMilk) {
		options = append(options, chat.Option{Name: "for", Value: "milk"})
		if recipes.Milk.Dose > 0 {
			recipe = recipes.Milk
		}
	}
	dose := float64(recipe.Dose)
	if told.Dose.Said {
		dose = told.Dose.X
		options = add(options, "dose", dose)
	}
	switch {
	case told.Yield.Said:
		options = add(options, "yield", told.Yield.X)
	case told.Ratio.Said:
		options = add(options, "yield", math.Round(10*dose*told.Ratio.X)/10)
	}
	if time := s.window(told.Time, recipe); time != "" {
		options = append(options, chat.Option{Name: "time", Value: time})
	}
	return options
}

// window returns the time of a recipe: as it was said, or as wide as the old one around a
// single time that this does not hold.
func (s *sheet) window(told Number, old bar.Recipe) string {
	for _, t := range s.tokens {
		if told.Said && t.num.form == dashForm && (t.num.vals[0]+t.num.vals[1])/2 == told.X {
			return t.text
		}
	}
	if !told.Said || float64(old.Low) <= told.X && told.X <= float64(old.High) {
		return ""
	}
	half := max(2, math.Round(float64(old.High-old.Low)/2))
	at := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	return at(max(1, math.Round(told.X)-half)) + "-" + at(math.Round(told.X)+half)
}
