package say

import (
	"strings"

	"shothand/advisor/taste"
	"shothand/bot/parse"
)

// Mistake says what was read and could not be taken.
func (l Lang) Mistake(m parse.Mistake) string {
	what := "“" + Clip(m.What) + "”"
	more := ""
	if m.More != "" {
		more = ": " + m.More
	}
	switch m.Kind {
	case parse.Impossible:
		return "No shot has " + what + more + ". Nothing was recorded."
	case parse.Ambiguous:
		return what + " could be more than one" + more + ". Nothing was recorded."
	case parse.UnknownCommand:
		if m.More != "" {
			return "There is no " + what + ". Did you mean " + m.More + "? /help lists what there is."
		}
		return "There is no " + what + ". /help lists what there is."
	case parse.UnknownOption:
		if more == "" {
			return "There is no option " + what + " here: it takes none. Nothing was changed."
		}
		return "There is no option " + what + " here" + more + "." + l.Meant(m.What, strings.Split(m.More, ", ")) + " Nothing was changed."
	case parse.MissingOption:
		if m.What == "text" {
			return "And the shot? Such as /shot 18.1 36.4 24 sour thin. Nothing was recorded."
		}
		if more != "" {
			return "Say what “" + Clip(m.What) + ":” is" + more + ". Nothing was changed."
		}
		return "Say what “" + Clip(m.What) + ":” is, or leave it out. Nothing was changed."
	case parse.GivenTwice:
		return "I read " + what + " twice. Say it once. Nothing was changed."
	case parse.OpenQuote:
		return "I read " + what + ", a quote that does not end: close it, or leave it out. Nothing was changed."
	case parse.BadOption:
		if strings.HasPrefix(m.What, "/") {
			return "There is no command " + what + ". There is " + m.More + "." + l.Meant(m.What, strings.Split(m.More, ", ")) + " Nothing was changed."
		}
		return "I cannot take " + what + more + "." + l.Meant(m.What, values(m.More)) + " Nothing was changed."
	case parse.Twice:
		return l.twiceText(m) + " Nothing was changed."
	case parse.Surplus:
		return l.surplusText(what, m.More) + " Nothing was changed."
	case parse.Several:
		return "I read two shots, " + what + " and “" + Clip(m.More) + "”: send each as a message of its own. Nothing was recorded."
	case parse.Unclear:
		return "There is a shot in " + what + ", but one of its numbers twice: say dose, yield and time once each. Nothing was recorded."
	case parse.BadPost:
		return l.badPost(m)
	case parse.TooLong:
		return "That is too long for a shot. Nothing was recorded."
	}
	return l.Say(Trouble)
}

// WaterOrYield refuses an option beside the one that it follows from.
const WaterOrYield English = "Say either the water poured or what is in the cups, not both: the one follows from the other. Nothing was begun."

// surplusText refuses words that a command has no use for.
func (l Lang) surplusText(what, command string) string {
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
func (l Lang) twiceText(m parse.Mistake) string {
	name, _, _ := strings.Cut(m.What, ":")
	return "I cannot place “" + Clip(m.More) + "” beside " + name + ": if it belongs to it, put both in quotes, as " + m.What + "."
}

// AfterNumber refuses what stands, or does not stand, after the number of a
// line.
func (l Lang) AfterNumber(number, rest string) string {
	if rest == "" {
		return "And what does line " + Clip(number) + " say, or its answer? Such as /edit " + Clip(number) + " 18 36 28. Nothing was changed."
	}
	return "/delete takes out one line, and I read “" + Clip(rest) + "” after its number. Type it once for each line. Nothing was changed."
}

// Meant asks whether the one name that is close to what was said was
// meant. It is empty where there is none.
func (l Lang) Meant(said string, all []string) string {
	if near := Nearest(said, all); near != "" {
		return " Did you mean " + near + "?"
	}
	return ""
}

// Nearest returns the one name that is close to what was said. It is empty where
// none is, or two are as close.
func Nearest(said string, all []string) string {
	said = strings.ToLower(strings.TrimSpace(said))
	if len(said) < 3 || len(said) > MaxName {
		return ""
	}
	best, at, ties := "", 3, 0
	for _, name := range all {
		low := strings.ToLower(name)
		if len(low) < 3 {
			continue
		}
		if strings.HasPrefix(said, low+" ") {
			return name
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
	return best
}

// Misspelt returns a piece of what was typed that is nearly right, and what it
// should be; both are empty where a mistake is of another sort.
func Misspelt(m parse.Mistake) (typed, right string) {
	switch m.Kind {
	case parse.UnknownCommand:
		return m.What, m.More
	case parse.UnknownOption:
		if near := Nearest(m.What, strings.Split(m.More, ", ")); near != "" {
			return m.What + ":", near + ":"
		}
	case parse.BadOption:
		return m.What, Nearest(m.What, values(m.More))
	case parse.Impossible, parse.Ambiguous, parse.MissingOption, parse.GivenTwice, parse.OpenQuote, parse.TooLong, parse.Twice,
		parse.Surplus, parse.Several, parse.Unclear, parse.BadPost:
	}
	return "", ""
}

// values are those that an option takes, of a list of them.
func values(list string) []string {
	return strings.Split(strings.ReplaceAll(list, " or ", ", "), ", ")
}

// NothingDone answers a no to whether something else was meant.
const NothingDone English = "Nothing was done."

// WhichChange asks which one a command is to change.
func (l Lang) WhichChange(command, which string, all []string) string {
	if len(all) == 0 {
		return which
	}
	return which + " Name it: /" + command + " name:" + all[0] + ". Nothing was changed."
}

// NothingChanged says that a command said nothing new.
func (l Lang) NothingChanged(still string) string {
	return "Nothing was changed, for nothing of it is new. " + still
}

// MentionWhom says that nobody is put down by somebody else.
func (l Lang) MentionWhom(said string) string {
	return "I cannot take “" + Clip(said) + "”: everybody asks for themselves, with /mention, or /mention me:no to end it. Nothing was changed."
}

// NoWater says that an espresso is told by its yield.
func (l Lang) NoWater(water string) string {
	return "I cannot take “water:" + Clip(water) + "” for an espresso: say what is in the cups, as yield:36, or add method:pour-over. Nothing was begun."
}

// SinceTwice says that two spans were named.
func (l Lang) SinceTwice(words, since string) string {
	return "I read two spans, “" + Clip(words) + "” and “since:" + Clip(since) + "”. Say one of them."
}
