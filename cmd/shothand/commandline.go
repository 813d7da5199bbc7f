package main

import (
	"context"
	"errors"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"shothand/store/file"
)

// A program is what every command has of the world.
type program struct {
	getenv      func(string) string
	in          io.Reader
	out, errOut io.Writer
	now         func() time.Time // of what is typed on the console; nil: the machine's clock
}

// run is the program.
func run(ctx context.Context, args []string, getenv func(string) string, in io.Reader, out, errOut io.Writer) error {
	if getenv == nil {
		getenv = func(string) string { return "" }
	}
	return program{getenv: getenv, in: in, out: out, errOut: errOut}.run(ctx, args)
}

func (p program) run(ctx context.Context, args []string) error {
	c := p.root(wantsDiscord(args, p.getenv))
	if err := named(c, args); err != nil {
		return err
	}
	c.SetArgs(doubled(c, args))
	return fileError(c.ExecuteContext(ctx))
}

// root is the command line. Where Discord is wanted, no error in it is mended by
// starting again.
func (p program) root(discord bool) *cobra.Command {
	o := openWith{keep: keepUsual()}
	c := &cobra.Command{
		Use: "shothand [OPTIONS]", Short: rootHelp().short, Long: rootHelp().long, Example: rootHelp().example,
		Version: versionText(), SilenceErrors: true, SilenceUsage: true, DisableFlagsInUseLine: true,
		RunE: func(c *cobra.Command, _ []string) error { return p.runRoot(c, o, discord) },
	}
	c.Args = func(_ *cobra.Command, args []string) error { return hopelessIf(discord, unknownCommand(c, args)) }
	c.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return hopelessIf(discord && !c.HasParent(), errors.New(flagErrorText(c, err)))
	})
	c.SetVersionTemplate("{{.Version}}\n")
	o.describe(c)
	c.Flags().BoolVar(&o.logJSON, "log-json", false, "on Discord: log one JSON object an event")
	c.Flags().StringVar(&o.root, "discord-url", p.getenv("DISCORD_URL"), "the root `url` of the server to talk to in Discord's place")
	c.Flags().StringVar(&o.part, "shard", "", "which part of the servers is served, of how many, as `i/n`")
	c.AddCommand(p.console(), p.demo(), p.report(), p.backup(), p.restore(), p.check(), p.compact(),
		p.export(), p.importing(), p.forget(), p.completion(c), p.version())
	c.CompletionOptions.DisableDefaultCmd = true
	c.SetHelpCommand(p.help(c))
	c.SetHelpFunc(func(c *cobra.Command, _ []string) { _, _ = io.WriteString(p.out, helpText(c, helpWidth(p.out))) })
	c.SetIn(p.in)
	c.SetOut(p.out)
	c.SetErr(p.errOut)
	return c
}

// runRoot joins Discord, or opens the console.
func (p program) runRoot(c *cobra.Command, o openWith, discord bool) error {
	if f := c.Flags().Lookup("db"); f.Value.String() == "" {
		return hopelessIf(discord, errors.New(noNameText()))
	}
	if !discord {
		hint := ""
		if isPiped(p.in) { // a service without its token, perhaps; a person is greeted
			hint = connectText
		}
		return p.runConsole(c.Context(), o, hint)
	}
	for _, name := range []string{"json", "managers"} {
		if c.Flags().Changed(name) {
			return configError{errors.New(consoleOnlyText(name))}
		}
	}
	if !c.Flags().Changed("db") {
		o.db = "" // the one of the service
	}
	if !c.Flags().Changed("log") {
		o.level = "info"
	}
	return p.runDiscord(c.Context(), o)
}

// openWith says how the bot is opened.
type openWith struct {
	db, managers, level, health string
	listen                      string
	json, logJSON               bool
	keep                        *file.Keep
	root, part                  string // of Discord
}

// describe adds what the console takes.
func (o *openWith) describe(c *cobra.Command) {
	flags := c.Flags()
	flags.StringVar(&o.db, "db", defaultDB, "the `file` that keeps the records")
	flags.BoolVar(&o.json, "json", false, "write one JSON object for each line")
	flags.StringVar(&o.managers, "managers", "", "`names`, by comma, of who may change settings; without it everyone")
	flags.StringVar(&o.level, "log", "warn", "what `level` is logged on standard error: debug, info, warn or error")
	flags.StringVar(&o.health, "health", "", healthFlag)
	flags.StringVar(&o.listen, "listen", "", listenFlag)
	describeKeep(flags, o.keep)
	completes(c, "log", "debug", "info", "warn", "error")
}

