package parse

import (
	"math"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Whoever speaks to a telephone gets numbers in words: "eighteen in thirty six
// out". From ten on they are read as numbers, in the languages of the grammar;
// below, they stay words, but before a point: "five point one". "Ten" is praise,
// and what is a small word of another language stays one: the Spanish "once". So does what is a
// word of taste of another: the Portuguese "doce".

// spelledNumbers are the words of numbers: those up to nine, from eleven on, and of
// tens that one up to nine may follow.
type spelledNumbers struct{ units, whole, tens map[string]float64 }

// numberWords has them. It is asked for at every word.
//
//nolint:gochecknoglobals // made once, never changed
var numberWords = sync.OnceValue(func() spelledNumbers {
	n := spelledNumbers{map[string]float64{}, map[string]float64{}, map[string]float64{}}
	for _, l := range numberLists() {
		units := strings.Fields(l.units)
		put(n.units, units, 1, 1)
		for first, words := range l.teens {
			put(n.whole, strings.Fields(words), float64(first), 1)
		}
		put(n.tens, strings.Fields(l.tens), 20, 10)
		for i, ten := range strings.Fields(l.tens) {
			for j, unit := range units {
				if l.joined != nil {
					n.whole[l.joined(ten, unit)] = float64(20 + 10*i + j + 1)
				}
			}
		}
	}
	return n
})

// put puts words in a map, with numbers from first on.
func put(m map[string]float64, words []string, first, step float64) {
	for i, w := range words {
		m[w] = first + float64(i)*step
	}
}

// A numberList is one language's words; joined writes one number above twenty as a
// word, nil where it is two.
type numberList struct {
	units  string
	teens  map[int]string // by the first of them
	tens   string
	joined func(ten, unit string) string
}

func numberLists() []numberList {
	return []numberList{
		{
			"one two three four five six seven eight nine",
			map[int]string{11: "eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"},
			"twenty thirty forty fifty sixty", nil,
		},
		{
			"ein zwei drei vier fünf sechs sieben acht neun",
			map[int]string{10: "zehn elf zwölf dreizehn vierzehn fünfzehn sechzehn siebzehn achtzehn neunzehn"},
			"zwanzig dreißig vierzig fünfzig sechzig", func(ten, unit string) string { return unit + "und" + ten },
		},
		{
			"un deux trois quatre cinq six sept huit neuf",
			map[int]string{10: "dix onze douze treize quatorze quinze seize", 17: "dix-sept dix-huit dix-neuf"},
			"vingt trente quarante cinquante soixante", nil,
		},
		{
			"uno due tre quattro cinque sei sette otto nove",
			map[int]string{10: "dieci undici dodici tredici quattordici quindici sedici diciassette diciotto diciannove"},
			"venti trenta quaranta cinquanta sessanta", joinedItalian,
		},
		{
			"uno dos tres cuatro cinco seis siete ocho nueve",
			map[int]string{
				10: "diez", 13: "trece catorce quince dieciséis diecisiete dieciocho diecinueve",
				21: "veintiuno veintidós veintitrés veinticuatro veinticinco veintiséis veintisiete veintiocho veintinueve",
			},
			"veinte treinta cuarenta cincuenta sesenta", nil,
		},
		{
			"um dois três quatro cinco seis sete oito nove",
			map[int]string{10: "dez onze doze treze catorze quinze dezesseis dezessete dezoito dezenove", 16: "dezasseis dezassete", 19: "dezanove"},
			"vinte trinta quarenta cinquenta sessenta", nil,
		},
	}
}

// joinedItalian writes "trentasei" and "ventotto".
func joinedItalian(ten, unit string) string {
	if unit == "uno" || unit == "otto" {
		ten = ten[:len(ten)-1]
	}
	return ten + unit
}

// spelled reads a number in words at the beginning of a text, and returns how many
// bytes it takes, 0 for none.
func spelled(text string) (x float64, n int) {
	numbers := numberWords()
	word, n := nextWord(text, 0)
	if whole, ok := strings.CutSuffix(word, "einhalb"); ok && whole != "" { // "achtzehneinhalb"
		if x, m := spelled(whole); m == len(whole) && x == math.Trunc(x) {
			return x + 0.5, n
		}
	}
	x, whole := numbers.whole[word]
	ten, isTen := numbers.tens[word]
	unit, isUnit := numbers.units[word]
	switch {
	case whole:
	case isTen:
		x = ten
		if one, end := unitBehind(text, n); end > 0 {
			x, n = ten+one, end
		}
	case isUnit:
		x = unit
	default:
		return tenths(text)
	}
	if part, end := tenthBehind(text, n); isUnit && end > 0 {
		return x * part, end
	}
	if part, end := pointBehind(text, n); end > 0 {
		return x + part, end
	}
	if !whole && !isTen {
		return 0, 0
	}
	return x, n
}

// tenths reads "a tenth", "d'un dixième" at the beginning of a text.
func tenths(text string) (x float64, n int) {
	elided := 0
	if low := strings.ToLower(text[:min(2, len(text))]); low == "d'" {
		elided = 2
	}
	switch word, end := nextWord(text[elided:], 0); word {
	case "a", "un", "une", "una", "um", "uma", "eine", "einen":
		if x, n := tenthBehind(text, elided+end); n > 0 {
			return x, n
		}
	}
	return 0, 0
}

// tenthBehind reads the "tenths" of "two tenths".
func tenthBehind(text string, at int) (x float64, end int) {
	switch word, end := nextWord(text, at); word {
	case "tenth", "tenths", "zehntel", "decimo", "decimi", "dixième", "dixièmes", "décima", "décimas", "decima", "decimas", "décimo", "décimos":
		return 0.1, end
	}
	return 0, 0
}

// unitBehind reads the "six" of "thirty six", "treinta y seis", "trente-six".
func unitBehind(text string, at int) (x float64, end int) {
	word, end := nextWord(text, at)
	if word == "y" || word == "e" || word == "et" || word == "und" {
		word, end = nextWord(text, end)
	}
	x, ok := numberWords().units[word]
	if !ok {
		return 0, 0
	}
	return x, end
}

// pointBehind reads "point five" and "komma fünf".
func pointBehind(text string, at int) (x float64, end int) {
	word, end := nextWord(text, at)
	switch word {
	case "point", "komma", "punkt", "virgule", "virgola", "coma", "vírgula":
	default:
		return 0, 0
	}
	word, end = nextWord(text, end)
	if x, ok := numberWords().units[word]; ok {
		return x / 10, end
	}
	if word == "zero" || word == "oh" || word == "null" || word == "zéro" || word == "cero" {
		return 0, end
	}
	return 0, 0
}

// halved reads the half behind a whole number, in figures or in words: "thirty eight and a
// half", "18 e mezzo".
func (l *lexer) halved() {
	t := l.last()
	if t.kind != numberToken || t.num.form != plainForm || t.num.vals[0] != math.Trunc(t.num.vals[0]) {
		return
	}
	for _, half := range []string{
		"and a half", "and half", "point five", "e mezzo", "e mezza", "y medio", "y media", "et demi", "et demie", "e meio", "e meia", "einhalb", "und ein halb", "und ein halbes",
	} {
		rest := l.text[l.at:]
		if n := len(half) + 1; len(rest) >= n && (rest[0] == ' ' || rest[0] == '-') && strings.EqualFold(rest[1:n], half) {
			if r, _ := utf8.DecodeRuneInString(rest[n:]); !unicode.IsLetter(r) && !isDigit(r) {
				l.at += n
				t.text, t.num = l.text[t.start:l.at], plain(t.num.vals[0]+0.5)
				t.low = fold(t.text)
				return
			}
		}
	}
}

// nextWord returns the letters behind one space or hyphen, in lower case, and where
// they end. French words of two parts are one.
func nextWord(text string, at int) (string, int) {
	if at > 0 && at < len(text) && (text[at] == ' ' || text[at] == '-') {
		at++
	} else if at > 0 {
		return "", 0
	}
	end := at
	for end < len(text) {
		r, size := utf8.DecodeRuneInString(text[end:])
		whole := r == '-' && strings.EqualFold(text[at:end], "dix")
		if !unicode.IsLetter(r) && !whole {
			break
		}
		end += size
	}
	if r, _ := utf8.DecodeRuneInString(text[end:]); isDigit(r) || r == '\'' || r == '’' {
		return "", 0
	}
	return strings.ReplaceAll(strings.ToLower(text[at:end]), "dreissig", "dreißig"), end
}

// isSpelled reports whether a token is a number in words.
func (t token) isSpelled() bool {
	r, _ := utf8.DecodeRuneInString(t.text)
	return t.kind == numberToken && unicode.IsLetter(r) && t.num.vals[0] < 100
}
