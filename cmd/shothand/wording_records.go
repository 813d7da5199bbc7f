package main

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"

	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/sheet"
)

// importText says what became of a table: how many of its rows are new, how
// many were known, and which were refused.
func importText(columns []sheet.Column, added, known int, refused sheet.Refusals, dry bool) string {
	var lines []string
	for _, c := range columns {
		switch {
		case c.As == c.Header: // as export writes it
		case c.As == "":
			lines = append(lines, "column “"+say.Clip(c.Header)+"”: left out")
		case c.Unit != "":
			lines = append(lines, "column “"+say.Clip(c.Header)+"”: "+c.As+", in "+c.Unit)
		default:
			lines = append(lines, "column “"+say.Clip(c.Header)+"”: "+c.As)
		}
	}
	first := slices.SortedStableFunc(slices.Values(refused.First), func(a, b sheet.Refusal) int { return cmp.Compare(a.Line, b.Line) })
	for _, r := range first {
		lines = append(lines, "line "+strconv.Itoa(r.Line)+": "+refusedText(r.Err))
	}
	if more := refused.N - len(first); more > 0 {
		lines = append(lines, "and "+say.Lang{}.Count(more, "line")+" more")
	}
	verb := "Taken: "
	if dry {
		verb = "Nothing was written. It would be: "
	}
	return strings.Join(append(lines, verb+strconv.Itoa(added)+" new, "+strconv.Itoa(known)+" known, "+strconv.Itoa(refused.N)+" refused."), "\n")
}

// refusedText says why a table or a row of it was not taken.
func refusedText(err error) string {
	if theirs, ok := errors.AsType[parse.Mistake](err); ok {
		return strings.TrimSuffix(strings.TrimSuffix(say.Lang{}.Mistake(theirs), " Nothing was recorded."), " Nothing was changed.")
	}
	why, ok := errors.AsType[sheet.Reason](err)
	if !ok {
		return err.Error()
	}
	what := "“" + say.Clip(why.What) + "”"
	switch why.Why {
	case sheet.NoTable:
		return "this reads as no table: its first line should name the columns, such as date,coffee,dose,yield,time"
	case sheet.NoSuchField:
		return what + " is nothing a column can be; there is " + why.More
	case sheet.NoSuchColumn:
		return "no column is called " + what
	case sheet.NoTime:
		if why.What == "" {
			return "no column says when"
		}
		return what + " is no time; 2026-03-02T06:33:00Z would be"
	case sheet.WhichDate:
		return what + " can be meant two ways; say --dates dmy or --dates mdy"
	case sheet.NoShot:
		return "nothing of a shot"
	case sheet.LongLine:
		return "a line longer than 1 MiB"
	case sheet.LongCell:
		return what + " goes on for more than 16 KiB: no cell of a shot does"
	case sheet.LongRow:
		return "the row on line " + why.What + " goes on for more than 1 MiB: close the quote that it opens"
	case sheet.LargeTable:
		return "it is larger than 1 GiB: split it, each part with the header, or carry the bar as JSON lines"
	case sheet.NoSuchShot:
		return "no shot was pulled at " + why.What
	case sheet.BadCell:
		return what + " is no " + why.More
	}
	return what
}

// importedBarText says that a bar came from another file.
func importedBarText(channel string, lines int, dry bool) string {
	if dry {
		return "Nothing was written. It would be: the bar of channel " + channel + ", " + say.Lang{}.Count(lines, "record") + "."
	}
	return "Taken: the bar of channel " + channel + ", " + say.Lang{}.Count(lines, "record") + "."
}

// What the program says of taking records in.
const (
	importWhatText = "which file? shothand import --db F FILE, or - for what is piped in"
	whichBarText   = "the file has several bars; name one by its channel with --bar: "
	noBarText      = "the file has no bar yet: post a shot first, or name another file with --db"
)

// forgetWhomText asks an operator for a name.
const forgetWhomText = "whom? shothand forget --person NAME, or the account's number"

