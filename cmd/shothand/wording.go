package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"shothand/bot/say"
)

// helpOf is what is said of a command.
type helpOf struct{ short, long, example string }

func rootHelp() helpOf {
	return helpOf{
		"Helps an espresso bar dial in its coffees",
		"Shothand helps an espresso bar dial in its coffees, from the team's chat.\n\n" +
			"With DISCORD_TOKEN or DISCORD_TOKEN_FILE set it is the bot on Discord; without, the console on this terminal.\n\n" +
			"Records are kept in the file that --db names; without it in shothand.db in this directory, and on Discord in the " +
			"state directory that systemd gives, or else in shothand/shothand.db of $XDG_DATA_HOME or ~/.local/share.\n\n" +
			"Options may have one dash or two. It ends with status 0 when all is done, 1 when something failed, 130 when somebody " +
			"stopped it, and 78 when starting again would not help: a wrong option or token on Discord, or a file of records that " +
			"is not there, is damaged or is not ours.",
		"  shothand               the console\n  shothand demo          an invented bar\n  shothand help report   all of a command",
	}
}

func consoleHelp() helpOf {
	return helpOf{
		"The bot on this terminal, or on lines piped in",
		"The whole bot on a terminal. Lines can be piped in: [time] [@name] [#bar] text",
		`  shothand console
  echo '@mara 18.1 36.4 24 sour thin' | shothand console --json`,
	}
}

func demoHelp() helpOf {
	return helpOf{
		"An invented bar with five weeks of shots, to look round in",
		"Makes an invented bar with five weeks of shots, unless it is there, and opens the console on it. --new makes it anew. " + askedHelp,
		"  shothand demo\n  shothand demo --new --yes",
	}
}

func reportHelp() helpOf {
	return helpOf{
		"A review with its pictures as one page",
		"Writes the review of a bar, with its pictures, as one HTML page. It replaces a page that it wrote itself, anything else only with --force, and a file of records never.",
		"  shothand report -o march.html --since march",
	}
}

func backupHelp() helpOf {
	return helpOf{
		"A copy of the records",
		"Copies the records of a file that no bot has open, and checks the copy. A bot that runs makes one on SIGUSR1, and on Discord each day.",
		"  shothand backup\n  shothand backup --db bar.db --to copy.db",
	}
}

func restoreHelp() helpOf {
	return helpOf{
		"Put a backup in the place of the records",
		"Puts a backup in the place of the records, while no bot runs; what was there is kept beside it. " + askedHelp,
		"  shothand restore shothand.db.backups/NAME\n  shothand restore --yes --db bar.db copy.db",
	}
}

func checkHelp() helpOf {
	return helpOf{"Whether a file of records is whole", "Reads all of a file and says whether it is whole. It ends with status 0 if it is, and 78 if it is not, or is not there.", "  shothand check --db bar.db"}
}

func compactHelp() helpOf {
	return helpOf{"Write the file anew, smaller", "Writes a file of records anew without the room of what is gone.", "  shothand compact --db bar.db"}
}

func exportHelp() helpOf {
	return helpOf{
		"Shots as a table, or everything as JSON lines",
		"Writes what a bar has to a new FILE, or to standard output: .csv for its shots, .jsonl for everything.",
		"  shothand export shots.csv\n  shothand export --format jsonl > bar.jsonl",
	}
}

func importHelp() helpOf {
	return helpOf{
		"Take in an export, or anybody's table of shots",
		"Takes in FILE, or standard input if that is - : what export wrote, or anybody's table of shots with a head of column names.",
		"  shothand import --dry-run --dates dmy --zone Europe/Berlin shots.csv\n  shothand import --columns dose=In,yield=Out shots.csv",
	}
}

func forgetHelp() helpOf {
	return helpOf{
		"Take a person's name out of the records",
		"Takes a person out of every bar of a file, by name or by account, and says where copies are left. " + askedHelp,
		"  shothand forget --person mara",
	}
}

func versionHelp() helpOf {
	return helpOf{"The version, the commit and its date", "Prints the version, and the commit it was built from with its date.", "  shothand version"}
}

func helpHelp() helpOf {
	return helpOf{"All that a command takes", "Prints the help of a command; without a name, that of the program.", "  shothand help export"}
}

