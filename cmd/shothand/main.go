// Shothand is a chat bot that helps an espresso bar dial in its coffees.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"
	_ "time/tzdata" // zones also where the machine has none

	"shothand/bot"
	"shothand/bot/console"
	"shothand/store"
)

func main() {
	ctx, stop := heedSignals()
	spareThreads()
	err := run(ctx, os.Args[1:], os.Getenv, os.Stdin, os.Stdout, os.Stderr)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "shothand: "+err.Error())
		os.Exit(exitStatus(err))
	}
}

// heedSignals returns what is done when the program is told to stop. It comes
// before all else, so that no signal kills: that the terminal has gone is no
// reason to stop, and a backup may be asked for before there is one to make.
func heedSignals() (ctx context.Context, stop func()) {
	signal.Ignore(syscall.SIGHUP)
	signal.Notify(make(chan os.Signal, 1), syscall.SIGUSR1) // startBackups listens when there is something to back up
	return signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
}

// spareThreads lets Go run on two threads more than there are processors. One
// that waits for the disk counts as running until the runtime notices, which
// takes it up to 10 ms, and with two processors and a commit always on its way
// that is half of them: 64 bars at once were answered by an eighth slower.
func spareThreads() {
	runtime.GOMAXPROCS(runtime.GOMAXPROCS(0) + 2)
}

// run is the program.
func run(ctx context.Context, args []string, getenv func(string) string, in io.Reader, out, errOut io.Writer) error {
	command := ""
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		command, args = args[0], args[1:]
	}
	switch command {
	case "":
		if wantsDiscord(args, getenv) {
			return runDiscord(ctx, args, getenv, errOut)
		}
		hint := ""
		if isPiped(in) { // a service without its token, perhaps; a person is greeted
			hint = bot.ConnectText
		}
		return runConsole(ctx, args, getenv, in, out, errOut, hint)
	case "console":
		return runConsole(ctx, args, getenv, in, out, errOut, "")
	case "demo":
		return runDemo(ctx, args, getenv, in, out, errOut)
	case "report":
		return runReport(args, out, errOut)
	case "backup":
		return runBackup(args, out, errOut)
	case "restore":
		return runRestore(args, out, errOut)
	case "check":
		return runCheck(args, out, errOut)
	case "compact":
		return runCompact(args, out, errOut)
	case "export":
		return runExport(args, out, errOut)
	case "import":
		return runImport(args, in, out, errOut)
	case "forget":
		return runForget(args, out, errOut)
	case "version":
		return printAlone(out, args, version())
	case "help":
		return printAlone(out, args, bot.UsageText)
	}
	return errors.New(bot.UnknownSubcommandText(command))
}

// printAlone prints the text of a command that takes nothing else.
func printAlone(out io.Writer, args []string, text string) error {
	if len(args) > 0 {
		return errors.New(bot.UnknownArgumentText(args[0]))
	}
	_, err := fmt.Fprintln(out, text)
	return err
}

// runConsole opens the bot on a terminal, or on what is piped in.
func runConsole(ctx context.Context, args []string, getenv func(string) string, in io.Reader, out, errOut io.Writer, hint string) (err error) {
	flags, db := fileFlags("console", errOut)
	json := flags.Bool("json", false, "write one JSON object for each line")
	managers := flags.String("managers", "", "`names`, by comma, of who may change settings; without it everyone")
	level := flags.String("log", "warn", "what is logged on standard error: debug, info, warn or error")
	healthAt := flags.String("health", "", healthFlag)
	keep := keepFlag(flags)
	if ok, err := parseFlags(flags, args, 0); !ok {
		return err
	}
	log, err := logger(errOut, *level, false)
	if err != nil {
		return err
	}
	records, err := store.Open(*db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, records.Close()) }()
	defer endWhenBroken(records, errOut)()
	count, last := newMeter(), &lastBackup{}
	stopHealth, err := serveHealth(*healthAt, newObserver(log, records, nil, count, last))
	if err != nil {
		return err
	}
	defer stopHealth()
	defer startBackups(log, records, last, *keep, false)()
	if hint != "" && !*json {
		if _, err := fmt.Fprintln(errOut, hint); err != nil {
			return err
		}
	}
	shothand := bot.New(records, bot.Options{Log: log, Open: true, Meter: count})
	service := console.New(console.Options{
		Known: shothand,
		In:    in, Out: out, Err: errOut, JSON: *json,
		Dumb:     getenv("TERM") == "dumb",
		Managers: split(*managers),
		FilesDir: *db + ".files",
		Texts: console.Texts{
			Welcome: bot.WelcomeText, Empty: bot.EmptyText,
			Private: bot.PrivateText, Edited: bot.EditedText,
			BadTime: bot.BadTimeText, BadLineNumber: bot.BadLineNumberText, AfterNumber: bot.AfterNumberText,
			NothingToPress: bot.NothingToPressText, ButtonChoices: bot.ButtonChoicesText,
		},
	})
	return shothand.Run(ctx, service)
}

// split returns the names in a list by comma.
func split(names string) []string {
	return strings.FieldsFunc(names, func(r rune) bool { return r == ',' || r == ' ' })
}

// logger returns a log of one line, or one JSON object, an event.
func logger(out io.Writer, level string, asJSON bool) (*slog.Logger, error) {
	var l slog.Level
	if err := l.UnmarshalText([]byte(level)); err != nil {
		return nil, fmt.Errorf("-log %s: %w", level, err)
	}
	o := &slog.HandlerOptions{Level: l}
	if asJSON {
		return slog.New(slog.NewJSONHandler(out, o)), nil
	}
	return slog.New(slog.NewTextHandler(out, o)), nil
}

// version returns the versions of the program and of Go.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "shothand"
	}
	return "shothand " + info.Main.Version + " " + info.GoVersion
}
