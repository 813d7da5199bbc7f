package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"
	"golang.org/x/term"

	"shothand/bot/console"
)

// yesFlag describes -yes of a command that asks before it takes something away.
func yesFlag(flags *pflag.FlagSet) *bool { return flags.Bool("yes", false, "do it without asking") }

// confirm asks on a terminal whether a deed is meant. Where nobody is there to
// answer, only -yes says so.
func (p program) confirm(yes bool, deed string) error {
	if yes {
		return nil
	}
	if f, ok := p.in.(*os.File); !ok || !term.IsTerminal(int(f.Fd())) {
		return errors.New(needsYesText(deed))
	}
	return askYes(p.in, p.errOut, deed)
}

// askYes asks, and fails unless the answer is yes.
func askYes(in io.Reader, errOut io.Writer, deed string) error {
	if _, err := fmt.Fprint(errOut, console.Fit(errOut, questionText(deed))); err != nil {
		return err
	}
	said, err := bufio.NewReader(in).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	switch strings.ToLower(strings.TrimSpace(said)) {
	case "y", "yes":
		return nil
	}
	return errors.New(notYesText(said))
}
