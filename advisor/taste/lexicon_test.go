package taste

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"shothand/advisor/bar"
)

func TestLexiconFileIsSound(t *testing.T) {
	l, err := parseLexicon(lexiconText)
	if err != nil {
		t.Fatal(err)
	}
	forms := 0
	for _, m := range l.phrases {
		if m.role == term {
			forms++
		}
	}
	if forms < 150 {
		t.Errorf("%d words and phrases of taste, want at least 150", forms)
	}
	published := regexp.MustCompile(`[A-Z][a-z]+ (19|20)\d\d [A-Z]`)
	for _, e := range l.Entries() {
		if e.Evidence != "common practice, no source" && !published.MatchString(e.Evidence) {
			t.Errorf("%s: evidence %q names neither a source nor its lack", e.Term, e.Evidence)
		}
	}
	for word := range l.ordinary {
		if _, listed := l.phrases[word]; listed {
			t.Errorf("%q is both listed and ordinary", word)
		}
	}
}

func TestLexiconFileRefuses(t *testing.T) {
	const good = "sour | acid | taste | extraction -1 | common practice, no source\n"
	for _, test := range []struct{ text, want string }{
		{"sour | acid | taste | extraction -1\n", "4 fields"},
		{"sour | acid | smell | extraction -1 | x\n", "unknown kind"},
		{"sour | acid | taste | acidity -1 | x\n", "unknown loading"},
		{"sour | acid | taste | extraction lots | x\n", "no number"},
		{"sour | acid | taste | extraction NaN | x\n", "no number"},
		{"sour | acid | taste | extraction -50 | x\n", "no number"},
		{"sour | acid | fault | fault dirt | x\n", "unknown fault"},
		{good + good, "listed twice"},
		{good + "filler: acid\n", "listed twice"},
		{"degree 9: acid\n", "bad degree"},
		{good + "[it]\nbitter | amaro | common practice, no source\n", "no entry"},
		{good + "[it]\nsour | aspro\n", "want head"},
		{good + "[it]\nsour | aspro | x | y\n", "want head"},
		{good + "[it]\nsour | aspro, Àspro | common practice, no source\n", "listed twice"},
		{"perhaps: acid\n", "unknown list"},
		{"acid\n", "neither"},
		{"not: '\n", "empty phrase"},
	} {
		_, err := parseLexicon(test.text)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%q: error %v, want one about %q", test.text, err, test.want)
		}
		if err != nil && !strings.HasPrefix(err.Error(), "lexicon line ") {
			t.Errorf("%q: %v does not say where", test.text, err)
		}
	}
}

// Every word moves the reading the way it claims to.
func TestEveryWordKeepsItsWord(t *testing.T) {
	l := Default()
	neutral := l.Judge(nil, Measured{})
	for _, e := range l.Entries() {
		r := say(l, bar.Word{Term: e.Term, Degree: 1})
		sameSign(t, e.Term+": extraction", r.Extraction, e.Extraction)
		sameSign(t, e.Term+": strength", r.Strength, e.Strength)
		sameSign(t, e.Term+": praise", r.Praise, e.Praise)
		sameSign(t, e.Term+": even", r.Even-neutral.Even, e.Even)
		if e.Centre > 0 && !(r.ExtractionSD < neutral.ExtractionSD && r.StrengthSD < neutral.StrengthSD) {
			t.Errorf("%s: a word of the centre widened the reading: %+v", e.Term, r)
		}
		if (e.Fault != 0) != (len(r.Faults) == 1 && r.Faults[0] == e.Fault) {
			t.Errorf("%s: faults %v, want %v", e.Term, r.Faults, e.Fault)
		}
		if r.Tasted != (e.Kind != Flow) {
			t.Errorf("%s: tasted %v", e.Term, r.Tasted)
		}
	}
}

func sameSign(t *testing.T, what string, got, claimed float64) {
	t.Helper()
	const nothing = 1e-9
	if claimed == 0 && math.Abs(got) > nothing || claimed != 0 && !(got*claimed > nothing*nothing) {
		t.Errorf("%s: moved %+.3g, claimed %+g", what, got, claimed)
	}
}

// The directions that have been published, on drip coffee; 0 where the source
// says nothing that the lexicon rests on.
func TestPublishedDirections(t *testing.T) {
	const (
		frost   = "Frost 2020 J Food Sci 85:2530"
		guinard = "Guinard 2023 J Food Sci 88:2168"
	)
	for _, test := range []struct {
		term                 string
		extraction, strength float64
		source               string
	}{
		{"sour", 0, +1, frost},
		{"sour", -1, 0, guinard}, // one of two summaries; the other finds no effect
		{"acidic", -1, +1, guinard},
		{"bitter", +1, +1, guinard},
		{"bitter", 0, +1, frost},
		{"astringent", +1, +1, guinard},
		{"dry", +1, +1, guinard},
		{"sweet", 0, -1, frost},
		{"heavy", 0, +1, frost}, // thickness
		{"thick", 0, +1, frost},
		{"syrupy", 0, +1, frost},
		{"thin", 0, -1, frost},
		{"watery", 0, -1, frost},
		{"lemony", -1, +1, guinard}, // citrus
		{"juicy", -1, 0, guinard},   // berry
		{"burnt", +1, +1, guinard},  // roasted, burnt
		{"ashy", +1, +1, guinard},   // burnt wood, ash
		{"ashy", 0, +1, frost},
		{"smoky", +1, +1, guinard}, // roasted
	} {
		l := Default()
		e, ok := l.Entry(test.term)
		if author, _, _ := strings.Cut(test.source, " "); !ok || !strings.Contains(e.Evidence, author) {
			t.Errorf("%s: evidence %q does not name %s", test.term, e.Evidence, test.source)
		}
		r := say(l, bar.Word{Term: test.term, Degree: 1})
		if test.extraction*r.Extraction < 0 || test.strength*r.Strength < 0 {
			t.Errorf("%s reads %+.2f, %+.2f against %s", test.term, r.Extraction, r.Strength, test.source)
		}
	}
}

// say returns the reading of one taster's words.
func say(l *Lexicon, words ...bar.Word) Reading {
	return l.Judge([]Tasting{{Taster: 1, Words: words}}, Measured{})
}
