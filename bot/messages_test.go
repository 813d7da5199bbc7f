package bot

import (
	"bufio"
	"cmp"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/booktest"
	"shothand/bot/chat"
	"shothand/bot/say"
	"shothand/bot/turn"
	"shothand/store"
)

// What is typed in a bar and what its book holds afterwards: the head of
// testdata/messages.tsv says how to read it.
func TestMessages(t *testing.T) {
	file, err := os.Open("../testdata/messages.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	bar := messagesBar(t)
	all, right, silent := 0, 0, 0
	for lines := bufio.NewScanner(file); lines.Scan(); {
		text, want, ok := strings.Cut(lines.Text(), "\t")
		if !ok {
			continue
		}
		all++
		if strings.HasSuffix(want, "silent") {
			silent++
		}
		got := bar.become(t, strings.ReplaceAll(text, `\n`, "\n"))
		want, short := strings.CutPrefix(want, "! ")
		switch {
		case got == want && short:
			t.Errorf("%q is no longer short: take its mark away", text)
		case got == want:
			right++
		case !short:
			t.Errorf("%q becomes\n  %s, not\n  %s", text, got, want)
		}
	}
	t.Logf("%d of %d messages, %d of them chatter, become what they should", right, all, silent)
	if all < 1000 || silent < 500 {
		t.Errorf("%d messages, %d of them chatter: want 1000, half of them chatter", all, silent)
	}
}

// What is typed in a bar that has told of nothing: testdata/first-messages.tsv.
func TestFirstMessages(t *testing.T) {
	text, err := os.ReadFile("../testdata/first-messages.tsv")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		typed, want, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		if !ok {
			continue
		}
		dir := t.TempDir()
		bar := &messageBar{file: filepath.Join(dir, "bar.db"), dir: dir}
		b, done := bar.open(t, bar.file)
		b.Handle(bar.message("mara", "/setup zone:UTC", 0))
		done()
		if got := bar.become(t, typed); got != want {
			t.Errorf("%q becomes\n  %s, not\n  %s", typed, got, want)
		}
	}
}

