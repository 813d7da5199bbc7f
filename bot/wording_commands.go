package bot

import (
	"strings"

	"shothand/advisor/taste"
	"shothand/bot/parse"
)

// Sentences about what a command was given and cannot take.
const waterOrYieldText = "Say either the water poured or what is in the cups, not both: the one follows from the other. Nothing was begun."

// surplusText refuses words that a command has no use for.
func surplusText(what, command string) string {
	switch command {
	case "/undo":
		return "/undo takes back one entry, and I read " + what + " after it. Type /undo alone, and again for the one before."
	case "/forget":
		return "/forget takes out your own name and nobody else's, and I read " + what + " after it. Type /forget alone."
	case "/setup":
		return "I cannot place " + what + ": /setup takes each fact by its name, as zone:Europe/Berlin."
	case "/layers taste":
		return "I cannot place " + what + ": /layers taste takes each cup by its name, as early:sour, or post the cups without a command."
	}
	return command + " takes nothing after it, and I read " + what + ". Type " + command + " alone."
}

// twiceText refuses words beside an option that could be their own place.
func twiceText(m parse.Mistake) string {
	name, _, _ := strings.Cut(m.What, ":")
	return "I cannot place “" + clip(m.More) + "” beside " + name + ": if it belongs to it, put both in quotes, as " + m.What + "."
}

// AfterNumberText refuses what stands, or does not stand, after the number of a
// line.
func AfterNumberText(number, rest string) string {
	if rest == "" {
		return "And what does line " + clip(number) + " say, or its answer? Such as /edit " + clip(number) + " 18 36 28. Nothing was changed."
	}
	return "/delete takes out one line, and I read “" + clip(rest) + "” after its number. Type it once for each line. Nothing was changed."
}

// MeantText asks whether the one name that is close to what was said was
// meant. It is empty where none is, or two are as close.
func MeantText(said string, all []string) string {
	said = strings.ToLower(strings.TrimSpace(said))
	if len(said) < 3 || len(said) > maxName {
		return ""
	}
	best, at, ties := "", 3, 0
	for _, name := range all {
		low := strings.ToLower(name)
		if len(low) < 3 {
			continue
		}
		if strings.HasPrefix(said, low+" ") {
			return " Did you mean " + name + "?"
		}
		switch d := taste.Edits(said, low); {
		case 2*d >= len(low) || d > at || d == 0:
		case strings.EqualFold(name, best):
		case d == at && best != "":
			ties++
		default:
			best, at, ties = name, d, 0
		}
	}
	if best == "" || ties > 0 || at > 2 {
		return ""
	}
	return " Did you mean " + best + "?"
}

// whichChangeText asks which one a command is to change.
func whichChangeText(command, which string, all []string) string {
	if len(all) == 0 {
		return which
	}
	return which + " Name it: /" + command + " name:" + all[0] + ". Nothing was changed."
}

// nothingChangedText says that a command said nothing new.
func nothingChangedText(still string) string {
	return "Nothing was changed, for nothing of it is new. " + still
}

// mentionWhomText says that nobody is put down by somebody else.
func mentionWhomText(said string) string {
	return "I cannot take “" + clip(said) + "”: everybody asks for themselves, with /mention, or /mention me:no to end it. Nothing was changed."
}

// noWaterText says that an espresso is told by its yield.
func noWaterText(water string) string {
	return "I cannot take “water:" + clip(water) + "” for an espresso: say what is in the cups, as yield:36, or add method:pour-over. Nothing was begun."
}

// sinceTwiceText says that two spans were named.
func sinceTwiceText(words, since string) string {
	return "I read two spans, “" + clip(words) + "” and “since:" + clip(since) + "”. Say one of them."
}