// flagErrorText says what is wrong with an option.
func flagErrorText(c *cobra.Command, err error) string {
	more := " " + c.CommandPath() + " --help lists its options."
	if e, ok := errors.AsType[*pflag.NotExistError](err); ok {
		said := dashed(e.GetSpecifiedName())
		return fmt.Sprintf("%s has no option %s.%s%s", c.CommandPath(), said, say.Lang{}.Meant(said, optionNames(c)), more)
	}
	if e, ok := errors.AsType[*pflag.ValueRequiredError](err); ok {
		what, _ := pflag.UnquoteUsage(e.GetFlag())
		return fmt.Sprintf("%s takes a value (%s), and nothing follows it.%s", dashed(e.GetSpecifiedName()), what, more)
	}
	if e, ok := errors.AsType[*pflag.InvalidValueError](err); ok {
		return fmt.Sprintf("--%s cannot be “%s”: %s", e.GetFlag().Name, e.GetValue(), valueText(e))
	}
	if e, ok := errors.AsType[*pflag.InvalidSyntaxError](err); ok {
		return fmt.Sprintf("“%s” is no option.%s", e.GetSpecifiedFlag(), more)
	}
	return err.Error()
}

// dashed is an option as it is typed.
func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

// valueText says what the value of an option should be.
func valueText(e *pflag.InvalidValueError) string {
	if e.GetFlag().Value.Type() == "bool" {
		return "leave the value out, or say true or false."
	}
	return errors.Unwrap(e).Error()
}

// Somebody stopped what took long.
const (
	stoppedText       = "Stopped before the end: nothing was written, and the records are as they were."
	stoppedImportText = "Stopped before the end: nothing was taken in."
	stoppedDemoText   = "Stopped before the end: the invented bar was not kept. shothand demo makes it."
)

// surplusText refuses an argument that a command has no use for.
func surplusText(c *cobra.Command, said string) string {
	text := c.CommandPath() + " has no use for “" + said + "”."
	option := map[string]string{"backup": "--to", "forget": "--person", "report": "-o"}[c.Name()]
	if option == "" && strings.HasSuffix(said, ".db") && c.Flags().Lookup("db") != nil {
		option = "--db"
	}
	if option != "" {
		text += " Did you mean " + option + " " + said + "?"
	}
	return text + " " + c.CommandPath() + " --help says what it takes."
}

// noCommandText refuses a word that is no command.
func noCommandText(said string, all []string) string {
	return "There is no command “" + said + "”." + say.Lang{}.Meant(said, all) + " shothand help lists them."
}

func consoleOnlyText(option string) string {
	return "--" + option + " is for the console, and a token or address of Discord is set. Leave it out, or run: shothand console --" + option
}

func levelText(said string) string {
	return "--log cannot be “" + said + "”: say debug, info, warn or error."
}

// wroteText says what has been written.
func wroteText(name string) string {
	if info, err := os.Stat(name); err == nil {
		return "Wrote " + name + ", " + kiloText(info.Size()) + "."
	}
	return "Wrote " + name + "."
}

// kiloText is a length in bytes as people read it.
func kiloText(bytes int64) string { return strconv.FormatInt((bytes+1023)/1024, 10) + " kB" }

func completionHelp() helpOf {
	return helpOf{
		"What makes a shell complete commands and options",
		"Prints a script for bash, zsh or fish that completes commands and options.",
		"  source <(shothand completion bash)",
	}
}

func whichShellText(said string) string {
	if said == "" {
		return "Which shell? Say bash, zsh or fish."
	}
	return "There is no completion for “" + said + "”: say bash, zsh or fish."
}

func noNameText() string { return "--db names no file: put its name after it, or leave --db out." }

func datesText(said string) string {
	return "--dates cannot be “" + said + "”: say dmy if 3/2/2026 is the third of February, mdy if it is the second of March."
}

func columnsText(said string) string {
	return "--columns cannot have “" + said + "”: say field=header, by comma, such as dose=In,yield=Out."
}

func zoneText(said string) string {
	return "--zone cannot be “" + said + "”: zones are named by a city, such as Europe/Berlin."
}

// fileError words what is wrong with a file that was named.
func fileError(err error) error {
	e, ok := errors.AsType[*fs.PathError](err)
	if !ok {
		return err
	}
	dir := filepath.Dir(e.Path)
	_, noDir := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist) && noDir != nil:
		return worded{dir + " is no directory that is there: make it, or name another file.", err}
	case errors.Is(err, fs.ErrNotExist):
		return worded{e.Path + " is not there: name another file.", err}
	case errors.Is(err, fs.ErrExist):
		return worded{e.Path + " is there already and is left as it is: name another file.", err}
	case errors.Is(err, fs.ErrPermission):
		return worded{e.Path + " may not be opened by you: name another file, or mend its permissions.", err}
	}
	return err
}

// A worded error says what is wrong in a sentence.
type worded struct {
	text string
	err  error
}

// Error is the sentence.
func (w worded) Error() string { return w.text }

// Unwrap returns what is wrong.
func (w worded) Unwrap() error { return w.err }

// listenText says that an address cannot be listened at.
func listenText(address string, err error) string {
	return "nothing can listen at " + address + " (" + err.Error() + "): give --listen a free address of this machine, such as 192.168.1.20:8398"
}
