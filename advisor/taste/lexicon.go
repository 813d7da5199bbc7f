package taste

import (
	_ "embed"
	"slices"
	"sync"
)

//go:embed lexicon.txt
var lexiconText string

// A Lexicon is what words mean. It does not change and is safe for use by
// many goroutines.
type Lexicon struct {
	entries  []Entry
	terms    map[string]int     // head to index in entries
	phrases  map[string]meaning // normal form of every phrase
	longest  int                // words in the longest phrase
	singles  []string           // one-word forms, ordered, that a misspelling may mean
	ordinary map[string]bool    // never a misspelling
	exact    map[string]bool    // no word is taken for a misspelling of it
	tongues  []*tongue          // the other languages, in the order of the file
	taught   map[string]meaning // a bar's own words; nil in the lexicon that ships
	home     string             // the language that a bar writes in, empty for any
}

// An Entry is one word of taste. Its loadings are those of the formulas in
// the package comment.
type Entry struct {
	Term       string
	Forms      []string // in English, as listed, without the term
	Kind       Kind
	Extraction float64 // β, logits a taste step
	Strength   float64 // γ, logits a taste step
	Centre     float64 // κ, logits a squared taste step
	From       float64 // taste steps out where the word is said as often as not
	Even       float64 // log odds of an even bed
	Praise     float64
	Fault      Fault // 0: none
	Evidence   string
}

// A Kind is a sort of word.
type Kind int

// The kinds of word.
const (
	Taste  Kind = iota + 1 // sour
	Body                   // thin
	Finish                 // short finish
	Liking                 // lovely
	Faulty                 // soapy
	Flow                   // spurting: seen, not tasted
)

// Default returns the lexicon that ships with the program.
func Default() *Lexicon { return shipped() }

//nolint:gochecknoglobals // the embedded file, parsed once: a constant in all but form
var shipped = sync.OnceValue(func() *Lexicon {
	l, err := parseLexicon(lexiconText)
	if err != nil {
		panic(err) // a test reads the file
	}
	return l
})

// Entry returns the entry of a term, or false if there is none.
func (l *Lexicon) Entry(term string) (Entry, bool) {
	i, ok := l.terms[term]
	if !ok {
		return Entry{}, false
	}
	return l.entries[i], true
}

// Entries returns all entries in the order of the file.
func (l *Lexicon) Entries() []Entry { return slices.Clone(l.entries) }

// Known reports whether token, one word in any case, is a word of taste, also
// with an ending or misspelt, or of another language.
func (l *Lexicon) Known(token string) bool {
	if m, ok := l.taught[normal(token, false)]; ok {
		return m.role == term
	}
	look := l.lookUp
	if l.home != "" {
		look = l.spelt
	}
	if m, ok := look(normal(token, false)); ok {
		return m.role == term
	}
	key := normal(token, true)
	return slices.ContainsFunc(l.tongues, func(t *tongue) bool {
		return t.phrases[key].role == term && !t.phrases[key].doubtful
	})
}

// Filler reports whether token, one word of English in any case, says nothing of taste
// by itself but may stand beside words that do: "the", "very", "not", "and".
func (l *Lexicon) Filler(token string) bool {
	m, ok := l.taught[normal(token, false)]
	if !ok {
		m, ok = l.phrases[normal(token, false)]
	}
	return ok && m.role != term
}

// A meaning is what a phrase does in a sentence.
type meaning struct {
	role   role
	entry  int     // of a term
	degree float64 // of a degree, and of a term with an ending
	than   bool    // a term that compares: "better", "sweeter"

	doubtful bool // may be a word of English: no sign that the text is not
	misspelt bool // taken for a listed word
}

// A role is what a phrase does in a sentence; the file describes each.
type role int

const (
	term role = iota + 1
	degree
	after
	atAll
	notAtAll
	not
	nope
	gone
	eased
	or
	and
	but
	more
	less
	as
	wish
	plain
	filler
)
