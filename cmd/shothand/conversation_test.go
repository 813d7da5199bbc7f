package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"
)

var update = flag.Bool("update", false, "rewrite what the bot says in testdata/conversations")

// Conversations are played through the whole program. In a file, the comment
// says what it shows; each section is one run of the console on the same
// records, with the flags that stand behind its name. A line that begins with "> " is typed, what is indented below it is
// what the bot said, and other lines are for the reader.
func TestConversations(t *testing.T) {
	files, err := filepath.Glob("../../testdata/conversations/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conversations: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			t.Parallel()
			old, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			archive := txtar.Parse(old)
			db := filepath.Join(t.TempDir(), "bar.db")
			for i, section := range archive.Files {
				archive.Files[i].Data = play(t, db, strings.Fields(section.Name)[1:], string(section.Data))
			}
			played := txtar.Format(archive)
			if *update {
				if err := os.WriteFile(file, played, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(strings.Split(string(old), "\n"), strings.Split(string(played), "\n")); diff != "" {
				t.Errorf("the conversation went differently (-file +played):\n%s", diff)
			}
		})
	}
}

// An answered line is what the console says of one line.
type answered struct {
	Due, Replies []struct {
		At      string
		Kind    string
		Text    string
		Buttons []string
		Private bool
		Edits   string
	}
}

// play runs a section and returns it with what the bot said this time.
func play(t *testing.T, db string, flags []string, section string) []byte {
	t.Helper()
	var script, typed []string
	for line := range strings.Lines(section) {
		line = strings.TrimSuffix(line, "\n")
		if strings.HasPrefix(line, "  ") {
			continue
		}
		script = append(script, line)
		if said, ok := strings.CutPrefix(line, "> "); ok {
			typed = append(typed, said)
		}
	}
	answers := runJSON(t, append([]string{"-db", db}, flags...), typed)
	var out strings.Builder
	for _, line := range script {
		out.WriteString(line + "\n")
		if !strings.HasPrefix(line, "> ") {
			continue
		}
		for i, r := range append(answers[0].Due, answers[0].Replies...) {
			text := aSecret().ReplaceAllString(r.Text, "SECRET")
			if i < len(answers[0].Due) {
				text = dueText(r.At, r.Kind, r.Edits, text)
			}
			if r.Private {
				text = "(to them alone) " + text
			}
			for l := range strings.SplitSeq(text, "\n") {
				out.WriteString("  " + l + "\n")
			}
			if len(r.Buttons) > 0 {
				out.WriteString("  [" + strings.Join(r.Buttons, "] [") + "]\n")
			}
		}
		answers = answers[1:]
	}
	return []byte(out.String())
}

// aSecret matches a device's secret, which is another each time.
func aSecret() *regexp.Regexp { return regexp.MustCompile(`\b\d+\.\d+\.[0-9a-f]{64}\b`) }

// dueText is a post that the clock caused: when, and what sort it is.
func dueText(at, kind, edits, text string) string {
	if edits != "" {
		kind = "card edited"
	}
	return "(" + kind + " at " + at + ")\n" + text
}

// runJSON types lines into the console and returns the object each got.
func runJSON(t *testing.T, flags, typed []string) []answered {
	t.Helper()
	var out, logged bytes.Buffer
	in := strings.NewReader(strings.Join(typed, "\n") + "\n")
	err := run(t.Context(), append([]string{"console", "-json"}, flags...), func(string) string { return "" }, in, &out, &logged)
	if err != nil {
		t.Fatal(err)
	}
	if logged.Len() > 0 {
		t.Errorf("logged: %s", &logged)
	}
	var answers []answered
	for d := json.NewDecoder(&out); ; {
		var a answered
		if err := d.Decode(&a); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, a)
	}
	if len(answers) != len(typed) {
		t.Fatalf("%d objects for %d lines", len(answers), len(typed))
	}
	return answers
}

// The sessions in the README and in the manual are what the program says.
func TestReadmeSession(t *testing.T) {
	for _, file := range []string{"../../README.md", "MANUAL.md"} {
		t.Run(filepath.Base(file), func(t *testing.T) { playSession(t, file) })
	}
}

// playSession plays the lines of the session that stands in a page.
func playSession(t *testing.T, file string) {
	const fence = "```\n"
	old, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok1 := strings.Cut(string(old), fence)
	session, after, ok2 := strings.Cut(rest, fence)
	if !ok1 || !ok2 || !strings.Contains(session, "> ") {
		t.Fatal("no session in it")
	}
	played := string(play(t, filepath.Join(t.TempDir(), "bar.db"), nil, session))
	if *update {
		if err := os.WriteFile(file, []byte(before+fence+played+fence+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(session, played); diff != "" {
		t.Errorf("the session goes differently now (-page +played):\n%s", diff)
	}
}
