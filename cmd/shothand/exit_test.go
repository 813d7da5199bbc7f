package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shothand/store"
)

// Where another start would only meet the same, the program says so by its
// status, and the unit does not start it again; for a file that another process
// has open it does.
func TestExitStatus(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string { return written(t, filepath.Join(dir, name), text) }
	whole := filepath.Join(dir, "whole.db")
	records, err := store.Open(whole)
	if err != nil {
		t.Fatal(err)
	}
	if err := records.Close(); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	if records, err = store.Open(whole); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := records.Close(); err != nil {
			t.Error(err)
		}
	}()
	for _, test := range []struct {
		name string
		args []string
		env  map[string]string
		want int
	}{
		{"unknown flag", []string{"-discord-uri=http://127.0.0.1:1"}, nil, exitConfig},
		{"too many names", []string{"-discord-url=http://127.0.0.1:1", "x"}, nil, exitConfig},
		{"no token", []string{"-discord-url=http://127.0.0.1:1"}, map[string]string{"DISCORD_TOKEN": ""}, exitConfig},
		{"odd token", nil, map[string]string{"DISCORD_TOKEN": "sec ret"}, exitConfig},
		{"token file", nil, map[string]string{"DISCORD_TOKEN": "", "DISCORD_TOKEN_FILE": filepath.Join(dir, "none")}, exitConfig},
		{"url", []string{"-discord-url=ftp://a"}, nil, exitConfig},
		{"shard", []string{"-shard=4/4"}, nil, exitConfig},
		{"level", []string{"-log=loud"}, nil, exitConfig},
		{"health", []string{"-health=0.0.0.0:80", "-db=" + filepath.Join(dir, "health.db")}, nil, exitConfig},
		{"no home", nil, map[string]string{}, exitConfig},
		{"home is a file", nil, map[string]string{"HOME": file("home", "")}, exitConfig},
		{"no such directory", []string{"-db=" + filepath.Join(dir, "none", "bar.db")}, nil, exitConfig},
		{"cut short", []string{"-db=" + file("cut.db", string(text[:len(text)/2]))}, nil, exitConfig},
		{"not ours", []string{"-db=" + file("not.db", strings.Repeat("not ours ", 4096))}, nil, exitConfig},
		{"not ours, on the console", []string{"-db=" + file("my.csv", "a,b\n1,2\n")}, map[string]string{"DISCORD_TOKEN": ""}, exitConfig},
		{"not ours, to export", []string{"export", "-db=" + file("my.txt", "a,b\n1,2\n")}, map[string]string{"DISCORD_TOKEN": ""}, exitConfig},
		{"in use", []string{"-db=" + whole}, nil, 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			getenv := func(key string) string {
				if value, ok := test.env[key]; ok || key != "DISCORD_TOKEN" {
					return value
				}
				return "x"
			}
			err := run(t.Context(), test.args, getenv, nil, io.Discard, io.Discard)
			if err == nil {
				t.Fatal("it started")
			}
			if strings.Contains(err.Error(), "sec ret") {
				t.Error("the token is in the error")
			}
			if got := exitStatus(err); got != test.want {
				t.Errorf("%v: status %d, want %d", err, got, test.want)
			}
		})
	}
	if exitStatus(errors.New("network")) != 1 {
		t.Error("any error is hopeless")
	}
	unit, err := os.ReadFile("shothand.service")
	if err != nil {
		t.Fatal(err)
	}
	if line := fmt.Sprintf("\nRestartPreventExitStatus=%d\n", exitConfig); !strings.Contains(string(unit), line) {
		t.Errorf("the unit has no line %q", line)
	}
}

// written writes a file, and returns its path.
func written(t *testing.T, path, text string) string {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
