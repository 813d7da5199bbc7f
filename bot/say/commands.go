package say

import (
	"strings"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/parse"
)

// Mistake says what was read and could not be taken.
func (l Lang) Mistake(m parse.Mistake) string {
	what := Clip(m.What)
	more := l.would(m)
	if more != "" {
		more = l.Colon() + more
	}
	switch m.Kind {
	case parse.Impossible:
		return l.Say("No shot has “%s”%s.", l.figured(what), more) + " " + l.Say(nothingRecorded)
	case parse.Ambiguous:
		return l.Say("“%s” could be more than one%s.", what, more) + " " + l.Say(nothingRecorded)
	case parse.UnknownCommand:
		if m.More != "" {
			return l.Say("There is no “%s”. Did you mean %s? /help lists what there is.", what, m.More)
		}
		return l.Say("There is no “%s”. /help lists what there is.", what)
	case parse.UnknownOption:
		if more == "" {
			return l.Say("There is no option “%s” here: it takes none.", what) + " " + l.Say(NothingChanged)
		}
		return l.Say("There is no option “%s” here%s.", what, more) + l.Meant(m.What, strings.Split(m.More, ", ")) + " " + l.Say(NothingChanged)
	case parse.MissingOption:
		if m.What == "text" {
			return l.Say("And the shot? Such as /shot 18.1 36.4 24 sour thin.") + " " + l.Say(nothingRecorded)
		}
		if more != "" {
			return l.Say("Say what “%s:” is%s.", what, more) + " " + l.Say(NothingChanged)
		}
		return l.Say("Say what “%s:” is, or leave it out.", what) + " " + l.Say(NothingChanged)
	case parse.GivenTwice:
		return l.Say("I read “%s” twice. Say it once.", what) + " " + l.Say(NothingChanged)
	case parse.OpenQuote:
		return l.Say("I read “%s”, a quote that does not end: close it, or leave it out.", what) + " " + l.Say(NothingChanged)
	case parse.BadOption:
		if strings.HasPrefix(m.What, "/") && !strings.Contains(m.What, " ") {
			return l.Say("“%s” takes one more word: %s.", what, m.More) + " " + l.Say(NothingChanged)
		}
		if strings.HasPrefix(m.What, "/") {
			return l.Say("There is no command “%s”. There is %s.", what, m.More) + l.Meant(m.What, strings.Split(m.More, ", ")) + " " + l.Say(NothingChanged)
		}
		return l.Say("I cannot take “%s”%s.", what, more) + l.Meant(m.What, values(m)) + " " + l.Say(NothingChanged)
	case parse.Twice:
		return l.twiceText(m) + " " + l.Say(NothingChanged)
	case parse.Surplus:
		return l.surplusText(what, m.More) + " " + l.Say(NothingChanged)
	case parse.Several:
		return l.Say("I read two shots, “%s” and “%s”: send each as a message of its own.", what, Clip(m.More)) + " " + l.Say(nothingRecorded)
	case parse.SeveralDials:
		return l.Say("I read two settings, “%s” and “%s”: send each as a message of its own. Nothing was noted.", what, Clip(m.More))
	case parse.NoCoffee, parse.PerhapsCoffee:
		if _, near := Misspelt(m); near != "" {
			return l.Say("There is no coffee “%s” here. Did you mean %s? Nothing was noted.", what, near)
		}
		return l.Say("There is no coffee “%s” here: %s. Nothing was noted. To have it here: %s", what, Clip(m.More),
			parse.FormatCommand(chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: m.What}}}))
	case parse.TurnIt:
		return l.Say("I turn no dial: turn it, then say where it is, such as: went 1 finer")
	case parse.Unclear:
		return l.Say("There is a shot in “%s”, but one of its numbers twice: say dose, yield and time once each.", what) + " " + l.Say(nothingRecorded)
	case parse.BadPost:
		return l.badPost(m)
	case parse.TooLong:
		return l.Say("That is too long for a shot.") + " " + l.Say(nothingRecorded)
	}
	return l.Say(Trouble)
}

// would says what would do in the place of what was read.
func (l Lang) would(m parse.Mistake) string {
	if m.Would != "" {
		return l.Say(English(m.Would))
	}
	return m.More
}

// figured says which number of a shot is meant, "yield 400 g".
func (l Lang) figured(what string) string {
	for _, f := range []English{"dose", "yield", "time", "grind", "first drip", "water", "ratio"} {
		if rest, ok := strings.CutPrefix(what, string(f)+" "); ok {
			return l.Say(f) + " " + rest
		}
	}
	return what
}

