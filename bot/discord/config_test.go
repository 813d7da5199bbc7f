package discord

import (
	"os"
	"path/filepath"
	"testing"
)

func TestToken(t *testing.T) {
	file := filepath.Join(t.TempDir(), "token")
	if err := os.WriteFile(file, []byte("Bot abc.def\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	empty := filepath.Join(t.TempDir(), "empty")
	if err := os.WriteFile(empty, []byte(" \n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		env  map[string]string
		want string
		ok   bool
	}{
		{nil, "", true},
		{map[string]string{"DISCORD_TOKEN": " abc "}, "abc", true},
		{map[string]string{"DISCORD_TOKEN_FILE": file}, "abc.def", true},
		{map[string]string{"DISCORD_TOKEN": "first", "DISCORD_TOKEN_FILE": file}, "first", true},
		{map[string]string{"DISCORD_TOKEN_FILE": file + ".none"}, "", false},
		{map[string]string{"DISCORD_TOKEN_FILE": empty}, "", true},
	} {
		got, err := Token(func(k string) string { return test.env[k] })
		if got != test.want || (err == nil) != test.ok {
			t.Errorf("%v: %q, %v", test.env, got, err)
		}
	}
	for s, want := range map[string]bool{"abc.def-_1": true, "": false, "sec ret": false, "sécret": false, "a\n": false} {
		if IsToken(s) != want {
			t.Errorf("%q: %v", s, !want)
		}
	}
}

func TestParseShard(t *testing.T) {
	for _, test := range []struct {
		s    string
		want Shard
		ok   bool
	}{
		{"", Shard{0, 1}, true},
		{"0/4", Shard{0, 4}, true},
		{"3/4", Shard{3, 4}, true},
		{"4/4", Shard{}, false},
		{"-1/4", Shard{}, false},
		{"a/b", Shard{}, false},
		{"1", Shard{}, false},
	} {
		if got, ok := ParseShard(test.s); got != test.want || ok != test.ok {
			t.Errorf("%q: %v, %v", test.s, got, ok)
		}
	}
}

func TestParseRoot(t *testing.T) {
	for s, ok := range map[string]bool{
		"": true, "http://127.0.0.1:8390": true, "https://proxy.example/discord": true,
		"ftp://a": false, "127.0.0.1:8390": false, "http://user:pass@a": false,
	} {
		if _, got := ParseRoot(s); got != ok {
			t.Errorf("%q: %v", s, got)
		}
	}
}

// Waits double up to a bound and are never alike.
func TestBackoff(t *testing.T) {
	times := Timings{}.orUsual()
	for n := range 100 {
		d := backoff(times, n)
		most := min(times.Backoff<<min(n, 20), times.BackoffTo)
		if d < most/2 || d > most {
			t.Errorf("after %d failures %v", n, d)
		}
	}
}

// A member's rights are those that the platform documents.
func TestRights(t *testing.T) {
	w := newWorld()
	w.addGuild(wireGuild{
		ID: "1", OwnerID: "9", Roles: []wireRole{{"1", "0"}, {"2", "16"}, {"3", "8"}},
		Channels: []wireChannel{{ID: "5", Overwrites: []wireOverwrite{{"1", "0", "16"}, {"7", "16", "0"}}}, {ID: "6"}},
	})
	for _, test := range []struct {
		channel, user string
		roles         []string
		want          bool
	}{
		{"6", "9", nil, true},
		{"6", "8", nil, false},
		{"6", "8", []string{"2"}, true},
		{"6", "8", []string{"3"}, true},
		{"5", "8", []string{"2"}, false},
		{"5", "8", []string{"3"}, true},
		{"5", "7", nil, true},
	} {
		if got := manages(w.rights("1", test.channel, test.user, test.roles)); got != test.want {
			t.Errorf("%+v: %v", test, got)
		}
	}
}

// More events than can be handled end the session, and the next begins with
// an empty queue.
func TestQueueOverflow(t *testing.T) {
	q := newQueue()
	for range manyEvents {
		if !q.put("MESSAGE_CREATE", nil) {
			t.Fatal("dropped too early")
		}
	}
	if q.put("MESSAGE_CREATE", nil) || q.put("GUILD_CREATE", nil) {
		t.Error("kept too many")
	}
	if !q.put("READY", nil) {
		t.Error("a new session was dropped")
	}
	if e, ok := q.take(); !ok || e.kind != "READY" {
		t.Errorf("first is %q", e.kind)
	}
}
