package parse

import (
	"maps"
	"slices"
	"strings"
	"sync"
)

// leastAccented is the shortest word, in bytes without its accents, that gets them back:
// shorter ones are words of other languages. Assumed.
const leastAccented = 4

// accented gives the words of a dial and its grinder their accents back, which a phone has
// lost: "muhle" and "muehle" are Mühle, "zuruckgedreht" is zurückgedreht. One on the last
// letter tells words apart, "change" and changé, and is left.
//
//nolint:gochecknoglobals // made once, never changed
var accented = sync.OnceValue(func() map[string]string {
	all := slices.Concat(grinderWords(), dialWords(), setWords(), movingWords(), turningWords(), tweaks(), climbs(), littles(), backs(), []string{"gröber", "größer"})
	words := map[string]string{}
	for _, word := range all {
		for _, bare := range []string{unaccented.Replace(word), umlauts.Replace(word)} {
			if last := len(bare) - 1; len(bare) >= leastAccented && bare != word && bare[last] == word[len(word)-1] && !slices.Contains(all, bare) {
				words[bare] = word
			}
		}
	}
	return words
})

//nolint:gochecknoglobals // tables
var (
	unaccented  = strings.NewReplacer("ä", "a", "ö", "o", "ü", "u", "ß", "ss", "á", "a", "à", "a", "â", "a", "ã", "a", "é", "e", "è", "e", "ê", "e", "í", "i", "ï", "i", "ó", "o", "ô", "o", "õ", "o", "ú", "u", "û", "u", "ç", "c", "ñ", "n")
	undigraphed = strings.NewReplacer("ae", "ä", "oe", "ö", "ue", "ü")
	umlauts     = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss")
)

// withoutAccents adds words of several kinds without their accents, which a phone has lost,
// where that is no word of them itself.
func withoutAccents[T ~int](kinds map[string]T) map[string]T {
	bares := map[string]T{}
	for word, kind := range kinds {
		for _, bare := range []string{unaccented.Replace(word), umlauts.Replace(word)} {
			if kinds[bare] == 0 {
				bares[bare] |= kind
			}
		}
	}
	maps.Copy(kinds, bares)
	return kinds
}
