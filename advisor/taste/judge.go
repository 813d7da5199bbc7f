package taste

import (
	"cmp"
	"math"
	"slices"

	"shothand/advisor/bar"
)

// The prior of an even bed, and how far out its two streams run where it is
// not: invented; common practice, no source.
const (
	evenPrior = 0.93
	streams   = 2.0 // taste steps under and over at once
)

// unevenWeight is how much of what is said of an uneven bed counts for where
// the cup stands: the words speak of its streams, and only half of the whole.
const unevenWeight = 0.5

// degreeStep is how many taste steps further out a word begins for each whole
// degree more. Invented; common practice, no source.
const degreeStep = 1.0

// thanWeight is how much of a word counts that compares with the cup before:
// it speaks of the change, and only half of where the cup stands.
const thanWeight = 0.5

// biasSD is how far tasters differ in what they call under and over, in taste
// steps. Invented, not measured.
const biasSD = 0.5

// What a taste step is worth where a measurement does not say: assumptions.
// A difference of 0.24 % TDS is just noticed at 1.2 % in filter coffee (Frost,
// Ristenpart, Guinard 2019 J Food Sci); the same ratio at 9 % is near 1.8 %.
const (
	usualStepEY  = 2.0 // % of the dose
	usualStepTDS = 1.8 // % of the beverage
)

// Measured is what instruments say of a shot. A measurement that is not there
// is zero or NaN, and so is a step that is not known.
type Measured struct {
	EY, EYTarget, EYSD, EYStep     float64 // % of the dose; the step is % a taste step
	TDS, TDSTarget, TDSSD, TDSStep float64 // % of the beverage
}

// Judge returns where a shot stands by all that was said and measured of it.
// The package comment has the formulas. Tastings of one taster count as one;
// taster 0 is a different person each time. Words that are not in the lexicon
// are passed over.
func (l *Lexicon) Judge(tastings []Tasting, measured Measured) Reading {
	people := l.people(tastings)
	r := Reading{Faults: faultsOf(people)}
	even := math.Log(evenPrior / (1 - evenPrior))
	g := newGrid()
	g.measure(measured)
	liked, voices := 0.0, 0
	for _, said := range people {
		even += g.taste(said)
		praise, spoke := 0.0, false
		for _, s := range said {
			even += s.evenOdds()
			praise += s.praise()
			r.blame(s)
			spoke = spoke || s.Praise != 0
			r.Tasted = r.Tasted || s.Kind != Flow
		}
		if spoke {
			liked += min(max(praise, -2), 2)
			voices++
		}
	}
	if voices > 0 {
		r.Praise = liked / float64(voices)
	}
	r.Even = logistic(even)
	g.read(&r)
	return r
}

// blame takes down what a word holds against the cup.
func (r *Reading) blame(s said) {
	if s.Not {
		return
	}
	way := s.way()
	r.Under, r.Over = r.Under || way.Extraction < 0, r.Over || way.Extraction > 0
	r.Weak, r.Strong = r.Weak || way.Strength < 0, r.Strong || way.Strength > 0
}

// Judge is [Lexicon.Judge] with the lexicon that ships with the program.
func Judge(tastings []Tasting, measured Measured) Reading {
	return Default().Judge(tastings, measured)
}

// unsaid returns what somebody left unsaid whose words were all they had to say
// of the cup: a complaint that stood out would have been made. Each counts for half a denial.
// Common practice, no source.
func (l *Lexicon) unsaid(words []said) []said {
	spoke := slices.ContainsFunc(words, func(s said) bool { return s.Kind != Flow && !s.Than })
	if !spoke {
		return nil
	}
	var list []said
	for _, head := range [...]string{"sour", "bitter", "thin", "strong"} {
		e, ok := l.Entry(head)
		near := func(s said) bool {
			return s.Extraction*e.Extraction > 1 || s.Strength*e.Strength > 1
		}
		if ok && !slices.ContainsFunc(words, near) {
			e.Even, e.Praise = 0, 0
			list = append(list, said{e, bar.Word{Term: head, Degree: 1, Not: true, Than: true}})
		}
	}
	return list
}

// A said is a word as somebody said it.
type said struct {
	Entry
	bar.Word
}

// people returns what each taster said, in a fixed order.
func (l *Lexicon) people(tastings []Tasting) [][]said {
	var (
		people [][]said
		whole  []bool
		of     = make(map[uint64]int)
	)
	for _, t := range tastings {
		i, known := of[t.Taster]
		if !known || t.Taster == 0 {
			i = len(people)
			of[t.Taster] = i
			people, whole = append(people, nil), append(whole, true)
		}
		whole[i] = whole[i] && t.Whole
		for _, w := range t.Words {
			entry, ok := l.Entry(w.Term)
			if !ok {
				continue
			}
			if !(0 < w.Degree && w.Degree <= mostDegree) {
				w.Degree = 1
			}
			people[i] = append(people[i], said{entry, w})
		}
	}
	for i, all := range whole {
		if all {
			people[i] = append(people[i], l.unsaid(people[i])...)
		}
	}
	silent := func(words []said) bool { return len(words) == 0 }
	people = slices.DeleteFunc(people, silent)
	for i := range people {
		people[i] = inOrder(people[i])
	}
	return people
}

// mostWords is how many words of one taster count. Nobody tastes so many
// things in one sip, and the product of their probabilities stays a number.
const mostWords = 24

// inOrder sorts words, so that the order in which they were said changes not
// even the last digit, and cuts a list that is longer than any opinion.
func inOrder(words []said) []said {
	slices.SortFunc(words, func(a, b said) int {
		return cmp.Or(
			cmp.Compare(a.Word.Term, b.Word.Term),
			cmp.Compare(a.Degree, b.Degree),
			cmp.Compare(a.sign(), b.sign()),
		)
	})
	return words[:min(len(words), mostWords)]
}

// sign tells apart the four ways to say a word.
func (s said) sign() int {
	n := 0
	if s.Not {
		n++
	}
	if s.Than {
		n += 2
	}
	return n
}

// weight returns how much of the word counts.
func (s said) weight() float64 {
	if s.Than {
		return thanWeight
	}
	return 1
}

// evenOdds returns what the word itself says of the bed, as log odds. Denied,
// it says a third of the opposite.
func (s said) evenOdds() float64 { return s.graded(s.Even, 1./3) }

// praise returns how much liking the word holds. Denied, half the opposite. Better
// than the cup before is not yet good: a comparison that likes holds half of what
// it holds of the cup.
func (s said) praise() float64 {
	p := s.graded(s.Praise, 0.5)
	if s.Than && p > 0 {
		p *= thanWeight
	}
	return p
}

func (s said) graded(x, denied float64) float64 {
	if s.Not {
		return -denied * x * s.weight()
	}
	return x * s.Degree * s.weight()
}

// faultsOf returns each fault that anybody found, once, in the order of the
// constants.
func faultsOf(people [][]said) []Fault {
	var found []Fault
	for _, words := range people {
		for _, s := range words {
			if s.Fault != 0 && !s.Not && !slices.Contains(found, s.Fault) {
				found = append(found, s.Fault)
			}
		}
	}
	slices.Sort(found)
	return found
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
