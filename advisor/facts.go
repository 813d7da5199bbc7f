package advisor

import (
	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// purgeOf returns how much g is purged with, in g.
func purgeOf(g bar.Grinder) float64 {
	if g.Purge > 0 {
		return float64(g.Purge)
	}
	return purgeGrams
}

// targetOf returns how far from balanced a coffee's cups are meant to stand.
// Common practice, no source: half of what is clearly noticed, or less.
func targetOf(a bar.Aim) taste.Place {
	switch a {
	case bar.Bright:
		return taste.Place{Extraction: -0.3}
	case bar.Rich:
		return taste.Place{Strength: 0.4}
	case bar.NoAim, bar.Round:
	}
	return taste.Place{}
}