// What became of what was refused.
const (
	nothingRecorded English = "Nothing was recorded."
	NothingChanged  English = "Nothing was changed."
)

// surplusText refuses words that a command has no use for.
func (l Lang) surplusText(what, command string) string {
	switch command {
	case "/undo":
		return l.Say("/undo takes back one entry, and I read “%s” after it. Type /undo alone, and again for the one before.", what)
	case "/forget":
		return l.Say("/forget takes out your own name and nobody else's, and I read “%s” after it. Type /forget alone.", what)
	case "/setup":
		return l.Say("I cannot place “%s”: /setup takes each fact by its name, as zone:Europe/Berlin.", what)
	case "/layers taste":
		return l.Say("I cannot place “%s”: /layers taste takes each cup by its name, as early:sour, or post the cups without a command.", what)
	}
	return l.Say("%s takes nothing after it, and I read “%s”. Type %[1]s alone.", command, what)
}

// twiceText refuses words beside an option that could be their own place.
func (l Lang) twiceText(m parse.Mistake) string {
	name, _, _ := strings.Cut(m.What, ":")
	return l.Say("I cannot place “%s” beside %s: if it belongs to it, put both in quotes, as %s.", Clip(m.More), name, m.What)
}

// AfterNumber refuses what stands, or does not stand, after the number of a
// line.
func (l Lang) AfterNumber(number, rest string) string {
	if rest == "" {
		return l.Say("And what does line %s say, or its answer? Such as /edit %[1]s 18 36 28. Nothing was changed.", Clip(number))
	}
	return l.Say("/delete takes out one line, and I read “%s” after its number. Type it once for each line. Nothing was changed.", Clip(rest))
}

// Meant asks whether the one name that is close to what was said was
// meant. It is empty where there is none.
func (l Lang) Meant(said string, all []string) string {
	if near := Nearest(said, all); near != "" {
		return " " + l.Say("Did you mean %s?", near)
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
	case parse.NoCoffee:
		return m.What, Nearest(m.What, strings.Split(m.More, ", "))
	case parse.BadOption:
		return m.What, Nearest(m.What, values(m))
	case parse.Impossible, parse.Ambiguous, parse.MissingOption, parse.GivenTwice, parse.OpenQuote, parse.TooLong, parse.Twice,
		parse.Surplus, parse.Several, parse.SeveralDials, parse.Unclear, parse.BadPost, parse.TurnIt, parse.PerhapsCoffee:
	}
	return "", ""
}

// values are those that an option takes, where what would do is a list of them.
func values(m parse.Mistake) []string {
	return strings.Split(strings.ReplaceAll(m.More+string(m.Would), " or ", ", "), ", ")
}

// NothingDone answers a no to whether something else was meant.
const NothingDone English = "Nothing was done."

// WhichChange asks which one a command is to change.
func (l Lang) WhichChange(command, which string, all []string) string {
	if len(all) == 0 {
		return which
	}
	return which + " " + l.Say("Name it: /%s name:%s. Nothing was changed.", command, all[0])
}

// NothingChanged says that a command said nothing new.
func (l Lang) NothingChanged(still string) string {
	return l.Say("Nothing was changed, for nothing of it is new.") + " " + still
}

// MentionWhom says that nobody is put down by somebody else.
func (l Lang) MentionWhom(said string) string {
	return l.Say("I cannot take “%s”: everybody asks for themselves, with /mention, or /mention me:no to end it. Nothing was changed.", Clip(said))
}

// SinceTwice says that two spans were named.
func (l Lang) SinceTwice(words, since string) string {
	return l.Say("I read two spans, “%s” and “since:%s”. Say one of them.", Clip(words), Clip(since))
}

// Choice is what a value that an option may have is called where it is picked from
// a list. It may be typed so, and in English everywhere.
func Choice(value string) English { return English("choice|" + value) }

// Chosen returns the value in English that is called so in a language, of those
// that an option may have. What is none of them stays as it is.
func (l Lang) Chosen(o command.Option, value string) string {
	called := bar.Normal(value)
	for _, choice := range o.Choices {
		if called != "" && called == bar.Normal(l.Say(Choice(choice))) {
			return choice
		}
	}
	return value
}

// badPost says what of a device's message could not be taken.
func (l Lang) badPost(m parse.Mistake) string {
	return l.Say("I cannot take “%s” from a device: %s. Nothing was recorded.", Clip(m.What), l.would(m))
}
