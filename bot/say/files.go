package say

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"shothand/advisor/bar"
	"shothand/bot/parse"
	"shothand/bot/sheet"
)

// Format refuses a format.
func Format(said string) string {
	return "“" + Clip(said) + "” is no format: csv holds the shots, jsonl everything."
}

// Export goes with the file, of everything or of shots.
func Export(everything bool) string {
	if everything {
		return "Everything this bar has, one record a line. Another shothand takes it with: shothand import"
	}
	return "All shots, one a row. format:jsonl is everything."
}

// ExportAlt says what the file is, for those who do not see it.
func ExportAlt(everything bool) string {
	if everything {
		return "all records of the bar as JSON lines"
	}
	return "all shots of the bar as a table"
}

// ExportName is the name of the file.
func ExportName(bar bar.Bar, now time.Time, ending string) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, string([]rune(bar.Name)[:min(MaxName, len([]rune(bar.Name)))]))
	return cmp.Or(strings.Trim(name, "-"), "bar") + "-" + now.Format(time.DateOnly) + "." + ending
}

// ExportTooLarge says where it can be had all the same.
func ExportTooLarge(format string) string {
	return "That is too much for a chat. The operator has it with: shothand export -format " + format
}

// Import says what became of a table: how many of its rows are new, how
// many were known, and which were refused when they were read and after.
func Import(t sheet.Table, added, known int, later []sheet.Refusal, dry bool) string {
	var lines []string
	for _, c := range t.Columns {
		switch {
		case c.As == "":
			lines = append(lines, "column “"+Clip(c.Header)+"”: left out")
		case c.Unit != "":
			lines = append(lines, "column “"+Clip(c.Header)+"”: "+c.As+", in "+c.Unit)
		default:
			lines = append(lines, "column “"+Clip(c.Header)+"”: "+c.As)
		}
	}
	refused := slices.Concat(t.Refused, later)
	slices.SortStableFunc(refused, func(a, b sheet.Refusal) int { return cmp.Compare(a.Line, b.Line) })
	for _, r := range refused {
		lines = append(lines, "line "+strconv.Itoa(r.Line)+": "+Refused(r.Err))
	}
	verb := "Taken: "
	if dry {
		verb = "Nothing was written. It would be: "
	}
	return strings.Join(append(lines, verb+strconv.Itoa(added)+" new, "+strconv.Itoa(known)+" known, "+strconv.Itoa(len(refused))+" refused."), "\n")
}

// Refused says why a table or a row of it was not taken.
func Refused(err error) string {
	if theirs, ok := errors.AsType[parse.Mistake](err); ok {
		return strings.TrimSuffix(strings.TrimSuffix(Mistake(theirs), " Nothing was recorded."), " Nothing was changed.")
	}
	why, ok := errors.AsType[sheet.Reason](err)
	if !ok {
		return err.Error()
	}
	what := "“" + Clip(why.What) + "”"
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
		return what + " can be meant two ways; say -dates dmy or -dates mdy"
	case sheet.NoShot:
		return "nothing of a shot"
	case sheet.LongLine:
		return "a line longer than 1 MiB"
	case sheet.LongRow:
		return "the row on line " + why.What + " goes on for more than 1 MiB: close the quote that it opens"
	case sheet.LargeTable:
		return "it is larger than 64 MiB: split it, each part with the header, or carry the bar as JSON lines"
	case sheet.NoSuchShot:
		return "no shot was pulled at " + why.What
	case sheet.BadCell:
		return what + " is no " + why.More
	}
	return what
}

// ImportedBar says that a bar came from another file.
func ImportedBar(channel string, lines int, dry bool) string {
	if dry {
		return "Nothing was written. It would be: the bar of channel " + channel + ", " + Count(lines, "record") + "."
	}
	return "Taken: the bar of channel " + channel + ", " + Count(lines, "record") + "."
}

// What the program says of taking records in.
const (
	ImportWhat = "which file? shothand import -db F FILE, or - for what is piped in"
	WhichBar   = "the file has several bars; name one by its channel with -bar: "
	NoBar      = "the file has no bar yet: post a shot first, or name another file with -db"
)

// What a person who wants to be forgotten hears.
const (
	ForgetLabel = "forget me"
	Forgotten   = "You are forgotten here: your name, your account and what you typed are gone. Your shots stay, as somebody’s. Backups of the operator’s may still tell; ask for those."
)

// ForgetQuestion asks whether a person means it.
func ForgetQuestion(name string) string {
	return "Take your name (" + Clip(name) + ") and what you typed out of all records? Your shots stay, without a name. It cannot be undone."
}

// ForgetWhom asks an operator for a name.
const ForgetWhom = "whom? shothand forget -person NAME, or the account's number"

