package main

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"go.yaml.in/yaml/v3"
	"golang.org/x/tools/txtar"

	"shothand/bot/say"
)

// The main job is said in every language: the conversations are played again,
// and nothing of another language is said in them. What some of them say is
// kept in full. Under the race detector only those are played: the rest go the same
// way, and each is played there in English.
func TestConversationsInEveryLanguage(t *testing.T) {
	files, err := filepath.Glob("../../testdata/conversations/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conversations: %v", err)
	}
	for _, code := range say.Languages()[1:] {
		foreign := foreignTo(t, code)
		for _, file := range files {
			name := strings.TrimSuffix(filepath.Base(file), ".txtar")
			old, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !playedIn(name, code, old) || (raced || testing.Short()) && !keptInFull(name) {
				continue
			}
			t.Run(code+"/"+name, func(t *testing.T) {
				t.Parallel()
				archive := txtar.Parse(old)
				db := filepath.Join(t.TempDir(), "bar.db")
				for i, section := range archive.Files {
					flags := strings.Fields(section.Name)[1:]
					if i == 0 {
						speak(t, db, flags, code, string(old))
					}
					section.Data = pressedIn(t, code, section.Data)
					archive.Files[i].Data = play(t, db, flags, string(section.Data))
					checkSpoken(t, string(archive.Files[i].Data), foreign)
				}
				if keptInFull(name) {
					archive.Comment = nil
					golden(t, filepath.Join("../../testdata/languages", code, name+".txtar"), txtar.Format(archive))
				}
			})
		}
	}
}

// playedIn has the main job played in every language, and what lies beside it,
// which takes longest, each in one, by turns. What sets a language of its own is
// played in that.
func playedIn(name, code string, text []byte) bool {
	if regexp.MustCompile(`/setup .*language:`).Match(text) || name == "dial-unlearnt" { // which takes back all that was set
		return false
	}
	if os.Getenv("SHOTHAND_TEST_ALL_LANGUAGES") != "" || !regexp.MustCompile(`^(layers|review|coffee-page|devices|both-coffees|best-move)`).MatchString(name) {
		return true
	}
	others := say.Languages()[1:]
	return others[len(name)%len(others)] == code
}

func keptInFull(name string) bool {
	return slices.Contains([]string{
		"dial-in", "corrections", "choked", "did-it", "drift", "far-numbers", "first-shot", "numbers-later", "setup-facts",
		"tasters-differ", "wrong-names", "words-later", "event-with-a-shot", "out-of-reach", "past-the-peak", "set-between",
	}, name)
}

// speak sets the language of a bar before the first line of its first day.
func speak(t *testing.T, db string, flags []string, code, section string) {
	t.Helper()
	_, first, _ := strings.Cut(section, "> ")
	at, _, _ := strings.Cut(first, " ")
	lines := []string{at + " @mara /setup language:" + code}
	channels := regexp.MustCompile(`(?m)^> \S+ (?:@\S+ )?(#\S+)`).FindAllStringSubmatch(section, -1)
	for _, m := range channels {
		if line := at + " " + m[1] + " @mara /setup language:" + code; !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	runJSON(t, append([]string{"-db", db}, anyManager(flags)...), lines)
}

// anyManager leaves out of flags who manages.
func anyManager(flags []string) []string {
	i := slices.Index(flags, "-managers")
	if i < 0 {
		return flags
	}
	return slices.Delete(slices.Clone(flags), i, min(i+2, len(flags)))
}

// pressedIn has the labels of the buttons that are pressed in another language.
func pressedIn(t *testing.T, code string, section []byte) []byte {
	t.Helper()
	if !bytes.Contains(section, []byte("/press ")) {
		return section
	}
	said := catalogue(t, code)
	press := regexp.MustCompile(`(?m)^(> .*/press \d+ )(.*)$`)
	return press.ReplaceAllFunc(section, func(line []byte) []byte {
		m := press.FindSubmatch(line)
		label, ok := said[string(m[2])]
		if !ok {
			label, ok = said["taste|"+string(m[2])]
		}
		if at, still := strings.CutPrefix(string(m[2]), "still "); still {
			label, ok = strings.Replace(said["still %s"], "%s", strings.Replace(at, ".", ",", 1), 1), true
		}
		if at, yes := strings.CutPrefix(string(m[2]), "yes, "); yes {
			label, ok = said["yes"]+", "+strings.Replace(at, ".", ",", 1), true
		}
		if !ok {
			return line
		}
		return append(m[1], label...)
	})
}

func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); diff != "" {
		t.Errorf("%s (-file +played):\n%s", file, diff)
	}
}

