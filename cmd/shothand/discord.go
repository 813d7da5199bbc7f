package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"shothand/bot"
	"shothand/bot/discord"
	"shothand/bot/serve"
	"shothand/cmd/shothand/health"
	"shothand/store"
	"shothand/store/file"
)

// A configError is an error that only another configuration mends: there is
// no use in starting again.
type configError struct{ error }

// Unwrap returns what is wrong.
func (e configError) Unwrap() error { return e.error }

// exitConfig is what the program exits with then, EX_CONFIG of sysexits.h.
const exitConfig = 78

// exitStatus is what the program exits with after an error. Another process may
// soon let go of a file in use, but a damaged one stays as it is.
func exitStatus(err error) int {
	if _, hopeless := errors.AsType[configError](err); hopeless {
		return exitConfig
	}
	if _, stopped := errors.AsType[stoppedError](err); stopped {
		return exitStopped
	}
	if refused, ok := errors.AsType[*file.Error](err); ok && !errors.Is(refused.Kind, file.ErrLocked) {
		return exitConfig
	}
	return 1
}

// wantsDiscord reports whether the program is to join Discord.
func wantsDiscord(args []string, getenv func(string) string) bool {
	if getenv("DISCORD_TOKEN") != "" || getenv("DISCORD_TOKEN_FILE") != "" {
		return true
	}
	for _, a := range args {
		if name := strings.TrimLeft(a, "-"); strings.HasPrefix(name, "discord-url") || strings.HasPrefix(name, "shard") {
			return true
		}
	}
	return false
}

// runDiscord joins Discord until ctx is done. No error of how it was called is
// mended by starting again.
func (p program) runDiscord(ctx context.Context, call openWith) (err error) {
	o, err := discordOptions(p.getenv, call.root, call.part)
	if err != nil {
		return configError{err}
	}
	if o.Log, err = logger(p.errOut, call.level, call.logJSON); err != nil {
		return configError{err}
	}
	if call.db == "" {
		if call.db, err = dataFile(p.getenv); err != nil {
			return configError{err}
		}
	}
	records, err := store.Open(call.db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, records.Close()) }()
	defer endWhenBroken(records, p.errOut)()
	count, last := health.NewMeter(), &health.LastBackup{}
	b := serve.New(bot.New(records, bot.Options{Log: o.Log, Resend: true, Clock: time.Now, Meter: count}))
	o.Desk = b
	service := discord.New(o)
	watched := health.New(o.Log, version(), records, service, count, last)
	stopHealth, err := serveHealth(call.health, watched)
	if err != nil {
		return configError{err}
	}
	defer stopHealth()
	stopPosts, err := servePosts(call.listen, b, o.Log)
	if err != nil {
		return configError{err}
	}
	defer stopPosts()
	defer watched.Watch()()
	defer startBackups(o.Log, records, last, *call.keep, true)()
	o.Log.Info("start", "version", version(), "db", call.db)
	err = b.Run(ctx, service)
	o.Log.Info("stop")
	if err != nil {
		return configError{err} // all else the service mends by itself
	}
	return nil
}

// discordOptions reads what says how Discord is reached.
func discordOptions(getenv func(string) string, root, part string) (o discord.Options, err error) {
	if o.Token, err = discord.Token(getenv); err != nil {
		return o, err
	}
	var rootOK, partOK bool
	o.Root, rootOK = discord.ParseRoot(root)
	o.Shard, partOK = discord.ParseShard(part)
	switch {
	case o.Token == "":
		return o, errors.New(noTokenText)
	case !discord.IsToken(o.Token): // not shown: it may be one with a slip in it
		return o, errors.New(oddTokenText)
	case !rootOK:
		return o, errors.New(badRootText(root))
	case !partOK:
		return o, errors.New(badShardText(part))
	}
	o.Texts = discord.Texts{Nothing: nothingSaidText, Fatal: discordClosed, Token: tokenRefused()}
	return o, nil
}

// dataFile returns where the records are kept unless -db says so, and makes
// the directory.
func dataFile(getenv func(string) string) (string, error) {
	dir, _, _ := strings.Cut(getenv("STATE_DIRECTORY"), ":")
	switch data, home := getenv("XDG_DATA_HOME"), getenv("HOME"); {
	case dir != "":
	case data != "":
		dir = filepath.Join(data, "shothand")
	case home != "":
		dir = filepath.Join(home, ".local", "share", "shothand")
	default:
		return "", errors.New(noHomeText)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("make the directory of the records: %w", err)
	}
	return filepath.Join(dir, "shothand.db"), nil
}
