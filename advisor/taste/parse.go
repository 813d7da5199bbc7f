package taste

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// defaultFrom is how many taste steps out a word is said as often as not.
// Invented; common practice, no source.
const defaultFrom = 1.0

// english is the section that other languages refer to.
const english = "en"

// parseLexicon reads the form that the top of lexicon.txt describes.
func parseLexicon(text string) (*Lexicon, error) {
	l := &Lexicon{
		terms:    make(map[string]int),
		phrases:  make(map[string]meaning),
		ordinary: make(map[string]bool),
		exact:    make(map[string]bool),
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
			if lang != english {
				l.tongues = append(l.tongues, newTongue(lang))
			}
			continue
		}
		if err := l.addLine(line); err != nil {
			return nil, fmt.Errorf("lexicon line %d: %w", n, err)
		}
	}
	l.index()
	return l, nil
}

// addLine takes in one line: an entry, forms in another language, or a list of
// grammar.
func (l *Lexicon) addLine(line string) error {
	if strings.Contains(line, "|") {
		if len(l.tongues) > 0 {
			return l.addForms(line)
		}
		return l.addEntry(line)
	}
	name, list, ok := strings.Cut(line, ":")
	if !ok {
		return fmt.Errorf("neither an entry nor a list: %q", line)
	}
	if list := splitList(list); name == "ordinary" || name == "exact" {
		for _, w := range list {
			l.apart(name)[normal(w, false)] = true
		}
		return nil
	}
	m, err := parseRole(name)
	if err != nil {
		return err
	}
	add := l.addPhrase
	if n := len(l.tongues); n > 0 {
		add = l.tongues[n-1].add
	}
	for _, phrase := range splitList(list) {
		if err := add(phrase, m); err != nil {
			return err
		}
	}
	return nil
}

// apart returns the list of that name of words kept apart from misspellings.
func (l *Lexicon) apart(name string) map[string]bool {
	if name == "exact" {
		return l.exact
	}
	return l.ordinary
}

// addForms takes in "head | forms | evidence" of the language being read.
func (l *Lexicon) addForms(line string) error {
	head, rest, _ := strings.Cut(line, "|")
	list, evidence, _ := strings.Cut(rest, "|")
	entry, ok := l.terms[strings.TrimSpace(head)]
	if !ok {
		return fmt.Errorf("no entry %q", strings.TrimSpace(head))
	}
	if evidence = strings.TrimSpace(evidence); evidence == "" || strings.Contains(evidence, "|") {
		return fmt.Errorf("want head, forms and evidence: %q", line)
	}
	t := l.tongues[len(l.tongues)-1]
	for _, form := range splitList(list) {
		if err := t.add(form, meaning{role: term, entry: entry, degree: 1}); err != nil {
			return err
		}
	}
	return nil
}

// addEntry takes in "head | forms | kind | says | evidence".
func (l *Lexicon) addEntry(line string) error {
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
		Term: fields[0], Forms: splitList(fields[1]), Kind: kind,
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
	key := normal(phrase, false)
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
	l.singles = slices.DeleteFunc(singles(l.phrases), func(form string) bool { return l.exact[form] })
	for _, t := range l.tongues {
		t.singles = singles(t.phrases)
	}
}

// singles returns the words of taste, ordered, that a misspelling may mean.
func singles(phrases map[string]meaning) []string {
	var list []string
	for key, m := range phrases {
		if m.role == term && len(key) >= 4 && !strings.Contains(key, " ") {
			list = append(list, key)
		}
	}
	slices.Sort(list)
	return list
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
		"degree": degree, "after": after, "atall": atAll, "notatall": notAtAll, "not": not, "nope": nope, "gone": gone, "eased": eased,
		"or": or, "and": and, "but": but, "more": more, "less": less, "as": as,
		"wish": wish, "plain": plain, "filler": filler,
	}
}
