package parse

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
)

// Cups are what a message says of the cups of a split, "early 12.1 g sour /
// middle sweet / late thin", or of a pair.
type Cups struct {
	Split  int            // from 1; 0 if not said
	Sips   []bar.Note     // of cups that were named, in order
	Lets   []LetteredNote // of cups that have letters
	Order  string         // the letters as they were put in order, "BCA"
	Better string         // of a pair: "X", "Y" or "same"
}

// A LetteredNote is what was said of a cup that only has a letter.
type LetteredNote struct {
	Letter string // "A"
	bar.Note
}

// Letters are what blind cups are called.
const Letters = "ABC"

var (
	cupLabel = regexp.MustCompile(`(?i)(?:^|[^\pL\d])(early|first|1st|middle|mid|second|2nd|late|last|third|3rd|whole|reference|prima|seconda|terza|intera|primera|segunda|tercera|entera|erste|zweite|dritte|ganze|première|deuxième|troisième|entière|primeira|terceira|inteira)(?:\s+(?:cup|one|shot|tazza|taza|tasse|chávena))?\b\s*[:=–-]?`)
	letLabel = regexp.MustCompile(`(?i)(?:^|[/;|\n])\s*(?:cup\s+)?([abc])(?:\s*[:=–-]|\s)`)
	splitSet = regexp.MustCompile(`(?i)^\s*(?:(second|2nd|third|3rd|first|1st)\s+split|split\s*([1-9]))\b\s*[:,/–-]?`)
	orderSet = regexp.MustCompile(`(?i)\b(?:order|ordine|orden|reihenfolge|ordre|ordem)\b\s*[:=]?\s*([abc])[\s,>-]*([abc])[\s,>-]*([abc])\b`)
	betterOf = regexp.MustCompile(`(?i)^\s*(?:i\s+)?(?:prefer(?:red)?|better|liked?|choose)?\s*[:=]?\s*(?:cup\s+)?(x|y|same|equal|neither|no difference|nessuna differenza|sin diferencia|kein unterschied|aucune différence|sem diferença)(?:\s+(?:is|was|tasted|tastes))?(?:\s+better)?\s*[.]?\s*$`)
	cupMass  = regexp.MustCompile(`(?i)(?:^|\s)(\d+(?:[.,]\d+)?)\s*(?:g|gr|grams?)\b`)
	cupBare  = regexp.MustCompile(`^\s*(\d+(?:[.,]\d+)?)(?:\s|,\s|$)`)
	cupTDS   = regexp.MustCompile(`(?i)(?:\btds\s*[:=]?\s*(\d+(?:[.,]\d+)?)\s*%?|(\d+(?:[.,]\d+)?)\s*%(?:\s*tds\b)?)`)
	cupScore = regexp.MustCompile(`(?i)(?:^|[^\pL\d])(` + scaleWords() + `)\s*[:=]?\s*(\d+(?:[.,]\d+)?)(?:\s*/\s*5)?(?:[^\d\pL%]|$)`)
	outOf5   = regexp.MustCompile(`(\d)\s*/\s*5\b`)
)

// CupWords reads a message as what somebody says of cups. Where blind is set
// the cups have letters. It is false for what does not read so. The error is a
// Mistake.
func CupWords(text string, blind bool) (Cups, bool, error) {
	text = outOf5.ReplaceAllString(clean(text), "$1")
	if long(text) {
		return Cups{}, false, nil
	}
	if m := betterOf.FindStringSubmatch(text); m != nil {
		return Cups{Better: likedCup(m[1])}, true, nil
	}
	c := Cups{}
	if m := splitSet.FindStringSubmatch(text); m != nil {
		c.Split, text = splitNumber(m[1]+m[2]), text[len(m[0]):]
	}
	if m := orderSet.FindStringSubmatchIndex(text); m != nil && blind {
		c.Order = strings.ToUpper(text[m[2]:m[3]] + text[m[4]:m[5]] + text[m[6]:m[7]])
		text = text[:m[0]] + "/" + text[m[1]:]
		if !isOrder(c.Order) {
			return Cups{}, false, Mistake{Kind: BadOption, What: "order " + c.Order, Would: "each letter once, early first"}
		}
	}
	ok, err := c.cups(text, blind)
	if err != nil || !ok && c.Order == "" {
		return Cups{}, false, err
	}
	if !ok {
		c.Sips, c.Lets = nil, nil
	}
	return c, true, nil
}