// Every question can be answered by typing: testdata/answers.tsv, and those of the languages.
func TestAnswers(t *testing.T) {
	for _, code := range say.Languages() {
		file, setup := filepath.Join("../testdata/languages", code, "answers.tsv"), "/setup language:"+code
		if code == say.Languages()[0] {
			file, setup = "../testdata/answers.tsv", "/setup zone:UTC"
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		bar := messagesBar(t, setup)
		for line := range strings.Lines(string(text)) {
			typed, want, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
			if !ok {
				continue
			}
			if got := bar.become(t, typed); got != want {
				t.Errorf("%s: %q becomes\n  %s, not\n  %s", code, typed, got, want)
			}
		}
	}
}

// What is typed in the bar's own language is understood, in a bar that is answered
// in it.
func TestTypedInEveryLanguage(t *testing.T) {
	for _, code := range say.Languages()[1:] {
		text, err := os.ReadFile(filepath.Join("../testdata/languages", code, "typed.tsv"))
		if err != nil {
			t.Fatal(err)
		}
		bar := messagesBar(t, "/setup language:"+code)
		all, right := 0, 0
		for line := range strings.Lines(string(text)) {
			typed, want, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
			if !ok {
				continue
			}
			all++
			got := bar.become(t, typed)
			want, short := strings.CutPrefix(want, "! ")
			switch {
			case got == want && short:
				t.Errorf("%s: %q is no longer short: take its mark away", code, typed)
			case got == want:
				right++
			case !short:
				t.Errorf("%s: %q becomes\n  %s, not\n  %s", code, typed, got, want)
			}
		}
		if t.Logf("%s: %d of %d", code, right, all); all < 60 {
			t.Errorf("%s: %d messages, want 60", code, all)
		}
	}
}

// A messageBar is a bar's file that each message finds in the same state.
type messageBar struct {
	file string
	dir  string
	n    int
}

// messagesBar makes the file.
func messagesBar(t *testing.T, besides ...string) *messageBar {
	t.Helper()
	dir := t.TempDir()
	bar := &messageBar{file: filepath.Join(dir, "bar.db"), dir: dir}
	b, done := bar.open(t, bar.file)
	for i, said := range [][2]string{
		{"mara", "/grinder add name:left finer:lower step:0.1"},
		{"mara", "/grinder add name:right finer:higher step:1"},
		{"mara", "/coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"},
		{"mara", "/coffee edit name:Harbour for:milk dose:18 yield:30 time:26-30"},
		{"mara", "/coffee add name:Tide grinder:right dose:18 yield:40 time:26-32"},
		{"jo", "tide 18 40 30 grind 20 balanced"},
		{"mara", "harbour 18 36 28 grind 5.2 sweet balanced"},
	} {
		b.Handle(bar.message(said[0], said[1], i-6))
	}
	for _, line := range besides {
		b.Handle(bar.message("mara", line, 0))
	}
	done()
	return bar
}

func (here *messageBar) open(t *testing.T, file string) (*Bot, func()) {
	t.Helper()
	s, err := store.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	return New(s, Options{Open: true}), func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
}

func (here *messageBar) message(from, text string, minute int) chat.Message {
	here.n++
	return chat.Message{
		ID: strconv.Itoa(here.n), Channel: "harbour-lane", From: chat.Person{ID: from, Name: from}, Manager: true,
		At: morning().Add(time.Duration(minute) * time.Minute), Text: text,
	}
}

// become types a message into the bar and says what the book holds of it.
func (here *messageBar) become(t *testing.T, text string) string {
	t.Helper()
	made, err := os.ReadFile(here.file)
	if err != nil {
		t.Fatal(err)
	}
	copied := filepath.Join(here.dir, "copy.db")
	if err := os.WriteFile(copied, made, 0o600); err != nil {
		t.Fatal(err)
	}
	b, done := here.open(t, copied)
	defer done()
	before := here.book(t, b)
	var outs []turn.Out
	ids := map[string]string{}
	for i, step := range strings.Split(text, " >> ") {
		m := here.step(step, ids)
		m.At = m.At.Add(time.Duration(20*i) * time.Second)
		outs = b.Handle(m)
	}
	after := here.book(t, b)
	return cmp.Or(after.since(before), answeredBy(outs))
}

// step returns what one of several messages is: of whom, and whether it edits the
// one before of the same person.
func (here *messageBar) step(text string, ids map[string]string) chat.Message {
	from, edits := "mara", false
	if marks, rest, ok := strings.Cut(text, "] "); ok && strings.HasPrefix(marks, "[") {
		text = rest
		for mark := range strings.FieldsSeq(marks[1:]) {
			if mark == "edit" {
				edits = true
			} else {
				from = mark
			}
		}
	}
	m := here.message(from, text, 3)
	if edits {
		m.Kind, m.ID = chat.Edited, ids[from]
	}
	ids[from] = m.ID
	return m
}

// answeredBy says what became of a message that left nothing in the book.
func answeredBy(outs []turn.Out) string {
	if len(outs) == 0 {
		return "silent"
	}
	switch outs[0].Kind {
	case chat.Error:
		return "refused"
	case chat.Question:
		return "asked"
	case chat.Advice, chat.Recorded, chat.Info, chat.Reminder, chat.Alert:
	}
	return "answered"
}

// bookLines are what a bar's file holds, a line for each entry.
type bookLines struct {
	ids   []bar.EntryID
	lines map[bar.EntryID]string
}

func (here *messageBar) book(t *testing.T, b *Bot) bookLines {
	t.Helper()
	list := bookLines{lines: map[bar.EntryID]string{}}
	err := b.tools.Store.View(func(tx *store.Tx) error {
		id, _ := tx.BarOf("harbour-lane")
		lines, err := booktest.Lines(tx, id, morning().Add(-time.Hour))
		for _, l := range lines {
			list.ids = append(list.ids, l.Entry.ID)
			list.lines[l.Entry.ID] = l.Text
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// since says what is new, changed and gone: shots first, then the rest.
func (b bookLines) since(before bookLines) string {
	var shots, rest []string
	for _, id := range b.ids {
		line, old := b.lines[id], before.lines[id]
		switch {
		case old == "" && strings.HasPrefix(line, "shot"):
			shots = append(shots, line)
		case old == "":
			rest = append(rest, line)
		case old != line:
			rest = append(rest, "was"+strings.TrimPrefix(line, "shot"))
		}
	}
	for _, id := range before.ids {
		if b.lines[id] == "" {
			rest = append(rest, "gone")
		}
	}
	return strings.Join(append(shots, rest...), "; ")
}