// backedUpText says where a copy is.
func backedUpText(path string) string {
	return strings.TrimSuffix(wroteText(path), ".") + ", and checked it."
}

// wholeText says that a file is as it should be.
func wholeText(path string) string { return path + " is whole." }

// compactedText says what a compaction has done.
func compactedText(path string, before, after int64) string {
	return "Wrote " + path + " anew: " + kiloText(after) + ", before " + kiloText(before) + "."
}

// A backupPlace is a directory with so many backups.
type backupPlace struct {
	Dir     string
	Backups int
}

// forgottenEverywhereText says to an operator that a person is gone, where
// they are not, and how many partial copies were taken away.
func forgottenEverywhereText(who string, bars int, places []backupPlace, partial int) string {
	text := "Nobody is called “" + say.Clip(who) + "” in any bar of this file; nothing was changed."
	if bars > 0 {
		text = "Forgotten in " + say.Lang{}.Count(bars, "bar") + ", and the file was written anew. The shots stay, without a name."
	}
	if partial > 0 {
		text += "\nTaken away: " + say.Lang{}.Count(partial, "partial file") + " of a backup or a compaction that was cut short."
	}
	for _, p := range places {
		if bars > 0 && p.Backups > 0 {
			text += "\nThe name is still in " + say.Lang{}.Count(p.Backups, "backup") + " in " + p.Dir + ": delete what you need not keep."
		}
	}
	return text
}

// restoreWhatText asks an operator for a file.
const restoreWhatText = "which backup? shothand restore --db F BACKUP"

// restoredText says that a backup is in the place of a file, and where what
// was there before is.
func restoredText(path, from, kept string) string {
	text := path + " holds what " + from + " held."
	if kept != "" {
		text += "\nWhat was there before is " + kept + "."
	}
	return text
}

// keepText says how -keep is meant.
const keepText = "say how many days, weeks and months keep a backup, such as 7,4,6"

// severalCalledText says that a name is not enough.
func severalCalledText(who string, accounts []string) string {
	return "several people are called “" + say.Clip(who) + "”; name the account: " + say.Lang{}.List(accounts)
}

// demoText says what the demo is, while it is being made.
func demoText(path string) string {
	return "Making an invented bar, Harbour Lane, in " + path + ": five weeks of shots, all made up. No such bar, coffee or person exists."
}

// demoHintText says what to look at.
const demoHintText = "Harbour Lane is invented. Try:\n  /review\n  /review Harbour against Tide\n  /coffee show name:Tide\n  /layers show coffee:Tide\n  /today"

// noFileText says that something is no file to write into.
func noFileText(name string) string { return name + " is no plain file: name another one" }

// holdsRecordsText says that a file of records is not written over.
func holdsRecordsText(name string) string {
	return name + " holds a bar's records and is left as it is: name another file"
}

// notOursText says that a file is not replaced, since it was not made by the
// command.
func notOursText(name string) string {
	return name + " is there already and was not made by this command: name another file, or say --force to replace it"
}

// endingText says which files can be written and read.
func endingText(ending string) string {
	return "“" + ending + "” is no file this program writes or reads: name it .csv for shots or .jsonl for everything, or say --format"
}

// pageEndingText says what a report is.
func pageEndingText(name string) string {
	return name + ": a report is a page for a browser, which prints it as well: name it .html"
}

// importRecordsText says how a file of records is taken in.
func importRecordsText(name string) string {
	return name + " is a file of records, not a table. Take it whole with shothand restore, or write it out first: shothand export --db " + name + " bar.jsonl"
}

// noSuchBarText says that a file has no bar of that channel.
func noSuchBarText(channel string, has []string) string {
	return "the file holds no bar of the channel “" + say.Clip(channel) + "”; there is " + say.Lang{}.List(has) + ": name one with --bar, or leave it out"
}

// noDemoText says that a file is not the invented bar's.
func noDemoText(name string) string {
	return name + " is not the file of an invented bar and is left as it is: say --db with another name"
}

// reportWhereText asks where a report should go.
const reportWhereText = "say where the page should go: shothand report -o FILE.html"
