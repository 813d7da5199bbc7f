package bot

import (
	"slices"
	"strconv"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
	"shothand/bot/chat"
)

// A view is an advice and what it is about, looked up for the wording.
type view struct {
	advisor.Advice
	coffee  bar.Coffee
	grinder bar.Grinder
	shot    bar.Shot
	known   bool       // the shot is there
	other   bar.Coffee // that drifts the same way, so that both grinds may be innocent; or none
	ends    bar.Ends
	later   []bar.Word
	voices  []voice
	echo    []string // the words of taste as they were typed
	long    bool     // the first advice to purge today: say it at length
}

// spoken returns what was said of the shot, then and later.
func (v view) spoken() []bar.Word { return append(slices.Clone(v.shot.Words), v.later...) }

func newView(h bar.History, a advisor.Advice) view {
	h = advisor.Heard(h)
	v := view{Advice: a, ends: h.Bar.Ends, long: a.Nth <= 1}
	for _, g := range h.Grinders {
		if g.ID == a.Grinder {
			v.grinder = g
		}
	}
	for _, c := range h.Coffees {
		if c.ID == a.Coffee {
			v.coffee = c
		}
	}
	for _, e := range h.Entries {
		if s, ok := e.What.(bar.Shot); ok && e.ID == a.Shot {
			v.shot, v.known = s, true
			v.coffee.Recipe = v.coffee.RecipeFor(s.Marks)
		}
		if w, ok := e.What.(bar.Words); ok && w.Shot == a.Shot {
			v.later = append(v.later, w.Words...)
		}
	}
	v.voices = voicesOn(h, a.Shot)
	for _, voice := range v.voices {
		v.echo = append(v.echo, voice.said...)
	}
	return v
}

// because reports whether a reason was given.
func (v view) because(r why.Reason) bool {
	return slices.Contains(v.Reasons, r)
}

// kind returns what sort of post the advice is.
func (v view) kind() chat.PostKind {
	switch {
	case v.because(why.Cleaner):
		return chat.Alert
	case v.Lever == bar.NoLever:
		return chat.Info
	case v.shot.Marks.Has(bar.Practice), v.served():
		return chat.Recorded
	case v.because(why.Untasted):
		return chat.Question
	}
	return chat.Advice
}

// served reports a shot of a dialled-in coffee that needs no word.
func (v view) served() bool {
	return v.State != advisor.Dialling && (v.Lever == bar.Keep || v.because(why.Confirm) || v.because(why.Untasted))
}

// buttons returns what can be tapped under the advice, and under what could not
// be read.
func (v view) buttons(notes shotNotes) []chat.Button {
	list := v.taps(notes)
	return append(list, teachButtons(v.Advice.Shot, notes.unread, maxButtons-len(list))...)
}

// taps returns what can be tapped under the advice: two at the most, four
// for a question of taste.
func (v view) taps(notes shotNotes) []chat.Button {
	state := func(verb string, args ...string) string {
		return pressState(verb, v.Advice.Shot, args...)
	}
	switch {
	case notes.direction:
		return []chat.Button{
			{Label: lowerLabel, State: state(pressFiner, "lower")},
			{Label: higherLabel, State: state(pressFiner, "higher")},
		}
	case v.because(why.Untasted) && v.kind() == chat.Question:
		var list []chat.Button
		for _, word := range tasteTaps() {
			list = append(list, chat.Button{Label: word, State: state(pressTaste, word)})
		}
		return list
	case v.kind() != chat.Advice:
		return nil
	case v.Lever == bar.Grind:
		list := []chat.Button{{Label: didItLabel, State: state(pressDid)}}
		if v.Unit == advisor.DialUnit {
			list = append(list, chat.Button{Label: stillLabel(v.position(v.From)), State: state(pressStill)})
		}
		return list
	case v.Lever == bar.Yield, v.Lever == bar.Dose, v.Lever == bar.Time:
		return []chat.Button{{Label: didItLabel, State: state(pressDid)}}
	case v.Lever == bar.Keep, v.because(why.Confirm):
		return []chat.Button{{Label: dialledLabel, State: state(pressDialled)}}
	}
	return nil
}

// What a button's state begins with.
const (
	pressDid     = "did"     // the advice was done
	pressStill   = "still"   // it was not: the grinder is where it was
	pressDialled = "dialled" // the coffee is dialled in
	pressTaste   = "taste"   // how the shot tasted
	pressCoffee  = "coffee"  // which coffee a held message is about
	pressNear    = "near"    // that it is about the one whose name is nearly so
	pressOrder   = "order"   // which order its numbers stand in
	pressFar     = "far"     // which number a far one is
	pressShot    = "shot"    // whether it is a shot: shotYes or shotNo
	pressPut     = "put"     // one number of a shot is another
	pressFiner   = "finer"   // which way the shot's dial goes
)

// pressState returns the state of a button about an entry.
func pressState(verb string, e bar.EntryID, args ...string) string {
	return strings.Join(append([]string{verb, strconv.FormatUint(uint64(e), 10)}, args...), ":")
}

// readPress takes a state apart again.
func readPress(state string) (verb string, e bar.EntryID, arg string, ok bool) {
	verb, rest, ok := strings.Cut(state, ":")
	if !ok {
		return "", 0, "", false
	}
	number, arg, _ := strings.Cut(rest, ":")
	id, err := strconv.ParseUint(number, 10, 64)
	return verb, bar.EntryID(id), arg, err == nil
}
