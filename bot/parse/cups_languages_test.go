package parse

import "testing"

// What a tasting asks people to type in the bar's language is read.
func TestCupsInEveryLanguage(t *testing.T) {
	for _, text := range []string{
		"prima 12,1 g aspro / seconda 12,8 g equilibrato / terza 11,9 g amaro",
		"primera 12,1 g agrio / segunda 12,8 g equilibrado / tercera 11,9 g amargo",
		"erste 12,1 g sauer / zweite 12,8 g ausgewogen / dritte 11,9 g bitter",
		"première 12,1 g aigre / deuxième 12,8 g équilibré / troisième 11,9 g amer",
		"primeira 12,1 g azedo / segunda 12,8 g equilibrado / terceira 11,9 g amargo",
	} {
		c, ok, err := CupWords(text, false)
		if err != nil || !ok || len(c.Sips) != 3 {
			t.Errorf("%q: %+v, %v, %v", text, c, ok, err)
			continue
		}
		for i, mass := range []float64{12.1, 12.8, 11.9} {
			if s := c.Sips[i]; int(s.Of) != i || s.Mass != mass || len(s.Words) != 1 || len(s.Unread) > 0 {
				t.Errorf("%q: cup %d is %+v", text, i, s)
			}
		}
	}
	for _, text := range []string{"nessuna differenza", "sin diferencia", "kein Unterschied", "aucune différence", "sem diferença"} {
		if c, ok, err := CupWords(text, false); err != nil || !ok || c.Better != "same" {
			t.Errorf("%q: %+v, %v, %v", text, c, ok, err)
		}
	}
}
