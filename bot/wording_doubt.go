package bot

import (
	"shothand/advisor"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// Answers to whether a message is a shot.
const (
	shotYes     = "yes"
	shotNo      = "no"
	yesLabel    = "yes"
	noShotLabel = "no shot"
)

// strangerQuestion asks which coffee is meant by a name that is none; near is
// the likely one, or empty.
func strangerQuestion(p parse.Shot, near string) string {
	if near != "" {
		return "There is no “" + clip(p.Stranger) + "”. Did you mean " + near + "? I kept the shot."
	}
	return "There is no coffee “" + clip(p.Stranger) + "” here. Which one was that? I kept the shot. To have it here: " +
		parse.FormatCommand(chat.Command{Name: "coffee add", Options: []chat.Option{{Name: "name", Value: p.Stranger}}})
}

// doubtQuestion asks whether a message is a shot, and says what was read.
func doubtQuestion(p parse.Shot, coffee string) string {
	read := trioText(parse.Trio{Dose: p.Dose, Yield: p.Yield, Time: p.Time})
	if coffee != "" {
		read = coffee + ", " + read
	}
	what := p.Doubt
	if p.Stranger != "" {
		what = []string{p.Stranger}
	}
	return "Was that a shot: " + read + "? I could not read " + asTyped(what) + ". I kept it until you say."
}

// asTyped lists pieces of a message as they were typed.
func asTyped(texts []string) string {
	var all []string
	for _, text := range texts[:min(len(texts), maxUnread)] {
		all = append(all, "“"+clip(text)+"”")
	}
	return list(all)
}

// asideText says which numbers of a message are none of the shot's.
func asideText(texts []string) string {
	return "Read as no number of the shot: " + asTyped(texts) + "."
}

func noShotButton(e advisor.EntryID) chat.Button {
	return chat.Button{Label: noShotLabel, State: pressState(pressShot, e, shotNo)}
}
