package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

func bareRoot() *cobra.Command {
	return program{getenv: func(string) string { return "" }, out: io.Discard, errOut: io.Discard}.root(false)
}

// One dash is as good as two, also where the value looks like an option.
func TestOneDashIsEnough(t *testing.T) {
	for _, test := range []struct{ given, want string }{
		{"-db x.db", "--db x.db"},
		{"--db x.db", "--db x.db"},
		{"console -json -db=x", "console --json --db=x"},
		{"report -o -odd.html -force", "report -o -odd.html --force"},
		{"forget -person -jo -db x", "forget --person -jo --db x"},
		{"export - -h", "export - -h"},
		{"import -- -db", "import -- -db"},
		{"-help", "--help"},
		{"", ""},
	} {
		if got := strings.Join(doubled(bareRoot(), strings.Fields(test.given)), " "); got != test.want {
			t.Errorf("%s: %s, want %s", test.given, got, test.want)
		}
	}
}

// Every command says on standard output what it is for, with an example that
// has no option it lacks.
func TestHelpOfEachCommand(t *testing.T) {
	root := bareRoot()
	for _, c := range append(root.Commands(), root) {
		var out, errOut bytes.Buffer
		args := append(strings.Fields(c.CommandPath())[1:], "-h")
		if err := run(t.Context(), args, nil, nil, &out, &errOut); err != nil || errOut.Len() > 0 {
			t.Errorf("%s: %v %s", c.Name(), err, &errOut)
		}
		for _, want := range []string{c.Short, "Examples:", "Usage:", "Options:"} {
			if c.Long != "" && want == c.Short {
				want = c.Long
			}
			if !strings.Contains(strings.Join(strings.Fields(out.String()), " "), strings.Join(strings.Fields(want), " ")) {
				t.Errorf("%s: no %q in\n%s", c.Name(), want, &out)
			}
		}
		for line := range strings.SplitSeq(c.Example, "\n") {
			heldToOptions(t, root, line)
		}
	}
}

// heldToOptions fails if an example names a command or an option that there is
// not.
func heldToOptions(t *testing.T, root *cobra.Command, line string) {
	t.Helper()
	_, line, ok := strings.Cut(line, "shothand")
	words := strings.Fields(line)
	if !ok || len(words) == 0 {
		return
	}
	c, _, err := root.Find(words)
	if err != nil {
		t.Errorf("%s: %v", line, err)
		return
	}
	for _, w := range words {
		if name := strings.TrimLeft(w, "-"); strings.HasPrefix(w, "-") && c.Flags().Lookup(name) == nil && c.Flags().ShorthandLookup(name[:1]) == nil {
			t.Errorf("%s: no option %s", line, w)
		}
	}
}

// Shells are told what can be typed.
func TestCompletionOfShells(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		if said, err := call(t, "", "completion", shell); err != nil || !strings.Contains(said, "__complete") {
			t.Errorf("%s: %v, %d bytes", shell, err, len(said))
		}
	}
	for _, test := range []struct{ typed, want []string }{
		{[]string{"comp"}, []string{"compact", "completion"}},
		{[]string{"export", "--format", ""}, []string{"csv", "jsonl"}},
		{[]string{"console", "--log", ""}, []string{"debug", "info", "warn", "error"}},
		{[]string{"forget", "--per"}, []string{"--person"}},
	} {
		said, err := call(t, "", append([]string{"__complete"}, test.typed...)...)
		var got []string
		for line := range strings.SplitSeq(said, "\n") {
			if word, _, _ := strings.Cut(line, "\t"); word != "" && !strings.HasPrefix(word, ":") && !strings.HasPrefix(word, "Completion ended") {
				got = append(got, word)
			}
		}
		if err != nil || !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q, %v", test.typed, got, test.want, err)
		}
	}
}

// A bash that has nothing but itself completes options and their values.
func TestCompletionInAPlainBash(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("there is no bash here")
	}
	script, err := call(t, "", "completion", "bash")
	if err != nil {
		t.Fatal(err)
	}
	const press = `
compopt() { :; } # it is for a tab that was pressed
shothand() { echo "$@" >&2; printf 'debug\n:4\n'; }
COMP_WORDS=(shothand console --log = de); COMP_CWORD=4; COMP_LINE='shothand console --log=de'; COMP_POINT=${#COMP_LINE}; COMP_TYPE=9
__start_shothand
echo "${COMPREPLY[@]}"
`
	c := exec.CommandContext(t.Context(), bash, "--norc", "--noprofile", "-c", script+press)
	var asked strings.Builder
	c.Env, c.Stderr = []string{"PATH=/nowhere"}, &asked
	offered, err := c.Output()
	if err != nil || strings.TrimSpace(string(offered)) != "debug" {
		t.Errorf("offered %q, %v: %s", offered, err, &asked)
	}
}

// The man pages are made of what -h says.
func TestManPages(t *testing.T) {
	dir := t.TempDir()
	root := bareRoot()
	root.DisableAutoGenTag = true
	month := time.Date(2026, time.November, 1, 0, 0, 0, 0, time.UTC)
	if err := doc.GenManTree(root, &doc.GenManHeader{Title: "SHOTHAND", Section: "1", Source: "shothand", Date: &month}, dir); err != nil {
		t.Fatal(err)
	}
	made, err := filepath.Glob(filepath.Join(dir, "*.1"))
	if err != nil || len(made) < 12 {
		t.Fatalf("%d pages, %v", len(made), err)
	}
	for _, page := range made {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		heldTo(t, filepath.Join("man", filepath.Base(page)), string(text))
	}
}

// heldTo fails unless a file has that text; with -update it is written.
func heldTo(t *testing.T, file, text string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	had, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(had), text); diff != "" {
		t.Errorf("%s: go test ./cmd/shothand -update rewrites it\n%s", file, diff)
	}
}
