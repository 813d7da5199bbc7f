package taste

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// defaultFrom is how many taste steps out a word is said as often as not.
// Invented; common practice, no source.
const defaultFrom = 1.0

// parseLexicon reads the form that the top of lexicon.txt describes.
func parseLexicon(text string) (*Lexicon, error) {
	l := &Lexicon{
		terms:    make(map[string]int),
		phrases:  make(map[string]meaning),
		ordinary: make(map[string]bool),
	}
	lang, n := "", 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if name, ok := strings.CutPrefix(line, "["); ok {
			lang = strings.TrimSuffix(name, "]")
			continue
		}
		if err := l.addLine(lang, line); err != nil {
			return nil, fmt.Errorf("lexicon line %d: %w", n, err)
		}
	}
	l.index()
	return l, nil
}

// addLine takes in one line: an entry or a list of grammar.
func (l *Lexicon) addLine(lang, line string) error {
	if strings.Contains(line, "|") {
		return l.addEntry(lang, line)
	}
	name, list, ok := strings.Cut(line, ":")
	if !ok {
		return fmt.Errorf("neither an entry nor a list: %q", line)
	}
	if name == "ordinary" {
		for _, w := range splitList(list) {
			l.ordinary[normal(w)] = true
		}
		return nil
	}
	m, err := parseRole(name)
	if err != nil {
		return err
	}
	for _, phrase := range splitList(list) {
		if err := l.addPhrase(phrase, m); err != nil {
			return err
		}
	}
	return nil
}

// addEntry takes in "head | forms | kind | says | evidence".
func (l *Lexicon) addEntry(lang, line string) error {
	fields := strings.Split(line, "|")
	if len(fields) != 5 {
		return fmt.Errorf("%d fields, want 5: %q", len(fields), line)
	}
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	kind, ok := kinds()[fields[2]]
	if !ok {
		return fmt.Errorf("unknown kind %q", fields[2])
	}
	e := Entry{
		Lang: lang, Term: fields[0], Forms: splitList(fields[1]), Kind: kind,
		From: defaultFrom, Evidence: fields[4],
	}
	for _, says := range splitList(fields[3]) {
		if err := e.set(says); err != nil {
			return err
		}
	}
	l.terms[e.Term] = len(l.entries)
	l.entries = append(l.entries, e)
	for _, form := range append([]string{e.Term}, e.Forms...) {
		form, than := strings.CutSuffix(form, ">")
		m := meaning{role: term, entry: len(l.entries) - 1, degree: 1, than: than}
		if err := l.addPhrase(form, m); err != nil {
			return err
		}
	}
	return nil
}

// set takes in one "name value" of an entry.
func (e *Entry) set(says string) error {
	name, value, _ := strings.Cut(says, " ")
	if name == "fault" {
		fault, ok := faults()[value]
		if !ok {
			return fmt.Errorf("unknown fault %q", value)
		}
		e.Fault = fault
		return nil
	}
	x, err := strconv.ParseFloat(value, 64)
	if err != nil || !(math.Abs(x) <= 5) {
		return fmt.Errorf("%q is no number from -5 to 5", says)
	}
	switch name {
	case "extraction":
		e.Extraction = x
	case "strength":
		e.Strength = x
	case "centre":
		e.Centre = x
	case "from":
		e.From = x
	case "even":
		e.Even = x
	case "praise":
		e.Praise = x
	default:
		return fmt.Errorf("unknown loading %q", says)
	}
	return nil
}

// addPhrase gives a phrase its meaning, which may not be given twice.
func (l *Lexicon) addPhrase(phrase string, m meaning) error {
	key := normal(phrase)
	if key == "" {
		return fmt.Errorf("empty phrase %q", phrase)
	}
	if _, ok := l.phrases[key]; ok {
		return fmt.Errorf("%q is listed twice", phrase)
	}
	l.phrases[key] = m
	l.longest = max(l.longest, strings.Count(key, " ")+1)
	return nil
}

// index prepares the list that misspellings are compared with.
func (l *Lexicon) index() {
	for _, key := range slices.Sorted(maps.Keys(l.phrases)) {
		if l.phrases[key].role == term && len(key) >= 4 && !strings.Contains(key, " ") {
			l.singles = append(l.singles, key)
		}
	}
}

// parseRole reads the name of a list of grammar: "not", "degree 0.5".
func parseRole(name string) (meaning, error) {
	name, value, graded := strings.Cut(name, " ")
	r, ok := roles()[name]
	if !ok {
		return meaning{}, fmt.Errorf("unknown list %q", name)
	}
	m := meaning{role: r, degree: 1}
	if graded {
		x, err := strconv.ParseFloat(value, 64)
		if err != nil || !(0 < x && x <= mostDegree) {
			return meaning{}, fmt.Errorf("bad degree %q", value)
		}
		m.degree = x
	}
	return m, nil
}

func splitList(s string) []string {
	var items []string
	for item := range strings.SplitSeq(s, ",") {
		if item = strings.TrimSpace(item); item != "" {
			items = append(items, item)
		}
	}
	return items
}

func kinds() map[string]Kind {
	return map[string]Kind{
		"taste": Taste, "body": Body, "finish": Finish,
		"liking": Liking, "fault": Faulty, "flow": Flow,
	}
}

func faults() map[string]Fault {
	return map[string]Fault{"cleaner": Cleaner, "stale": Stale, "roast": Roast, "raw": Raw}
}

func roles() map[string]role {
	return map[string]role{
		"degree": degree, "after": after, "atall": atAll, "not": not, "gone": gone,
		"or": or, "and": and, "but": but, "more": more, "less": less, "as": as,
		"wish": wish, "plain": plain, "filler": filler,
	}
}
