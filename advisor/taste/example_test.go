package taste_test

import (
	"fmt"

	"shothand/advisor/taste"
)

func Example() {
	lexicon := taste.Default()
	words, unread := lexicon.Read("way too sour, not bitter, zork")
	fmt.Println(words, unread)

	r := lexicon.Judge([]taste.Tasting{{Taster: 1, Words: words}}, taste.Measured{})
	fmt.Println("under-extracted:", r.Extraction+r.ExtractionSD < 0)
	// Output:
	// [{sour 2 false false} {bitter 1 true false}] [zork]
	// under-extracted: true
}
