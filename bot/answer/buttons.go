package answer

import (
	"fmt"
	"strconv"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/bot/turn"
)

// adviceButtons returns what can be tapped under the advice, and under what could not
// be read.
func adviceButtons(v say.Advice, notes say.Notes) []chat.Button {
	list := adviceTaps(v, notes)
	return append(list, teachButtons(v.Lang(), v.Shot, notes.Unread, turn.MaxButtons-len(list))...)
}

// adviceTaps returns what can be tapped under the advice: two at the most, four
// for a question of taste.
func adviceTaps(v say.Advice, notes say.Notes) []chat.Button {
	state := func(verb string, args ...string) string {
		return turn.PressState(verb, v.Shot, args...)
	}
	switch {
	case notes.Direction:
		return []chat.Button{
			{Label: v.Lang().Say(say.LowerLabel), State: state(turn.PressFiner, "lower")},
			{Label: v.Lang().Say(say.HigherLabel), State: state(turn.PressFiner, "higher")},
		}
	case v.Because(why.Unmoved) && v.Placed():
		return stoodButtons(v)
	case v.Because(why.Untasted) && v.Kind() == chat.Question:
		return tasteButtons(v.Lang(), v.Shot)
	case !proposes(v), notes.Moved:
		return nil
	case v.Lever == bar.Grind:
		list := []chat.Button{{Label: v.Lang().Say(say.DidItLabel), State: state(turn.PressDid)}}
		if v.Unit == advisor.DialUnit {
			list = append(list, chat.Button{Label: v.Lang().StillLabel(v.Position(v.From)), State: state(turn.PressStill)})
		}
		return list
	case (v.Lever == bar.Yield || v.Lever == bar.Dose) && !v.Because(why.DoseOff) && !v.Because(why.YieldOff):
		return []chat.Button{
			{Label: v.Lang().Say(say.DidItLabel), State: state(turn.PressDid)},
			{Label: v.Lang().StillGrams(v.From), State: state(turn.PressStill)},
		}
	case v.Lever == bar.Yield, v.Lever == bar.Dose, v.Lever == bar.Time:
		return []chat.Button{{Label: v.Lang().Say(say.DidItLabel), State: state(turn.PressDid)}}
	case v.Lever == bar.Keep, v.Because(why.Confirm):
		return []chat.Button{{Label: v.Lang().Say(say.DialledLabel), State: state(turn.PressDialled)}}
	}
	return nil
}

// proposes reports whether an advice is there to be done, also with a drift that is
// told of.
func proposes(v say.Advice) bool {
	return v.Kind() == chat.Advice || v.Kind() == chat.Alert && v.Turns()
}

// tasteButtons ask how a shot tasted.
func tasteButtons(l say.Lang, shot bar.EntryID) []chat.Button {
	var list []chat.Button
	for _, word := range say.TasteTaps() {
		list = append(list, chat.Button{Label: l.Term(word), State: turn.PressState(turn.PressTaste, shot, word)})
	}
	return list
}

// CallButton calls a coffee dialled in by a shot.
func CallButton(l say.Lang, shot bar.EntryID) chat.Button {
	return chat.Button{Label: l.Say(say.DialledLabel), State: turn.PressState(turn.PressDialled, shot)}
}

// CallKey marks that a call of a shot's coffee was asked about.
func CallKey(shot bar.EntryID) string { return fmt.Sprintf("call %d", shot) }

// PressStood says where the dial stood in the last shots, where nobody had said so.
const PressStood = "stood"

// stoodButtons are the places where the dial may stand.
func stoodButtons(v say.Advice) []chat.Button {
	var list []chat.Button
	for _, x := range v.Stands[max(0, len(v.Stands)-turn.MaxButtons):] {
		arg := strconv.FormatFloat(float64(x), 'g', -1, 64)
		list = append(list, chat.Button{Label: v.StoodLabel(x), State: turn.PressState(PressStood, v.Shot, arg)})
	}
	return list
}

// What the state of a button about a word of the bar's own begins with.
const (
	PressTeach   = "teach"   // an unread word is to be taught: asks what it means
	PressRecipe  = "recipe"  // the dose and the yield of the shot are the recipe of its coffee
	PressMeans   = "means"   // what it means, "gribbly=sour"
	PressUnteach = "unteach" // a taught word is to be forgotten
)

// Bounds of what can be tapped. Longer words than longestTaught are taught by
// /setup, for a button holds only so much.
const (
	mostTeach     = 2
	longestTaught = 24
)

// teachButtons returns a button for each of some unread words, as many as there
// is room for.
func teachButtons(l say.Lang, shot bar.EntryID, unread []string, room int) []chat.Button {
	var list []chat.Button
	for _, word := range unread {
		if key := bar.Normal(word); key != "" && len(key) <= longestTaught && len(list) < min(room, mostTeach) {
			list = append(list, chat.Button{Label: l.TeachLabel(word), State: turn.PressState(PressTeach, shot, key)})
		}
	}
	return list
}
