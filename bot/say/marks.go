package say

import "shothand/advisor/bar"

// NotedMarks says what was noted of a shot besides its numbers and its taste, or
// that it was known.
func (l Lang) NotedMarks(m bar.Marks, known bool) string {
	if known {
		return l.Say("Noted already: %s.", l.List(l.marks(m)))
	}
	return l.Say("Noted: %s.", l.List(l.marks(m)))
}

// marks names them.
func (l Lang) marks(m bar.Marks) (names []string) {
	for _, known := range []struct {
		mark bar.Marks
		name English
	}{
		{bar.Practice, "practice"},
		{bar.Sink, "poured away"},
		{bar.Single, "a single"},
		{bar.First, "the first after a pause"},
		{bar.Purged, "purged"},
		{bar.NotPurged, "not purged"},
		{bar.Choked, "choked"},
		{bar.Stopped, "stopped early"},
		{bar.Spurted, "it sprayed"},
		{bar.Stuck, "the same grind"},
		{bar.InMilk, "for milk"},
	} {
		if m.Has(known.mark) {
			names = append(names, l.Say(known.name))
		}
	}
	return names
}
