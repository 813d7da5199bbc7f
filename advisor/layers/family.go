package layers

import (
	"slices"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// Families lists what words and scales are about, in the order of the scales.
func Families() []bar.Scale { return []bar.Scale{bar.Sour, bar.Bitter, bar.Sweet, bar.Body, bar.Dry} }

// plain is the score of a plain word: a "very" is half as much again and "a
// bit" half of it. Assumed.
const plain = 3

// ScoreOf returns what a cup has of a family, 0 to 5: what the taster gave it,
// else what the words say. Body is below 0 for thin. A family nobody spoke of
// has none.
func ScoreOf(s bar.Note, of bar.Scale) float64 {
	for _, score := range s.Scores {
		if score.Of == of {
			return score.X
		}
	}
	most := 0.0
	for _, w := range s.Words {
		side := sideOf(w.Term, of)
		if side == 0 || w.Not {
			continue
		}
		if x := side * min(plain*w.Degree, MostScore); most*side <= 0 || x*side > most*side {
			most = x
		}
	}
	return most
}

// Named reports whether a cup was said to have something of a family.
func Named(s bar.Note, of bar.Scale) bool {
	const some = 1.5 // "a bit" counts, a score of 1 does not
	x := ScoreOf(s, of)
	return x >= some || -x >= some
}

// leaning is how sharply a word must depend on extraction or strength to be of
// a family, in logits a taste step.
const leaning = 0.9

// sideOf returns 1 if a word is of a family, −1 if it says the contrary, else
// 0. What it leans to is the lexicon's.
func sideOf(term string, of bar.Scale) float64 {
	e, ok := taste.Default().Entry(term)
	if !ok || e.Fault != 0 || e.Kind == taste.Flow {
		return 0
	}
	drying := slices.Contains([]string{"dry", "astringent", "chalky", "dry finish"}, e.Term)
	body := e.Kind == taste.Body && !drying
	switch of {
	case bar.Dry:
		return side(drying)
	case bar.Body:
		return side(body && (e.Strength >= leaning || e.Term == "good body")) - side(body && e.Strength <= -leaning)
	case bar.Sour:
		return side(!body && !drying && e.Extraction <= -leaning)
	case bar.Bitter:
		return side(!body && !drying && e.Extraction >= leaning)
	case bar.Sweet:
		return side(!body && !drying && e.Centre > 0 && (e.Praise > 0 || e.Term == "sweet"))
	}
	return 0
}

func side(is bool) float64 {
	if is {
		return 1
	}
	return 0
}
