package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"shothand/store"
)

// madeDemo returns the file of an invented bar after so many mornings.
func madeDemo(t *testing.T, mornings int) string {
	t.Helper()
	return playedDemo(t, demoSeed, time.Now(), mornings)
}

func playedDemo(t *testing.T, seed uint64, now time.Time, mornings int) string {
	t.Helper()
	db := filepath.Join(t.TempDir(), "demo.db")
	if err := makeDemo(t.Context(), db, rehearse(seed, now, mornings, func() {})); err != nil {
		t.Fatal(err)
	}
	return db
}

// typed returns what the console says on a file.
func typed(t *testing.T, db string, lines ...string) string {
	t.Helper()
	var out bytes.Buffer
	in := strings.NewReader(strings.Join(lines, "\n") + "\n")
	if err := run(t.Context(), []string{"demo", "-db", db}, func(string) string { return "" }, in, &out, io.Discard); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// The invented bar is a real file that passes its check, and is looked back on
// with pictures that are there.
func TestDemo(t *testing.T) {
	t.Parallel()
	db := madeDemo(t, demoTasting+2)
	if err := store.Check(db); err != nil {
		t.Error(err)
	}
	said := typed(t, db, "/review", "/review Harbour", "/coffee show name:Tide")
	for _, want := range []string{"shots on", "You did what I advised", "Compared blind: The recipe of Tide was moved", "One step on grinder left is worth", "EUR"} {
		if !strings.Contains(said, want) {
			t.Errorf("does not say %q:\n%s", want, said)
		}
	}
	files := regexp.MustCompile(`(?m)^ +(\S+\.png)$`).FindAllStringSubmatch(said, -1)
	var names []string
	for _, f := range files {
		names = append(names, filepath.Base(f[1]))
		if data, err := os.ReadFile(f[1]); err != nil || !bytes.HasPrefix(data, []byte("\x89PNG")) {
			t.Errorf("%s: %v", f[1], err)
		}
	}
	for _, want := range []string{"harbour-dial-in", "harbour-grind", "mornings", "forecasts", "tide-dial-in", "tide-grind"} {
		if !strings.Contains(strings.Join(names, " "), want) {
			t.Errorf("no picture %s among %q", want, names)
		}
	}
}

// Of the invented bar it is known what is true: the grind mends a cup, more coffee in
// the basket does nothing to it, and at eleven cups are off. On four crews that were not
// looked at before, the grind is always found, of more coffee nothing false is said but
// once at most, and no other hour is blamed.
func TestDemoIsReadRight(t *testing.T) {
	t.Parallel()
	if raced {
		t.Skip("takes a minute")
	}
	now := time.Date(2026, 11, 27, 10, 45, 0, 0, time.UTC)
	wrong, hours := 0, 0
	for seed := range uint64(4) {
		said := typed(t, playedDemo(t, 100+seed, now, demoMornings), "/review since:2026-01-01 pictures:no")
		for line := range strings.Lines(said) {
			helps, _, _ := strings.Cut(line, "no help that we can see")
			switch {
			case strings.HasPrefix(line, "Which changes worked: ") && !strings.Contains(helps, "changing the grind"):
				t.Errorf("crew %d: the grind mends, and it is not said: %s", seed, line)
			case strings.HasPrefix(line, "Which changes worked: ") && strings.Contains(helps, "more coffee"), strings.HasPrefix(line, "• More coffee does not help"):
				wrong++
				t.Logf("crew %d: %s", seed, line)
			case strings.HasPrefix(line, "What gives trouble: ") && strings.Contains(line, "11:00 to 12:00 ("):
				hours++
			case strings.HasPrefix(line, "What gives trouble: ") && strings.Contains(line, ":00 to "):
				t.Errorf("crew %d: %s", seed, line)
			}
		}
	}
	if wrong > 1 || hours < 2 {
		t.Errorf("of more coffee %d of 4 say what is false; the hour of trouble is found in %d", wrong, hours)
	}
}

// The same seed invents the same bar.
func TestDemoIsTheSameEachTime(t *testing.T) {
	now := time.Now()
	said := func() string { return typed(t, playedDemo(t, demoSeed, now, 3), "/review pictures:no more:yes") }
	one, two := said(), said()
	if one != two || !strings.Contains(one, "shots") {
		t.Errorf("%s\nand then:\n%s", one, two)
	}
}

// A report is one page that needs nothing from anywhere, with every picture in
// both looks.
func TestReport(t *testing.T) {
	db := madeDemo(t, 5)
	page := filepath.Join(t.TempDir(), "report.html")
	var out bytes.Buffer
	if err := run(t.Context(), []string{"report", "-db", db, "-o", page}, nil, nil, &out, io.Discard); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	html := string(data)
	for _, want := range []string{"<!DOCTYPE html>", "Looking back: Harbour Lane", "prefers-color-scheme: dark", "@media print", "Where the figures come from"} {
		if !strings.Contains(html, want) {
			t.Errorf("no %q", want)
		}
	}
	if outside := regexp.MustCompile(`(src|href)="?(https?:)?//|<script|url\(`).FindString(html); outside != "" {
		t.Errorf("the page needs something from outside: %s", outside)
	}
	figures, light := strings.Count(html, "<figure"), strings.Count(html, `class="light"`)
	if figures < 5 || light != figures || strings.Count(html, "<svg") != 2*figures {
		t.Errorf("%d figures, %d light, %d drawings", figures, light, strings.Count(html, "<svg"))
	}
	d := xml.NewDecoder(strings.NewReader(html))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// What cannot be reported is said, and no page is left behind.
func TestReportRefuses(t *testing.T) {
	db := madeDemo(t, 1)
	page := filepath.Join(t.TempDir(), "report.html")
	for _, args := range [][]string{
		{"report", "-db", db},
		{"report", "-db", db, "-o", page, "-bar", "nowhere"},
		{"report", "-db", db, "-o", page, "-since", "soon"},
		{"report", "-db", filepath.Join(t.TempDir(), "none.db"), "-o", page},
	} {
		if err := run(t.Context(), args, nil, nil, io.Discard, io.Discard); err == nil {
			t.Errorf("%v: no error", args)
		}
		if _, err := os.Stat(page); err == nil {
			t.Errorf("%v left a page", args)
		}
	}
}
