// Fakediscord is a Discord to try a bot against by hand, without an account:
// start it, point the bot at the address it prints, and speak for the people
// with curl. DEVELOPERS.md shows how.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"shothand/bot/discord/fake"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Getenv, os.Stdout); err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "fakediscord:", err)
		os.Exit(1)
	}
}

// run serves until ctx ends.
func run(ctx context.Context, args []string, getenv func(string) string, out io.Writer) error {
	flags := flag.NewFlagSet("fakediscord", flag.ContinueOnError)
	addr := flags.String("addr", "127.0.0.1:8390", "where to listen")
	token := flags.String("token", "x", "the bot's token")
	mentions := flags.Bool("mentions-off", true, "a text sent with mentions on is a violation")
	if err := flags.Parse(args); err != nil {
		return err
	}
	hello := ""
	o := fake.Options{Token: *token, MentionsMustBeOff: *mentions}
	if file := getenv("DISCORD_OPENAPI"); file != "" {
		description, err := fake.LoadDescription(file)
		if err != nil {
			return err
		}
		o.Description = description
	} else {
		hello = "DISCORD_OPENAPI is not set: requests are checked against the limits, not against the description.\n"
	}
	server, err := fake.Listen(o, *addr)
	if err != nil {
		return err
	}
	defer server.Close()
	hello += server.URL + "\nguild Harbour Lane; channels dial-in, general; mara manages it, jo and sam do not.\n"
	if _, err := io.WriteString(out, hello); err != nil {
		return err
	}
	<-ctx.Done()
	return nil
}
