package main

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
	"shothand/bot/booktest"
	"shothand/store"
)

// A typed message is a line of a day, and what the book should hold of it when
// the day is over.
type typedMessage struct {
	at        time.Time
	who, text string
	meant     string
}

// languagesDay reads the day of four people in two languages.
func languagesDay(t *testing.T) []typedMessage {
	t.Helper()
	script, err := os.ReadFile("../../testdata/days/two-languages.txt")
	if err != nil {
		t.Fatal(err)
	}
	var list []typedMessage
	for line := range strings.Lines(string(script)) {
		said, meant, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		if !ok {
			continue
		}
		stamp, rest, _ := strings.Cut(said, " ")
		at, err := time.Parse("2006-01-02 15:04:05 -07:00", "2026-03-02 "+stamp+" +01:00")
		if err != nil {
			t.Fatal(err)
		}
		who, text, _ := strings.Cut(strings.TrimPrefix(rest, "@"), " ")
		list = append(list, typedMessage{at, who, text, meant})
	}
	return list
}

// A day of four people who type in English and in Italian: at its end the book
// holds what they meant, line by line, on the console.
func TestTwoLanguages(t *testing.T) {
	t.Parallel()
	day := languagesDay(t)
	var typed []string
	for _, m := range day {
		typed = append(typed, m.at.Format(time.RFC3339)+" @"+m.who+" "+m.text)
	}
	db := filepath.Join(t.TempDir(), "bar.db")
	answers := runJSON(t, []string{"-db", db}, typed)
	checkBook(t, db, day)
	for i, a := range answers {
		for _, r := range a.Replies {
			t.Logf("%s @%s %s\n      %s", day[i].at.Format(time.TimeOnly), day[i].who, day[i].text, strings.ReplaceAll(r.Text, "\n", " | "))
		}
	}
}

// And the same on Discord.
func TestTwoLanguagesOnDiscord(t *testing.T) {
	t.Parallel()
	day := languagesDay(t)
	inBubble(t, day[0].at.Add(-time.Minute), func(b *bubble) {
		b.AddUser("Harbour Lane", "kim", false)
		db := filepath.Join(b.TempDir(), "bar.db")
		r := b.join(db)
		for _, m := range day {
			time.Sleep(time.Until(m.at))
			if strings.HasPrefix(m.text, "/") {
				sayOrCall(b.T, b.Server, m.who, m.text)
				continue
			}
			b.Say("dial-in", m.who, m.text, "")
		}
		time.Sleep(time.Minute)
		r.stop()
		checkBook(b.T, db, day)
	})
}

// checkBook compares what the book holds of each message with what was meant.
func checkBook(t *testing.T, db string, day []typedMessage) {
	t.Helper()
	s, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	var lines []booktest.Line
	err = s.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		if err != nil {
			return err
		}
		lines, err = booktest.Lines(tx, bars[0].ID, day[0].at.Add(-time.Hour))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	held := map[time.Time][]string{}
	for _, l := range lines {
		if _, learnt := l.Entry.What.(bar.Told); learnt && l.Entry.Raw == "" { // what a shot showed of its dial
			continue
		}
		at := l.Entry.At.Add(500 * time.Millisecond).Truncate(time.Second).UTC()
		held[at] = append(held[at], l.Text)
	}
	var want, got []string
	for _, m := range day {
		said := m.at.Format(time.TimeOnly) + " @" + m.who + " " + m.text + "\t"
		want = append(want, said+m.meant)
		of := held[m.at.UTC()]
		slices.SortFunc(of, cmp.Compare[string])
		got = append(got, said+unsaid(strings.Join(of, "; "), m.meant))
		delete(held, m.at.UTC())
	}
	if diff := gocmp.Diff(want, got); diff != "" {
		t.Errorf("the book (-meant +held):\n%s", diff)
	}
	for at, of := range held {
		t.Errorf("%s: %v, of no message", at.Format(time.TimeOnly), of)
	}
}

// unsaid puts a star where the meaning has one: a value that nobody said.
func unsaid(held, meant string) string {
	words, wanted := strings.Fields(held), strings.Fields(meant)
	for i := range min(len(words), len(wanted)) {
		switch wanted[i] {
		case "*", "@*":
			words[i] = wanted[i]
		}
	}
	return strings.Join(words, " ")
}
