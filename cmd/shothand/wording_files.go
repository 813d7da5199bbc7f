package main

import (
	"strconv"
	"strings"

	"shothand/bot/sheet"
)

// What the command line itself says. What the bot says is in bot/say.

// forgetDeed is what forget does.
func forgetDeed(person, db string) string {
	return "this takes " + strconv.Quote(person) + " out of every bar of " + db + " for good"
}

// restoreDeed is what restore does.
func restoreDeed(backup, db string) string {
	return "this puts " + backup + " in the place of " + db
}

// demoDeed is what demo -new does.
func demoDeed(db string) string {
	return "this takes away " + db + " and all that was typed into it"
}

// questionText asks whether a deed is meant.
func questionText(deed string) string { return deed + ". Go on? [yes/no] " }

// needsYesText refuses a deed where nobody can be asked.
func needsYesText(deed string) string {
	return deed + ": nobody is there to be asked, so nothing was changed. Say --yes if you mean it"
}

// notYesText says that a deed was not done.
func notYesText(said string) string {
	return "the answer was " + strconv.Quote(strings.TrimSpace(said)) + ", not yes: nothing was changed"
}

// noShotsText says that what was to be taken in holds no shot.
func noShotsText(name string, refused sheet.Refusals) string {
	var text strings.Builder
	text.WriteString(inputName(name) + ": ")
	if refused.N == 0 {
		text.WriteString("no row was read below the first line")
	} else {
		text.WriteString(rowsText(refused.N) + " read and none is a shot")
	}
	for _, first := range refused.First[:min(1, refused.N)] {
		text.WriteString(" (line " + strconv.Itoa(first.Line) + ": " + strings.TrimSuffix(refusedText(first.Err), ".") + ")")
	}
	return text.String() + ". " + tableExpected
}

func rowsText(n int) string {
	if n == 1 {
		return "1 row was"
	}
	return strconv.Itoa(n) + " rows were"
}

// noTableText says why a table was refused as a whole.
func noTableText(name string, err error) string {
	return inputName(name) + ": " + strings.TrimSuffix(refusedText(err), ".") + ". Nothing was changed"
}

// tableExpected says what a table is.
const tableExpected = "A table of shots has a header such as at,coffee,dose_g,yield_g,time_s,taste and a shot a row. Nothing was changed"

// What lines of records are not.
func notJSONText(name string, line int) string {
	return inputName(name) + ": line " + strconv.Itoa(line) + " is no JSON. " + linesExpected
}

func noBarLineText(name string) string {
	return inputName(name) + ": line 1 is not the beginning of a bar. " + linesExpected
}

func noLineText(name string) string {
	return inputName(name) + ": no line was read. " + linesExpected
}

// longLineText refuses lines of records, one of which is too long.
func longLineText(name string, line int) string {
	return inputName(name) + ": line " + strconv.Itoa(line) + " is longer than 1 MiB, which no record is. " + linesExpected
}

// linesExpected says what lines of records are.
const linesExpected = "Such a file is what shothand export has written: one record a line, the bar first; a table is taken with --format csv. Nothing was changed"

// inputName is how what is read is called.
func inputName(name string) string {
	if name == "-" {
		return "what was piped in"
	}
	return name
}

// askedHelp says of a command that it asks first.
const askedHelp = "It asks first, and needs --yes where nobody can be asked."
