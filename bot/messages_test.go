package bot

import (
	"bufio"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
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
	if all < 500 || 2*silent < all {
		t.Errorf("%d messages, %d of them chatter: want 500, half of them chatter", all, silent)
	}
}

// A messageBar is a bar's file that each message finds in the same state.
type messageBar struct {
	file string
	dir  string
	n    int
}

// messagesBar makes the file.
func messagesBar(t *testing.T) *messageBar {
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
	outs := b.Handle(here.message("mara", text, 3))
	after := here.book(t, b)
	return cmp.Or(after.since(before), answeredBy(outs))
}

// answeredBy says what became of a message that left nothing in the book.
func answeredBy(outs []Out) string {
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
	err := b.store.View(func(tx *store.Tx) error {
		id, _ := tx.BarOf("harbour-lane")
		names := messageNames{coffees: map[bar.CoffeeID]string{}, grinders: map[bar.GrinderID]string{}}
		coffees, err := tx.Coffees(id)
		if err != nil {
			return err
		}
		for _, c := range coffees {
			names.coffees[c.ID] = c.Name
		}
		grinders, err := tx.Grinders(id)
		if err != nil {
			return err
		}
		for _, g := range grinders {
			names.grinders[g.ID] = g.Name
		}
		entries, err := tx.Recent(id, morning().Add(-time.Hour))
		for _, e := range entries {
			if !e.Deleted {
				list.ids = append(list.ids, e.ID)
				list.lines[e.ID] = names.line(e.What)
			}
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

type messageNames struct {
	coffees  map[bar.CoffeeID]string
	grinders map[bar.GrinderID]string
}

func (n messageNames) line(w bar.What) string {
	switch w := w.(type) {
	case bar.Shot:
		return n.shot(w)
	case bar.Words:
		return "words" + terms(w.Words)
	case bar.Told:
		name := cmp.Or(n.coffees[w.Coffee], n.grinders[w.Grinder])
		return strings.TrimSpace("told "+toldWord(w.Event)+" "+name) + movedTo(w)
	case bar.Dialled:
		return "dialled " + n.coffees[w.Coffee]
	case bar.Held:
		return "asked"
	case bar.Setting, bar.Layers, bar.Sips:
	}
	return "other"
}

func (n messageNames) shot(s bar.Shot) string {
	seconds, dial := "-", "?"
	if s.Time.From != bar.None {
		seconds = say.Number(float64(s.Time.X))
	}
	if s.Grind.From != bar.None {
		dial = say.Number(float64(s.Grind.X))
	}
	var text strings.Builder
	fmt.Fprintf(&text, "shot %s %s %s %s @%s", n.coffees[s.Coffee], say.Number(float64(s.Dose.X)), say.Number(float64(s.Yield.X)), seconds, dial)
	for _, m := range []struct {
		mark bar.Marks
		word string
	}{
		{bar.Practice, "practice"},
		{bar.Sink, "sink"},
		{bar.Single, "single"},
		{bar.First, "first"},
		{bar.Purged, "purged"},
		{bar.NotPurged, "unpurged"},
		{bar.Choked, "choked"},
		{bar.Stopped, "stopped"},
		{bar.Stuck, "same"},
		{bar.InMilk, "milk"},
		{bar.Unplaced, "unplaced"},
	} {
		if s.Marks.Has(m.mark) {
			text.WriteString(" +" + m.word)
		}
	}
	return text.String() + terms(s.Words)
}

func terms(words []bar.Word) string {
	var text strings.Builder
	for _, w := range words {
		switch {
		case w.Than && w.Not:
			text.WriteString(" less")
		case w.Than:
			text.WriteString(" more")
		case w.Not:
			text.WriteString(" not")
		}
		text.WriteString(" " + w.Term)
	}
	return text.String()
}

// movedTo says where a dial was put.
func movedTo(w bar.Told) string {
	text := ""
	if w.Dial.From != bar.None {
		text = " @" + say.Number(float64(w.Dial.X))
	} else if w.Turned != 0 {
		text = " by " + say.Number(w.Turned)
	}
	if w.Purged {
		text += " +purged"
	}
	return text
}

// toldWord names an event; where a dial was put is told by no shot.
func toldWord(e bar.Event) string {
	if e == bar.Moved {
		return "moved"
	}
	return parse.EventText(e)
}