// checkSpoken finds words of another language in the answers of a section.
func checkSpoken(t *testing.T, played string, foreign []string) {
	t.Helper()
	asked, answered := "", false
	for line := range strings.Lines(played) {
		if said, ok := strings.CutPrefix(line, "> "); ok {
			asked, answered = said, false
			continue
		}
		if first := strings.HasPrefix(line, "  ") && !answered; first {
			answered = true
			checkFirst(t, asked, line)
		}
		if !strings.HasPrefix(line, "  ") || ofTheConsole().MatchString(line) {
			continue
		}
		if m := englishIn(line); m != "" {
			t.Errorf("after %q: %q is English, in %q", strings.TrimSpace(asked), m, strings.TrimSpace(line))
		}
		for _, piece := range foreign {
			if strings.Contains(line, piece) {
				t.Errorf("after %q: %q is of another language, in %q", strings.TrimSpace(asked), piece, strings.TrimSpace(line))
			}
		}
	}
}

// checkFirst holds the first sentence of what answers a shot, a word or an event
// to two lines of a lock screen.
func checkFirst(t *testing.T, asked, line string) {
	t.Helper()
	if strings.Contains(asked, " /") || strings.Contains(line, "(to them alone)") {
		return
	}
	action := regexp.MustCompile(`^.*?(\. |\?|$)`).FindString(strings.TrimSpace(line))
	if n := utf8.RuneCountInString(strings.TrimSpace(action)); n > lockScreen+1 { // the dot may go over the end
		t.Errorf("after %q: the first sentence has %d characters: %s", strings.TrimSpace(asked), n, action)
	}
}

// englishIn finds a word that only English has, outside of what is quoted and of
// commands.
func englishIn(line string) string {
	line = strings.Replace(line, "(to them alone)", "", 1)
	line = regexp.MustCompile("“[^”]*”|„[^“]*“|«[^»]*»|/[a-z]+ .*").ReplaceAllString(line, "")
	return regexp.MustCompile(`(?i)\b(the|were|of|that|with|and|which|your|about)\b`).FindString(line)
}

// ofTheConsole are the sentences of the command line, which is in English.
func ofTheConsole() *regexp.Regexp {
	return regexp.MustCompile(`^  (No one button|No message came|There is no button|And what does line|/delete takes)`)
}

// foreignTo returns the pieces of sentences that another language has and this one
// has not: three words or more.
func foreignTo(t *testing.T, code string) []string {
	t.Helper()
	own, others := "", map[string]bool{}
	for _, other := range say.Languages()[1:] {
		for english, said := range catalogue(t, other) {
			if other == code {
				own += said + "\n"
				others[english] = true
			} else {
				others[said] = true
			}
		}
	}
	pieces := map[string]bool{}
	words := regexp.MustCompile(`\pL+`)
	between := regexp.MustCompile(`%(\[\d\])?[sd%]|[“”„«»"\n]|/[a-z].*`)
	for sentence := range others {
		for _, piece := range between.Split(sentence, -1) {
			piece = strings.Trim(piece, " .,;:()")
			if len(words.FindAllString(piece, 3)) == 3 && piece != "dose, yield, time" && !strings.Contains(own, piece) {
				pieces[piece] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(pieces))
}

// catalogue reads one as it is in its file.
func catalogue(t *testing.T, code string) map[string]string {
	t.Helper()
	text, err := os.ReadFile("../../bot/say/catalogue/" + code + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	var entries map[string]any
	if err := yaml.Unmarshal(text, &entries); err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for english, said := range entries {
		switch said := said.(type) {
		case string:
			all[english] = said
		case map[string]any:
			all[english] = said["other"].(string)
		}
	}
	return all
}

// lockScreen is how many characters two lines of a lock screen have. Assumed.
const lockScreen = 80

// The action of an advice stands in the first two lines of a lock screen: what
// to do is its first sentence, in every language.
func TestFirstLines(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/languages/*/*.txtar")
	if len(files) == 0 {
		t.Fatal("no files")
	}
	longest := map[string]string{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		code := filepath.Base(filepath.Dir(file))
		lines := strings.Split(string(text), "\n")
		for i, line := range lines[1:] {
			if !strings.HasPrefix(lines[i], "> ") || !strings.HasPrefix(line, "  ") || strings.Contains(lines[i], " /") {
				continue
			}
			action, _, _ := strings.Cut(strings.TrimSpace(line), ". ")
			if utf8.RuneCountInString(action) > utf8.RuneCountInString(longest[code]) {
				longest[code] = action
			}
		}
	}
	for code, action := range longest {
		if n := utf8.RuneCountInString(action); n > lockScreen {
			t.Errorf("%s: %d characters: %s", code, n, action)
		} else {
			t.Logf("%s: at most %d characters: %s", code, n, action)
		}
	}
}
