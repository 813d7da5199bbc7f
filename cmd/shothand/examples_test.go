package main

import (
	"encoding/json"
	"go/format"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The tour's worked examples are changes that can be made: each applies to the
// tree as it is and touches three files at most, and a program with all of them
// says what they add.
func TestWorkedExamples(t *testing.T) {
	changed := map[string]string{}
	examples := regexp.MustCompile("(?s)```diff\n(.*?)```").FindAllStringSubmatch(theTour(t), -1)
	if len(examples) < 6 {
		t.Fatalf("%d examples in the tour", len(examples))
	}
	for _, example := range examples {
		files := splitBefore(example[1], "--- ")
		if len(files) > 3 {
			t.Errorf("an example touches %d files:\n%s", len(files), example[1])
		}
		for _, file := range files {
			applyDiff(t, file, map[string]string{})
			applyDiff(t, file, changed)
		}
	}
	if t.Failed() || testing.Short() {
		return
	}
	console := exec.CommandContext(t.Context(), buildChanged(t, changed), "console", "--db", filepath.Join(t.TempDir(), "x.db"))
	console.Stdin = strings.NewReader(`/setup zone:Europe/Berlin
/grinder add left finer:lower step:0.1
/grinder add right finer:lower step:0.1
/coffee add Tide grinder:left
18 36 28 at 5.0 wardrobe
18 36 28 75C sour
new gasket
/crew
/coffee list grinder:right
`)
	said, err := console.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	for _, want := range []string{"it tastes old.", "not hot yet", "Noted: a new gasket.", "Who has posted here: ", "There is no coffee yet."} {
		if !strings.Contains(string(said), want) {
			t.Errorf("%q is not said:\n%s", want, said)
		}
	}
}

// applyDiff makes the change that a diff shows of one file, found by the lines
// around it, as often as those stand there: once.
func applyDiff(t *testing.T, diff string, changed map[string]string) {
	t.Helper()
	hunks := splitBefore(diff, "@@")
	path := regexp.MustCompile(`(?m)^\+\+\+ b/(\S+)$`).FindStringSubmatch(hunks[0])[1]
	text, ok := changed[path]
	if !ok {
		read, err := os.ReadFile(filepath.Join("../..", path))
		if err != nil {
			t.Error(err)
			return
		}
		text = string(read)
	}
	for _, hunk := range hunks[1:] {
		var before, after string
		for _, line := range slices.Collect(strings.Lines(hunk))[1:] {
			switch line[0] {
			case '-':
				before += line[1:]
			case '+':
				after += line[1:]
			default:
				before, after = before+line[1:], after+line[1:]
			}
		}
		if n := strings.Count("\n"+text, "\n"+before); n != 1 {
			t.Errorf("%s has %d times, where the example needs it once:\n%s", path, n, before)
		}
		text = strings.Replace("\n"+text, "\n"+before, "\n"+after, 1)[1:]
	}
	if tidy, err := format.Source([]byte(text)); strings.HasSuffix(path, ".go") && (err != nil || string(tidy) != text) {
		t.Errorf("%s is not as gofmt has it: %v", path, err)
	}
	changed[path] = text
}

// buildChanged builds the program with other texts of some files.
func buildChanged(t *testing.T, changed map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	overlay := struct{ Replace map[string]string }{map[string]string{}}
	for path, text := range changed {
		there, err := filepath.Abs(filepath.Join("../..", path))
		if err != nil {
			t.Fatal(err)
		}
		overlay.Replace[there] = filepath.Join(dir, strings.ReplaceAll(path, "/", "_"))
		writeText(t, overlay.Replace[there], text)
	}
	list, err := json.Marshal(overlay)
	if err != nil {
		t.Fatal(err)
	}
	writeText(t, filepath.Join(dir, "overlay.json"), string(list))
	program := filepath.Join(dir, "program")
	build := exec.CommandContext(t.Context(), "go", "build", "-overlay", filepath.Join(dir, "overlay.json"), "-o", program, ".")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return program
}

func writeText(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// splitBefore cuts a text before each line that begins so; what stands before the
// first is a piece where there is any.
func splitBefore(text, begin string) []string {
	var pieces []string
	for line := range strings.Lines(text) {
		if len(pieces) == 0 || strings.HasPrefix(line, begin) {
			pieces = append(pieces, "")
		}
		pieces[len(pieces)-1] += line
	}
	return pieces
}
