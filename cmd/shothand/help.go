package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"shothand/bot/console"
)

// helpWidth is how wide help is: as the terminal is, up to what is easily read.
func helpWidth(out io.Writer) int {
	const usual, widest = 80, 100
	if width := console.Columns(out); width > 0 {
		return min(width, widest)
	}
	return usual
}

// helpText is all that a command takes, in lines of that width. What is looked
// for first stands last, where a screen shows it.
func helpText(c *cobra.Command, width int) string {
	c.InitDefaultHelpFlag()
	all := []string{console.Wrap(c.Long, width, "") + "\n", console.Wrap(usageText(c), width, "     ") + "\n"}
	all = append(all, "Options:\n"+c.Flags().FlagUsagesWrapped(width))
	if c.HasAvailableSubCommands() {
		all = append(all, "Commands:\n"+commandsText(c, width), console.Wrap(c.Name()+" COMMAND --help says what a command takes.", width, "")+"\n")
	}
	examples := []string{"Examples:"}
	for line := range strings.SplitSeq(c.Example, "\n") {
		examples = append(examples, exampleText(line, width))
	}
	return strings.Join(append(all, strings.Join(examples, "\n")+"\n"), "\n")
}

// usageText is how a command is called.
func usageText(c *cobra.Command) string {
	text := "Usage: " + c.UseLine()
	if c.HasAvailableSubCommands() {
		text += "\n       " + c.Name() + " COMMAND [OPTIONS]"
	}
	return text
}

// exampleText breaks an example as a shell takes it.
func exampleText(line string, width int) string {
	const goesOn = " \\"
	if len(line) <= width {
		return line
	}
	return strings.ReplaceAll(console.Wrap(line, width-len(goesOn), "  "), "\n", goesOn+"\n")
}

// commandsText lists the commands of a command.
func commandsText(of *cobra.Command, width int) string {
	longest, all := 0, ""
	for _, c := range of.Commands() {
		longest = max(longest, len(c.Name()))
	}
	for _, c := range of.Commands() {
		head := fmt.Sprintf("  %-*s  ", longest, c.Name())
		said := console.Wrap(c.Short, width-len(head), "")
		all += head + strings.ReplaceAll(said, "\n", "\n"+strings.Repeat(" ", len(head))) + "\n"
	}
	return all
}
