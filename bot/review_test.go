package bot

import (
	"bytes"
	"fmt"
	"image/png"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/bot/chat"
	"shothand/bot/say/past"
	"shothand/bot/turn"
	"shothand/store"
)

// posted plays lines of mara's, or of somebody else's as "@jo sour", into a new
// bot, minutes apart from half past six, and returns all that it said.
func posted(t *testing.T, lines ...string) []turn.Out {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	b := New(s, Options{Open: true})
	var all []turn.Out
	for i, line := range lines {
		at := time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC).Add(time.Duration(3*i) * time.Minute)
		who := "mara"
		if other, text, ok := strings.Cut(line, " "); ok && strings.HasPrefix(other, "@") {
			who, line = other[1:], text
		}
		all = append(all, b.Handle(chat.Message{
			ID: fmt.Sprint("m", i), Channel: "bar", From: chat.Person{ID: who, Name: who}, Manager: true, At: at, Text: line,
		})...)
	}
	return all
}

// An alert brings the picture of the drift, with what it shows in words.
func TestAlertHasItsPicture(t *testing.T) {
	lines := []string{
		"/setup opens:06:00 closes:18:00", "/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour time:25-31",
		"18 36 28 grind 5 balanced", "18 36 28 balanced", "18 36 28 sweet", "/dialled",
	}
	for i := range 14 {
		lines = append(lines, fmt.Sprintf("18 36 %d", 28+min(i, 9)))
	}
	var alerts []turn.Out
	for _, o := range posted(t, lines...) {
		if o.Kind == chat.Alert {
			alerts = append(alerts, o)
		}
	}
	if len(alerts) == 0 {
		t.Fatal("no alert")
	}
	files := alerts[0].Files
	if len(files) != 1 || files[0].Name != "harbour-drift.png" || !strings.Contains(files[0].Alt, "The window is 25–31 s") {
		t.Fatalf("%d files: %+v", len(files), files)
	}
	if _, err := png.Decode(bytes.NewReader(files[0].Data)); err != nil {
		t.Error(err)
	}
}

// Every picture says in words what it shows, within the limit.
func TestPicturesHaveAltText(t *testing.T) {
	all := posted(t, "/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour time:25-31",
		"18 36 20 grind 5.6 sour", "18 36 24 grind 5.2 purged, a bit sour", "18 36 28 grind 5 purged, balanced", "/dialled",
		"/review Harbour today", "/coffee show name:Harbour look:dark", "/review today")
	if last := all[len(all)-1]; last.Files[0].Name != "day-2026-03-02.png" || !strings.Contains(last.Files[0].Alt, "Harbour, 3 shots of 20 to 28 s") {
		t.Errorf("a review of one day begins with %+v", last.Files[0])
	}
	for i, o := range all[len(all)-3:] {
		least := 2
		if i == 2 { // of a day without a settled change there is its own alone
			least = 1
		}
		if len(o.Files) < least {
			t.Errorf("%d pictures with %q", len(o.Files), o.Text)
		}
		for _, f := range o.Files {
			if n := len([]rune(f.Alt)); n < 30 || n > past.MostAlt {
				t.Errorf("%s: alt text of %d characters: %q", f.Name, n, f.Alt)
			}
		}
	}
}

// The account of a tasting brings its picture.
func TestLayersHaveTheirPicture(t *testing.T) {
	all := posted(t, "/coffee add name:Harbour", "/layers start coffee:Harbour method:espresso tasters:1",
		"early 12.1 g sour, salty / middle 12.8 g sweet, flat / late 11.9 g thin, bitter")
	for _, o := range all {
		for _, f := range o.Files {
			if f.Name == "harbour-cups.png" && strings.Contains(f.Alt, "early, 12.1 g") && strings.Contains(f.Alt, "sour") {
				return
			}
		}
	}
	t.Errorf("no picture with %d posts: %q", len(all), all[len(all)-1].Text)
}

// What a step is worth is not told where only the usual is known of it.
func TestWorthThatHasNotShown(t *testing.T) {
	var said strings.Builder
	for _, o := range posted(t, "/grinder add name:left finer:lower step:0.1", "/coffee add name:Harbour time:25-31",
		"18 36 28 grind 5 balanced", "18 36 28 balanced", "18 36 29 balanced", "/review today", "/coffee show name:Harbour") {
		said.WriteString(o.Text + "\n")
	}
	for _, want := range []string{"What changes are worth: what a step of left does has not shown yet"} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("does not say %q:\n%s", want, said.String())
		}
	}
}