// CupsOf reads the options of /layers taste. The error is a Mistake.
func CupsOf(c chat.Command) (Cups, error) {
	var all Cups
	for _, o := range c.Options {
		switch o.Name {
		case "early", "middle", "late", "whole":
			sip, err := readNote(o.Value)
			if err != nil {
				return Cups{}, err
			}
			sip.Of, _ = layerOf(o.Name)
			all.Sips = append(all.Sips, sip)
		case "a", "b", "c":
			sip, err := readNote(o.Value)
			if err != nil {
				return Cups{}, err
			}
			all.Lets = append(all.Lets, LetteredNote{strings.ToUpper(o.Name), sip})
		case "split":
			if all.Split = splitNumber(o.Value); all.Split == 0 {
				return Cups{}, Mistake{Kind: BadOption, What: "split:" + cut(o.Value), More: "1, 2, …"}
			}
		case "order":
			letters := strings.ToUpper(strings.Join(strings.FieldsFunc(o.Value, func(r rune) bool { return strings.ContainsRune(" ,>-/", r) }), ""))
			if !isOrder(letters) {
				return Cups{}, Mistake{Kind: BadOption, What: "order:" + cut(o.Value), Would: "each letter once, early first, such as BCA"}
			}
			all.Order = letters
		case "better":
			m := betterOf.FindStringSubmatch(o.Value)
			if m == nil {
				return Cups{}, Mistake{Kind: BadOption, What: "better:" + cut(o.Value), Would: "X, Y or same"}
			}
			all.Better = likedCup(m[1])
		}
	}
	return all, nil
}

// isOrder reports whether letters are all of the letters, each once.
func isOrder(letters string) bool {
	sorted := []byte(letters)
	slices.Sort(sorted)
	return string(sorted) == Letters
}

// likedCup returns the cup of a pair that was liked better.
func likedCup(said string) string {
	if s := strings.ToUpper(said); s == "X" || s == "Y" {
		return s
	}
	return "same"
}

// splitNumber reads which split is meant, 0 for none.
func splitNumber(said string) int {
	switch strings.ToLower(said) {
	case "first", "1st":
		return 1
	case "second", "2nd":
		return 2
	case "third", "3rd":
		return 3
	}
	n, err := strconv.Atoi(said)
	if err != nil || n < 1 || n > 9 {
		return 0
	}
	return n
}

// layerOf returns the cup that a label names.
func layerOf(label string) (bar.Layer, bool) {
	switch strings.ToLower(label) {
	case "early", "first", "1st", "prima", "primera", "erste", "première", "primeira":
		return bar.Early, true
	case "middle", "mid", "second", "2nd", "seconda", "segunda", "zweite", "deuxième":
		return bar.Middle, true
	case "late", "last", "third", "3rd", "terza", "tercera", "dritte", "troisième", "terceira":
		return bar.Late, true
	case "whole", "reference", "intera", "entera", "ganze", "entière", "inteira":
		return bar.Whole, true
	}
	return 0, false
}

// cups reads what stands behind each label. It is false if the text does not
// begin with a label or says too little that is known to be meant so.
func (c *Cups) cups(text string, blind bool) (bool, error) {
	label := cupLabel
	if blind {
		label = letLabel
	}
	at := label.FindAllStringSubmatchIndex(text, -1)
	if len(at) == 0 || strings.Trim(text[:at[0][2]], " /;|\n,.") != "" && !strings.EqualFold(strings.TrimSpace(text[:at[0][2]]), "cup") {
		return false, nil
	}
	if blind && len(at) == 1 && !strings.ContainsAny(text[at[0][0]:at[0][1]], ":=") {
		return false, nil // "a bit sour"
	}
	seen := map[string]bool{}
	known, unknown := 0, 0
	for i := range at {
		name := strings.ToUpper(text[at[i][2]:at[i][3]])
		if l, ok := layerOf(name); ok {
			name = strconv.Itoa(int(l))
		}
		if seen[name] {
			return false, nil // said twice, so who knows what is meant
		}
		seen[name] = true
		end := len(text)
		if i+1 < len(at) {
			end = at[i+1][2]
		}
		sip, err := readNote(strings.Trim(text[at[i][1]:end], " /;|\n,."))
		if err != nil {
			return false, err
		}
		known += len(sip.Words) + len(sip.Scores)
		if sip.Mass > 0 || sip.TDS > 0 {
			known++
		}
		unknown += len(sip.Unread)
		if blind {
			c.Lets = append(c.Lets, LetteredNote{name, sip})
		} else {
			sip.Of, _ = layerOf(text[at[i][2]:at[i][3]])
			c.Sips = append(c.Sips, sip)
		}
	}
	return known > 0 && unknown <= known, nil
}

