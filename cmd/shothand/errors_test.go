package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shothand/store"
)

// wrongInputs reads what is typed wrong from a file in which each line of it
// is followed by what is said to it.
func wrongInputs(t *testing.T, file string) (head string, inputs []string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(text), "\n\n")
	for line := range strings.SplitSeq(rest, "\n") {
		if in, ok := strings.CutPrefix(line, "> "); ok {
			inputs = append(inputs, in)
		}
	}
	if len(inputs) == 0 {
		t.Fatalf("%s has no inputs", file)
	}
	return head, inputs
}

// indented puts what was said under its input.
func indented(said string) string {
	if said == "" {
		said = "(nothing)"
	}
	return "  " + strings.ReplaceAll(said, "\n", "\n  ") + "\n"
}

// harbourLane is a bar that is asked wrong things.
func harbourLane(t *testing.T, db string) {
	t.Helper()
	in := at(0, "@mara /grinder add name:left finer:lower step:0.1 min:0 max:10\n") +
		at(1, "@mara /coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31\n") +
		at(2, "@mara /coffee add name:Tide grinder:left dose:18 yield:40 time:25-31\n") +
		at(3, "@mara harbour 18 36 24 grind 5.2 sour\n")
	if _, err := call(t, in, "console", "-db", db); err != nil {
		t.Fatal(err)
	}
}

// Each of what people type wrong in the chat gets the sentence that stands
// under it. Each meets the same bar.
func TestWrongInputsInTheChat(t *testing.T) {
	const file = "../../testdata/errors/chat.txt"
	head, inputs := wrongInputs(t, file)
	dir := t.TempDir()
	bar := filepath.Join(dir, "bar.db")
	harbourLane(t, bar)
	fresh, err := os.ReadFile(bar)
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	all.WriteString(head + "\n\n")
	for _, in := range inputs {
		db := filepath.Join(dir, "one.db")
		if err := os.WriteFile(db, fresh, 0o600); err != nil {
			t.Fatal(err)
		}
		line := at(10, "@mara "+in+"\n")
		if strings.HasPrefix(in, "2026-") {
			line = in + "\n"
		}
		out, err := call(t, line, "console", "-json", "-db", db)
		if err != nil {
			t.Fatalf("%s: %v", in, err)
		}
		fmt.Fprintf(&all, "> %s\n%s", in, indented(repliesIn(t, out)))
	}
	heldTo(t, file, all.String())
}

// repliesIn returns what was answered.
func repliesIn(t *testing.T, out string) string {
	t.Helper()
	var o struct{ Replies []struct{ Text string } }
	if err := json.Unmarshal([]byte(strings.TrimSpace(out)), &o); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var all []string
	for _, r := range o.Replies {
		all = append(all, r.Text)
	}
	return strings.Join(all, "\n")
}

// Each of what people type wrong on the command line gets the sentence that
// stands under it, with its status.
func TestWrongInputsOnTheCommandLine(t *testing.T) {
	const file = "../../testdata/errors/line.txt"
	head, inputs := wrongInputs(t, file)
	golden, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	wrongFiles(t)
	busy, err := store.Open("busy.db")
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := busy.Close(); err != nil {
			t.Error(err)
		}
	}()
	var all strings.Builder
	all.WriteString(head + "\n\n")
	for _, in := range inputs {
		args := strings.Fields(in)
		for i, a := range args {
			args[i] = strings.Trim(a, `"`)
		}
		var out strings.Builder
		err := run(t.Context(), args, func(string) string { return "" }, nothingTyped{}, &out, &out)
		said := strings.TrimSpace(out.String())
		if err != nil {
			said = fmt.Sprintf("%d  shothand: %v", exitStatus(err), err)
		}
		fmt.Fprintf(&all, "> %s\n%s", in, indented(said))
	}
	heldTo(t, golden, all.String())
}

// nothingTyped is a standard input at its end.
type nothingTyped struct{}

// Read is at the end.
func (nothingTyped) Read([]byte) (int, error) { return 0, io.EOF }

// wrongFiles makes the files that the inputs name.
func wrongFiles(t *testing.T) {
	t.Helper()
	harbourLane(t, "shothand.db")
	whole, err := os.ReadFile("shothand.db")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"bar.db": string(whole), "busy.db": string(whole), "cut.db": string(whole[:len(whole)/2]), "empty.db": "", "empty.csv": "",
		"notes.txt": "18 36 28 sour\nremember the milk\n", "taken.html": "<p>mine</p>", "broken.jsonl": "{\"kind\":\"bar\"\n",
		"table.csv": "In,Out,Time\n18,36,28\n",
	} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir("empty-directory", 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := call(t, "", "console", "-db", "nobars.db"); err != nil {
		t.Fatal(err)
	}
}
