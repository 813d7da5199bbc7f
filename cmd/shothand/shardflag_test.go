package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/discord/fake"
	"shothand/store"
)

// shardOf is where Discord sends what happens in a server, from its
// documentation of sharding.
func shardOf(t *testing.T, guild string, of uint64) int {
	t.Helper()
	id, err := strconv.ParseUint(guild, 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	return int(id >> 22 % of)
}

// Eight processes with -shard serve the bars of eight servers, each from a file
// of its own. Then there are four: the bars of the four files that are left over
// are exported and imported into those that Discord now sends them to, and go on
// there as they left off.
func TestShardFlag(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("twelve processes")
	}
	program, dir := build(t), t.TempDir()
	f := newFake(t)
	guilds := make([]string, 8) // by shard
	for n, missing := 0, len(guilds); missing > 0; n++ {
		time.Sleep(time.Millisecond) // an id tells its millisecond, and that its shard
		id := f.AddGuild(fmt.Sprint("guild-", n))
		if at := shardOf(t, id, 8); guilds[at] == "" {
			guilds[at] = id
			missing--
		}
	}
	channel := make([]string, 8)
	for n, guild := range guilds {
		channel[n] = f.AddChannel(guild, fmt.Sprint("bar-", n))
		f.AddUser(guild, fmt.Sprint("lead-", n), true)
	}
	file := func(n int) string { return filepath.Join(dir, fmt.Sprintf("part-%d.db", n)) }
	var running []*exec.Cmd
	serve := func(n, of int) {
		command := exec.CommandContext(t.Context(), program, "-shard", fmt.Sprintf("%d/%d", n, of), "-db", file(n), "-discord-url", f.URL, "-log", "warn")
		command.Env = append(os.Environ(), "DISCORD_TOKEN=x")
		command.Stderr = t.Output()
		if err := command.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, command)
		await(t, f, fmt.Sprint("shard ", n), func(s *fake.State) bool {
			return s.Connections() == n+1 && len(s.Commands(guilds[n])) > 0
		})
	}
	stop := func() {
		var all sync.WaitGroup
		for _, command := range running {
			all.Go(func() { told(t, command) })
		}
		all.Wait()
		running = nil
		await(t, f, "the end", func(s *fake.State) bool { return s.Connections() == 0 })
	}
	pull := func(n int, text string) string {
		id := f.Say(channel[n], fmt.Sprint("lead-", n), text, "")
		await(t, f, fmt.Sprint("an answer in bar ", n), hasAnswer(id, channel[n]))
		return answers(f, id, channel[n])[0].Content
	}
	check := func(n int, want ...string) {
		t.Helper()
		var got []string
		reading(t, file(n), func(tx *store.Tx) error {
			bars, err := tx.Bars()
			for _, b := range bars {
				where, err := tx.ChannelOf(b.ID)
				if err != nil {
					return err
				}
				got = append(got, where)
			}
			return err
		})
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("bars in file %d (-want +got):\n%s", n, diff)
		}
	}

	for n := range 8 {
		serve(n, 8)
	}
	for n := range 8 {
		if _, err := f.Slash(channel[n], fmt.Sprint("lead-", n), "setup", map[string]any{"zone": "Europe/Berlin"}); err != nil {
			t.Fatal(err)
		}
		await(t, f, "the answer to /setup", func(s *fake.State) bool { return len(s.Posts(channel[n])) == 1 })
		pull(n, fmt.Sprintf("18 36 %d grind 5 sour", 18+n))
	}
	stop()
	for n := range 8 {
		check(n, channel[n])
	}
	for n := range 4 {
		moved := filepath.Join(dir, fmt.Sprintf("moved-%d.jsonl", n))
		for _, args := range [][]string{
			{"export", "-db", file(n + 4), "-bar", channel[n+4], moved}, {"import", "-db", file(n), moved}, {"check", "-db", file(n)},
		} {
			if out, err := call(t, "", args...); err != nil {
				t.Fatal(args, err, out)
			}
		}
		serve(n, 4)
	}
	for n := range 8 {
		said := pull(n, "18 36 24 grind 4.8 sour")
		if want := "house, second shot: 18 → 36 g, 24 s, at 4.8"; !strings.Contains(said, want) {
			t.Errorf("bar %d does not go on where it was, with %q:\n%s", n, want, said)
		}
		if n := len(f.Threads(channel[n])); n > 1 {
			t.Errorf("%d threads", n)
		}
	}
	stop()
	for n := range 4 {
		check(n, channel[n], channel[n+4])
	}
}