func (p program) console() *cobra.Command {
	o := openWith{keep: keepUsual()}
	c := command("console", consoleHelp)
	o.describe(c)
	return runs(c, 0, func([]string) error { return p.runConsole(c.Context(), o, "") })
}

func (p program) version() *cobra.Command {
	c := command("version", versionHelp)
	return runs(c, 0, func([]string) error {
		return tell(p.out, versionText())
	})
}

// help prints the help of a command; without a name, that of the program.
func (p program) help(root *cobra.Command) *cobra.Command {
	c := command("help [COMMAND]", helpHelp)
	return runs(c, 1, func(args []string) error {
		of, rest, err := root.Find(args)
		if err != nil || len(rest) > 0 {
			return unknownCommand(root, args)
		}
		return of.Help()
	})
}

// command describes a command.
func command(use string, of func() helpOf) *cobra.Command {
	return &cobra.Command{Use: use + " [OPTIONS]", DisableFlagsInUseLine: true, Short: of().short, Long: of().long, Example: of().example}
}

// onFile describes a command that works on a file of records.
func onFile(use string, of func() helpOf) (c *cobra.Command, db *string) {
	c = command(use, of)
	return c, c.Flags().String("db", defaultDB, "the `file` that keeps the records")
}

// runs lets c do something with at most so many names besides its options.
func runs(c *cobra.Command, names int, do func(args []string) error) *cobra.Command {
	c.Args = func(c *cobra.Command, args []string) error {
		if len(args) > names {
			return errors.New(surplusText(c, args[names]))
		}
		return nil
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		if f := c.Flags().Lookup("db"); f != nil && f.Value.String() == "" {
			return errors.New(noNameText())
		}
		return do(args)
	}
	return c
}

// first returns the first name, or none.
func first(args []string) string { return strings.Join(args[:min(1, len(args))], "") }

// completes says what a shell may offer for an option.
func completes(c *cobra.Command, option string, values ...string) {
	err := c.RegisterFlagCompletionFunc(option, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp))
	if err != nil {
		panic(err) // there is no such option
	}
}

// unknownCommand refuses a word that is no command of root.
func unknownCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	return errors.New(noCommandText(args[0], names))
}

// named refuses a first word that is no command, before its options are read.
func named(root *cobra.Command, args []string) error {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") || strings.HasPrefix(args[0], "__complete") {
		return nil
	}
	if c, _, err := root.Find(args[:1]); err == nil && c != root || args[0] == "help" {
		return nil
	}
	return unknownCommand(root, args)
}

// hopelessIf makes an error one that only another configuration mends.
func hopelessIf(discord bool, err error) error {
	if err != nil && discord {
		return configError{err}
	}
	return err
}

// doubled writes options with two dashes, as the library reads them: -db is as
// good as --db. What is the value of an option stays as it is.
func doubled(root *cobra.Command, args []string) []string {
	all := []string{}
	value := false
	for i, a := range args {
		if a == "--" || strings.HasPrefix(a, "__complete") {
			return append(all, args[i:]...)
		}
		if !value && len(a) > 2 && a[0] == '-' && a[1] != '-' {
			a = "-" + a
		}
		all = append(all, a)
		value = !value && takesNext(root, a)
	}
	return all
}

// takesNext reports whether an option has its value in the argument that
// follows.
func takesNext(root *cobra.Command, a string) bool {
	name := strings.TrimLeft(a, "-")
	if name == a || name == "" || strings.Contains(a, "=") {
		return false
	}
	for _, c := range append(root.Commands(), root) {
		f := c.Flags().Lookup(name)
		if f == nil && len(name) == 1 {
			f = c.Flags().ShorthandLookup(name)
		}
		if f != nil {
			return f.NoOptDefVal == ""
		}
	}
	return false
}

// optionNames returns the options of a command, each with its dashes.
func optionNames(c *cobra.Command) (all []string) {
	c.Flags().VisitAll(func(f *pflag.Flag) { all = append(all, "--"+f.Name) })
	return all
}
