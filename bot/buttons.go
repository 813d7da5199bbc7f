package bot

import (
	"strconv"
	"strings"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
)

// adviceButtons returns what can be tapped under the advice, and under what could not
// be read.
func adviceButtons(v say.Advice, notes say.Notes) []chat.Button {
	list := adviceTaps(v, notes)
	return append(list, teachButtons(v.Lang(), v.Shot, notes.Unread, maxButtons-len(list))...)
}

// adviceTaps returns what can be tapped under the advice: two at the most, four
// for a question of taste.
func adviceTaps(v say.Advice, notes say.Notes) []chat.Button {
	state := func(verb string, args ...string) string {
		return pressState(verb, v.Shot, args...)
	}
	switch {
	case notes.Direction:
		return []chat.Button{
			{Label: v.Lang().Say(say.LowerLabel), State: state(pressFiner, "lower")},
			{Label: v.Lang().Say(say.HigherLabel), State: state(pressFiner, "higher")},
		}
	case v.Because(why.Unmoved):
		return stoodButtons(v)
	case v.Because(why.Untasted) && v.Kind() == chat.Question:
		return tasteButtons(v.Lang(), v.Shot)
	case !proposes(v):
		return nil
	case v.Lever == bar.Grind:
		list := []chat.Button{{Label: v.Lang().Say(say.DidItLabel), State: state(pressDid)}}
		if v.Unit == advisor.DialUnit {
			list = append(list, chat.Button{Label: v.Lang().StillLabel(v.Position(v.From)), State: state(pressStill)})
		}
		return list
	case v.Lever == bar.Yield, v.Lever == bar.Dose, v.Lever == bar.Time:
		return []chat.Button{{Label: v.Lang().Say(say.DidItLabel), State: state(pressDid)}}
	case v.Lever == bar.Keep, v.Because(why.Confirm):
		return []chat.Button{{Label: v.Lang().Say(say.DialledLabel), State: state(pressDialled)}}
	}
	return nil
}

// proposes reports whether an advice is there to be done, also with a drift that is
// told of.
func proposes(v say.Advice) bool {
	turns := v.Lever == bar.Grind || v.Lever == bar.Yield || v.Lever == bar.Dose || v.Lever == bar.Time
	return v.Kind() == chat.Advice || v.Kind() == chat.Alert && turns
}

// What a button's state begins with.
const (
	pressDid     = "did"     // the advice was done
	pressStill   = "still"   // it was not: the grinder is where it was
	pressDialled = "dialled" // the coffee is dialled in
	pressUncall  = "uncall"  // it is not, after all
	pressTaste   = "taste"   // how the shot tasted
	pressCoffee  = "coffee"  // which coffee a held message is about
	pressNear    = "near"    // that it is about the one whose name is nearly so
	pressOrder   = "order"   // which order its numbers stand in
	pressFar     = "far"     // which number a far one is
	pressShot    = "shot"    // whether it is a shot: shotYes or shotNo
	pressPut     = "put"     // one number of a shot is another
	pressThat    = "that"    // of which of two coffees a shot is
	pressWas     = "was"     // a shot is as it was before a correction
	pressFiner   = "finer"   // which way the shot's dial goes
)

// pressState returns the state of a button about an entry.
func pressState(verb string, e bar.EntryID, args ...string) string {
	return strings.Join(append([]string{verb, idText(e)}, args...), ":")
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

// maxButtons is how many buttons stand under a post at most.
const maxButtons = 5

// coffeeButtons are its answers.
func coffeeButtons(e bar.EntryID, coffees []bar.Coffee) []chat.Button {
	var list []chat.Button
	for _, c := range coffees[:min(len(coffees), maxButtons)] {
		list = append(list, chat.Button{Label: c.Name, State: pressState(pressCoffee, e, idText(c.ID))})
	}
	return list
}

func idText[T ~uint64](id T) string { return strconv.FormatUint(uint64(id), 10) }

// tasteButtons ask how a shot tasted.
func tasteButtons(l say.Lang, shot bar.EntryID) []chat.Button {
	var list []chat.Button
	for _, word := range say.TasteTaps() {
		list = append(list, chat.Button{Label: l.Term(word), State: pressState(pressTaste, shot, word)})
	}
	return list
}

// orderButtons are its answers.
func orderButtons(l say.Lang, e bar.EntryID, p parse.Shot) []chat.Button {
	var coffee []string // that was asked before
	if p.Coffee != 0 {
		coffee = []string{idText(p.Coffee)}
	}
	state := func(order string) string { return pressState(pressOrder, e, append([]string{order}, coffee...)...) }
	return []chat.Button{
		{Label: l.Trio(p.Better), State: state(say.OrderBetter)},
		{Label: l.Say(say.AsTypedLabel), State: state(say.OrderTyped)},
	}
}

func noShotButton(l say.Lang, e bar.EntryID) chat.Button {
	return chat.Button{Label: l.Say(say.NoShotLabel), State: pressState(pressShot, e, say.ShotNo)}
}

// callButton calls a coffee dialled in by a shot.
func callButton(l say.Lang, shot bar.EntryID) chat.Button {
	return chat.Button{Label: l.Say(say.DialledLabel), State: pressState(pressDialled, shot)}
}
