package recent

import (
	"slices"

	"shothand/advisor/bar"
)

// Ignored returns a shot that is to be no shot at all, also not as a device
// posted it.
func Ignored(e bar.Entry) bar.Entry {
	if s, ok := e.What.(bar.Shot); ok {
		s.Posted = 0
		e.What = s
	}
	return e
}

// Assumed returns s with what was taken from a recipe taken from this one.
func Assumed(s bar.Shot, recipe bar.Recipe) bar.Shot {
	if s.Dose.From == bar.Assumed {
		s.Dose.X = recipe.Dose
	}
	if s.Yield.From == bar.Assumed {
		s.Yield.X = recipe.Yield
	}
	return s
}

// Marked returns marks with what was said of them later.
func Marked(m, later bar.Marks) bar.Marks {
	if later&(bar.Purged|bar.NotPurged) != 0 {
		m &^= bar.Purged | bar.NotPurged
	}
	return m | later
}

// TastedBy reports whether a person, 0 for anybody, has said how a shot tastes.
func (r *Book) TastedBy(shot bar.Entry, who bar.PersonID) bool {
	s, _ := shot.What.(bar.Shot)
	said := func(e bar.Entry, words []bar.Word) bool {
		return len(words) > 0 && (who == 0 || e.Person == who)
	}
	return said(shot, s.Words) || slices.ContainsFunc(r.Recent, func(e bar.Entry) bool {
		w, ok := e.What.(bar.Words)
		return ok && w.Shot == shot.ID && said(e, w.Words)
	})
}