// readNote reads what is said of one cup. The error is a Mistake.
func readNote(text string) (bar.Note, error) {
	var s bar.Note
	text = outOf5.ReplaceAllString(clean(text), "$1")
	for {
		m := cupScore.FindStringSubmatchIndex(text)
		if m == nil {
			break
		}
		x := decimal(text[m[4]:m[5]])
		if !(0 <= x && x <= layers.MostScore) {
			return s, Mistake{Kind: BadOption, What: cut(text[m[2]:m[5]]), Would: "from 0 to 5"}
		}
		s.Scores = append(s.Scores, bar.Score{Of: tasteScale(text[m[2]:m[3]]), X: x})
		text = text[:m[2]] + ", " + text[m[5]:]
	}
	var err error
	if text, s.TDS, err = measured(text, cupTDS, 40, "a TDS up to 40 %"); err != nil {
		return s, err
	}
	if text, s.Mass, err = measured(text, cupMass, 500, "a cup of up to 500 g"); err != nil {
		return s, err
	}
	if s.Mass == 0 {
		if text, s.Mass, err = measured(text, cupBare, 500, "a cup of up to 500 g"); err != nil {
			return s, err
		}
	}
	in := sheet{lex: words(nil, "")}
	s.Words, s.Unread = in.inCompany(in.lex.read(text)) // "dolce": a cup is told of, whatever else it means
	return s, nil
}

// measured takes a number out of text, if there is one, which is above 0 and at
// most most.
func measured(text string, at *regexp.Regexp, most float64, limits Would) (string, float64, error) {
	m := at.FindStringSubmatchIndex(text)
	if m == nil {
		return text, 0, nil
	}
	from, to := m[2], m[3]
	if from < 0 {
		from, to = m[4], m[5]
	}
	x := decimal(text[from:to])
	if !(0 < x && x <= most) {
		return text, 0, Mistake{Kind: BadOption, What: cut(strings.TrimSpace(text[m[0]:m[1]])), Would: limits}
	}
	return text[:m[0]] + ", " + text[m[1]:], x, nil
}

// tasteScale returns the scale that a word names.
func tasteScale(name string) bar.Scale {
	for _, scale := range scaleNames() {
		if slices.Contains(scale.names, strings.ToLower(name)) {
			return scale.of
		}
	}
	return bar.Sour
}

// A scaleName is a scale and what it is called.
type scaleName struct {
	of    bar.Scale
	names []string
}

func scaleNames() []scaleName {
	return []scaleName{
		{bar.Sour, []string{"sour", "sourness", "acid", "acidity", "acido", "aspro", "acidità", "ácido", "agrio", "acidez", "sauer", "säure", "acide", "acidité", "azedo"}},
		{bar.Bitter, []string{"bitter", "bitterness", "amaro", "amargo", "amer", "bitterkeit"}},
		{bar.Sweet, []string{"sweet", "sweetness", "dolce", "dulce", "süß", "süße", "doux", "sucré", "doce"}},
		{bar.Body, []string{"body", "corpo", "cuerpo", "körper", "corps"}},
		{bar.Dry, []string{"dry", "dryness", "secco", "seco", "trocken", "sec"}},
	}
}

// scaleWords are all names of scales, as a pattern has them.
func scaleWords() string {
	var all []string
	for _, scale := range scaleNames() {
		all = append(all, scale.names...)
	}
	return strings.Join(all, "|")
}
