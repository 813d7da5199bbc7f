package main

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The log tells what happened at 6:40: one line a message, with what came of
// it, and nothing of who wrote or what.
func TestLogTellsWhatHappened(t *testing.T) {
	var out, log bytes.Buffer
	in := at(0, "@mara #quayside id:m-1 18 36 24 sour wibble\n") + at(1, "@jo #quayside id:m-2 hello there\n") +
		at(2, "@jo #quayside id:m-3 18 36 0\n") + at(3, "@mara /edit 1 18 36 27 sour\n") + at(4, "@mara /delete 1\n")
	args := []string{"console", "-db", filepath.Join(t.TempDir(), "bar.db"), "-log", "info"}
	if err := run(t.Context(), args, func(string) string { return "" }, strings.NewReader(in), &out, &log); err != nil {
		t.Fatal(err)
	}
	fields := regexp.MustCompile(` ms=[0-9.]+`)
	stamp := regexp.MustCompile(`^time=\S+ level=INFO msg=`)
	var got []string
	for line := range strings.Lines(log.String()) {
		if !stamp.MatchString(line) || !fields.MatchString(line) {
			t.Errorf("a line without its time or how long it took: %s", line)
		}
		got = append(got, fields.ReplaceAllString(stamp.ReplaceAllString(strings.TrimSpace(line), ""), ""))
	}
	want := []string{
		"handled bar=1 message=m-1 kind=text answer=question", // whether wibble is the coffee
		"handled bar=1 message=m-2 kind=text answer=none",
		"handled bar=1 message=m-3 kind=text answer=error",
		"handled bar=1 message=m-1 kind=edit answer=advice",
		"handled bar=1 message=m-1 kind=delete answer=recorded",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, secret := range []string{"mara", "jo", "wibble", "hello", "quayside", "sour"} {
		if strings.Contains(log.String(), secret) {
			t.Errorf("the log holds %q", secret)
		}
	}
}