// Whole says that a file is as it should be.
func Whole(path string) string { return path + " is whole." }

// Compacted says what a compaction has done, in bytes.
func Compacted(path string, before, after int64) string {
	return path + " takes " + strconv.FormatInt(after, 10) + " bytes, before " + strconv.FormatInt(before, 10) + "."
}

// A BackupPlace is a directory with so many backups.
type BackupPlace struct {
	Dir     string
	Backups int
}

// ForgottenEverywhere says to an operator that a person is gone, where
// they are not, and how many partial copies were taken away.
func ForgottenEverywhere(bars int, places []BackupPlace, partial int) string {
	text := "Nobody is called so in any bar of this file; nothing was changed."
	if bars > 0 {
		text = "Forgotten in " + Count(bars, "bar") + ", and the file was written anew. The shots stay, without a name."
	}
	if partial > 0 {
		text += "\nTaken away: " + Count(partial, "partial file") + " of a backup or a compaction that was cut short."
	}
	for _, p := range places {
		if bars > 0 && p.Backups > 0 {
			text += "\nThe " + Count(p.Backups, "backup") + " in " + p.Dir + " still tell: delete what you need not keep."
		}
	}
	return text
}

// RestoreWhat asks an operator for a file.
const RestoreWhat = "which backup? shothand restore -db F BACKUP"

// Restored says that a backup is in the place of a file, and where what
// was there before is.
func Restored(path, from, kept string) string {
	text := path + " holds what " + from + " held."
	if kept != "" {
		text += "\nWhat was there before is " + kept + "."
	}
	return text
}

// Keep says how -keep is meant.
const Keep = "say how many days, weeks and months keep a backup, such as 7,4,6"

// SeveralCalled says that a name is not enough.
func SeveralCalled(who string, accounts []string) string {
	return "several people are called “" + Clip(who) + "”; name the account: " + List(accounts)
}

// HealthAddress refuses an address for -health.
func HealthAddress(said string) string {
	return "-health " + said + ": only an address of this machine alone is taken, such as 127.0.0.1:8399"
}

// Demo says what the demo is, while it is being made.
func Demo(path string) string {
	return "Making an invented bar, Harbour Lane, in " + path + ": six weeks of shots from a simulation. No such bar, coffee or person exists."
}

// DemoHint says what to look at.
const DemoHint = "Harbour Lane is invented. Try: /review   /review Harbour last month   /coffee show name:Tide   /layers show coffee:Tide   /today"

// What stands on a report's page.
const (
	WholeBar = "The whole bar"
	PageMore = "In detail"
	Made     = "Made by shothand. Figures in brackets are intervals that hold 9 times in 10. Local rules and the makers' manuals come before anything here."
)

// ReportTitle stands above the report of a bar.
func ReportTitle(b bar.Bar) string {
	if b.Name == "" {
		return "Looking back"
	}
	return "Looking back: " + b.Name
}

// WhichBarOf asks which bar of a file is meant.
func WhichBarOf(channel string, bars int) string {
	if channel == "" {
		return "the file holds " + Count(bars, "bar") + "; name one by its channel with -bar."
	}
	return "the file holds no bar of the channel “" + Clip(channel) + "”: name another with -bar, or leave it out."
}

// NoFile says that something is no file to write into.
func NoFile(name string) string { return name + " is no plain file: name another one" }

// HoldsRecords says that a file of records is not written over.
func HoldsRecords(name string) string {
	return name + " holds a bar's records and is left as it is: name another file"
}

// NotOurs says that a file is not replaced, since it was not made by the
// command.
func NotOurs(name string) string {
	return name + " is there already and was not made by this command: name another file, or say -force to replace it"
}

// Ending says which files can be written and read.
func Ending(ending string) string {
	return "“" + ending + "” is no file this program writes or reads: name it .csv for shots or .jsonl for everything, or say -format"
}

// PageEnding says what a report is.
func PageEnding(name string) string {
	return name + ": a report is a page for a browser, which prints it as well: name it .html"
}

// ImportRecords says how a file of records is taken in.
func ImportRecords(name string) string {
	return name + " is a file of records, not a table. Take it whole with shothand restore, or write it out first: shothand export -db " + name + " bar.jsonl"
}

// NoSuchBar says that a file has no bar of that channel.
func NoSuchBar(channel string, has []string) string {
	return "the file has no bar " + channel + "; it has " + strings.Join(has, ", ")
}

// NoDemo says that a file is not the invented bar's.
func NoDemo(name string) string {
	return name + " is not the file of an invented bar and is left as it is: say -db with another name"
}

// ReportWhere asks where a report should go.
const ReportWhere = "say where the page should go: shothand report -o FILE.html"
