package main

import (
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// opening is when the bar of these tests opens.
var opening = time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC)

// at puts the time before a line, so many minutes after opening.
func at(minutes int, line string) string {
	return opening.Add(time.Duration(minutes)*time.Minute).Format(time.RFC3339) + " " + line
}

// A bar that told of nothing gets an advice in steps from its first shot.
func TestFirstShotIsAdvisedInSteps(t *testing.T) {
	bar := open(t, filepath.Join(t.TempDir(), "bar.db"))
	defer bar.close()
	a := bar.say("18.1 36.4 24 sour thin").advice(t)
	if a.Coffee != "house" || a.Shot != 1 || a.State != "dialling" {
		t.Errorf("coffee %q, shot %d, %s", a.Coffee, a.Shot, a.State)
	}
	c := a.Change
	if c.Lever != "grind" || c.Unit == nil || *c.Unit != "steps" || *c.From != 0 || !(*c.To > 0) {
		t.Errorf("change %+v, want the grind in steps from 0, finer", c)
	}
	if a.Expect == nil || !(a.Expect.Low < a.Expect.Time && a.Expect.Time < a.Expect.High) || !(a.Expect.Time > 24) {
		t.Errorf("expect %+v, want a slower shot within its bounds", a.Expect)
	}
	if !slices.Contains(a.Reasons, "under-extracted") {
		t.Errorf("reasons %v, want under-extracted", a.Reasons)
	}
	if diff := cmp.Diff([]string{"sour", "thin"}, a.Read.Words); diff != "" {
		t.Errorf("words (-want +got):\n%s", diff)
	}
}

// A dial is a grinder of these tests.
type dial struct {
	name    string
	options string  // of /grinder add; empty: no numbers
	start   float64 // in dial units
	step    float64
	finer   float64 // which way the numbers go
}

func dials() []dial {
	return []dial{
		{"tenths", "finer:lower step:0.1", 5.2, 0.1, -1},
		{"hundred", "finer:higher step:1 min:0 max:100", 52, 1, 1},
		{"quarters", "finer:lower step:0.25", 8, 0.25, -1},
		{"fives", "finer:lower step:5", 140, 5, -1},
		{"collar", "", 0, 1, 1},
	}
}

// A world answers a recipe with a time: log-linear in the grind, with a little
// noise that is the same in every run.
type world struct {
	dial
	worth float64 // s that a step is worth at 25 s
	grind float64 // position
	yield float64 // g
	dose  float64 // g
	shots int
}

// time is the true time of the recipe, in s. That a shot grows less than in
// proportion to its yield and more than in proportion to its dose: from memory,
// the exact powers do not matter here.
func (w *world) time() float64 {
	steps := (w.grind - w.start) / w.step * w.finer
	return 22 * math.Exp(w.worth/25*steps) * math.Pow(w.yield/36, 0.8) * math.Pow(w.dose/18, 1.5)
}

// pull returns what a barista posts of the next shot.
func (w *world) pull() string {
	noise := []float64{0, 0.3, -0.4, 0.2, -0.2, 0.4, -0.3, 0.1}
	seconds := w.time() + noise[w.shots%len(noise)]
	w.shots++
	word := "balanced"
	switch as := w.time() * math.Pow(36/w.yield, 0.8); { // what grind and dose would give
	case as < 24.5:
		word = "sour"
	case as > 31.5:
		word = "bitter"
	}
	line := fmt.Sprintf("@mara %g %g %.1f purged %s", w.dose, w.yield, seconds, word)
	if w.shots == 1 && w.options != "" {
		line += fmt.Sprintf(" grind %g", w.start)
	}
	return line
}

// follow does what was advised.
func (w *world) follow(t *testing.T, a advice) {
	t.Helper()
	switch a.Change.Lever {
	case "grind":
		if *a.Change.Unit == "steps" {
			w.grind += *a.Change.To * w.step * w.finer
			return
		}
		if math.Abs(*a.Change.From-w.grind) > 1e-9 {
			t.Errorf("advice from %g, but the dial is at %g", *a.Change.From, w.grind)
		}
		w.grind = *a.Change.To
	case "yield":
		w.yield = *a.Change.To
	case "dose":
		w.dose = *a.Change.To
	case "repeat", "prep", "keep":
	default:
		t.Errorf("lever %q has no business here", a.Change.Lever)
	}
}

// Whoever follows the advice on a dial of any kind and steepness gets to keep,
// and no first move leads past 60 s.
func TestFollowedAdviceEndsInKeep(t *testing.T) {
	for _, d := range dials() {
		for _, worth := range []float64{0.3, 0.6, 1.3, 3, 10} {
			t.Run(fmt.Sprintf("%s/%gs", d.name, worth), func(t *testing.T) {
				t.Parallel()
				within := 10
				switch {
				case worth == 10: // the next step may be past the window: no first choke is all
					within = 0
				case worth == 1.3 && (d.name == "tenths" || d.name == "hundred"):
					within = 6
				}
				enough := []string{"keep"}
				if worth == 0.6 { // where the words stop is 25.3 s: so near the edge nobody can be sure
					enough = append(enough, "confirm")
				}
				got := dialIn(t, world{dial: d, worth: worth, grind: d.start, yield: 36, dose: 18}, enough)
				if within > 0 && got > within {
					t.Errorf("%v after %d shots, want within %d", enough, got, within)
				}
			})
		}
	}
}

// dialIn follows the advice in w and returns which shot was answered with a
// lever or a reason that is enough, or 99.
func dialIn(t *testing.T, w world, enough []string) int {
	t.Helper()
	bar := open(t, filepath.Join(t.TempDir(), "bar.db"))
	defer bar.close()
	bar.say(at(-2, strings.TrimSpace("@mara /grinder add name:left "+w.options)))
	bar.say(at(-1, "@mara /coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"))
	for shot := 1; shot <= 10; shot++ {
		line := w.pull()
		a := bar.say(at(3*shot, line)).advice(t)
		t.Logf("%s: %s → %s", line, a.Change.Lever, said(a))
		if shot == 1 && a.Change.Lever != "grind" {
			t.Errorf("a sour shot of 22 s was answered with %s", a.Change.Lever)
		}
		if slices.ContainsFunc(append(a.Reasons, a.Change.Lever), func(s string) bool { return slices.Contains(enough, s) }) {
			if !(24 <= w.time() && w.time() <= 32) {
				t.Errorf("a setting of %.1f s was called right", w.time())
			}
			return shot
		}
		w.follow(t, a)
		if shot == 1 && !(w.time() <= 60) {
			t.Errorf("the first move leads to %.0f s", w.time())
		}
	}
	return 99
}

// said is where an advice leads, for a log.
func said(a advice) string {
	if a.Change.To == nil {
		return strings.Join(a.Reasons, " ")
	}
	return fmt.Sprintf("%g", *a.Change.To)
}

// settled pulls shots of Harbour until they are good, in the file db.
func settled(t *testing.T, db string) {
	t.Helper()
	bar := open(t, db)
	defer bar.close()
	bar.say(at(-2, "@mara /grinder add name:left finer:lower step:0.1"))
	bar.say(at(-1, "@mara /coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"))
	for i, line := range []string{
		"18 36 22 grind 5.2 sour", "18 36 24.5 grind 5 a bit sour", "18 36 28 grind 4.8 balanced", "18 36 28 balanced",
	} {
		bar.say(at(3*i, "@mara "+line))
	}
}

// A new process on the same file has the recipe, the day and the grinder.
func TestNextMorningKnowsYesterday(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	settled(t, db)
	const evening, morning = 12 * 60, 24 * 60
	bar := open(t, db)
	defer bar.close()
	for _, c := range []struct {
		line string
		want []string
	}{
		{at(evening, "@jo /today"), []string{"Harbour", "4.8", "28 s"}},
		{at(evening, "@jo /coffee list"), []string{"Harbour", "18 → 36 g", "25–31 s", "left"}},
		{at(morning, "@jo /today"), []string{"Harbour: not pulled yet"}},
	} {
		o := bar.say(c.line)
		for _, want := range c.want {
			if !strings.Contains(o.Replies[0].Text, want) {
				t.Errorf("%q is not in %q", want, o.Replies[0].Text)
			}
		}
	}
	warm := bar.say(at(morning+1, "@jo 18 36 24 sour"))
	a := warm.advice(t)
	if !strings.Contains(warm.Replies[0].Text, "at 4.8, as before") || a.Change.Lever == "grind" && *a.Change.From != 4.8 {
		t.Errorf("the setting of yesterday is not known: %s", warm.Replies[0].Text)
	}

	cold := open(t, filepath.Join(t.TempDir(), "cold.db"))
	defer cold.close()
	cold.say(at(-2, "@jo /grinder add name:left finer:lower step:0.1"))
	cold.say(at(-1, "@jo /coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"))
	b := cold.say(at(morning+1, "@jo 18 36 24 sour grind 4.8")).advice(t)
	width := func(a advice) float64 { return (a.Expect.High - a.Expect.Low) / a.Expect.Time }
	if !(width(a) < width(b)) {
		t.Errorf("expected within %.2f of its time with a day known, %.2f without", width(a), width(b))
	}
}

// Every message gets what it deserves, and what is refused leaves no trace.
func TestMessagesGetTheirAnswer(t *testing.T) {
	for _, c := range []struct {
		text   string
		want   []string
		counts bool // as a shot of the day
	}{
		{"18,2 > 36,5 in 27s bitter", []string{"advice"}, true},
		{"18,36,21 thin", []string{"advice"}, true},
		{"18/36/28 not sour, sweet", []string{"advice"}, true},
		{"1:2 in 28", []string{"question"}, true}, // in the window and untasted
		{"18 28 36 sour", []string{"question"}, false},
		{"36 18 28", []string{"question"}, false},
		{"18 4 45 choked", []string{"advice"}, true},
		{"28s still sour", []string{"advice"}, true},
		{"18 0 28", []string{"error"}, false},
		{"18 36 NaN", []string{"error"}, false},
		{"18 400 28", []string{"question"}, false}, // 40, by a tap
		{"18 990 28", []string{"error"}, false},
		{"18 36 0 sour", []string{"error"}, false},
		{strings.Repeat("noise ", 500), []string{}, false},
		{strings.Repeat("x", 3000), []string{}, false},
		{"☕😀👍🏽", []string{}, false},
		{"hello team", []string{}, false},
		{"ordered 18 36 24 cups for saturday", []string{}, false},
		{"/coffe list", []string{"question"}, false},
	} {
		name := c.text[:min(len(c.text), 30)]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			bar := open(t, filepath.Join(t.TempDir(), "bar.db"))
			defer bar.close()
			bar.say(at(-2, "@mara /grinder add name:left finer:lower step:0.1"))
			bar.say(at(-1, "@mara /coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"))
			bar.say(at(0, "@mara 18 36 27 sour grind 5"))
			before := bar.say(at(9, "@mara /today")).Replies[0].Text
			if diff := cmp.Diff(c.want, bar.say(at(9, "@mara "+c.text)).kinds()); diff != "" {
				t.Errorf("kinds (-want +got):\n%s", diff)
			}
			after, open, asked := strings.Cut(bar.say(at(9, "@mara /today")).Replies[0].Text, "\nAsked and not answered: ")
			if !c.counts && after != before {
				t.Errorf("the day was %q and is %q", before, after)
			}
			refused := c.text[0] == '/' || c.text == "18 400 28" // what was probably meant is offered, and nothing kept
			if want := !c.counts && slices.Contains(c.want, "question") && !refused; asked != want || asked && !strings.Contains(open, c.text) {
				t.Errorf("asked and not answered: %q", open)
			}
			want := 2 // the next shot's number tells how many there have been
			if c.counts {
				want = 3
			}
			if a := bar.say(at(12, "@mara 18 36 27 sour grind 5")).advice(t); a.Shot != want {
				t.Errorf("the next shot is number %d of the day, want %d", a.Shot, want)
			}
		})
	}
}

// An edited or a deleted message changes the advice as if the shot had always
// been so.
func TestEditAndDeleteAreAsIfAlwaysSo(t *testing.T) {
	setting := []string{
		at(-2, "@mara /grinder add name:left finer:lower step:0.1"),
		at(-1, "@mara /coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"),
	}
	for _, c := range []struct{ name, first, change, instead string }{
		{"edit", "18 36 22 grind 5.2 sour", "/edit 3 18 36 30 grind 5 bitter", "18 36 30 grind 5 bitter"},
		{"delete", "18 36 35 grind 5.2 bitter", "/delete 3", ""},
		{"edited into chat", "18 36 35 grind 5.2 bitter", "/edit 3 wrong machine, sorry", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			typed := append(slices.Clone(setting), at(0, "@mara "+c.first), at(3, "@mara 18 36 26 grind 5 sour"), at(6, "@mara "+c.change))
			clean := slices.Clone(setting)
			if c.instead != "" {
				clean = append(clean, at(0, "@mara "+c.instead))
			}
			clean = append(clean, at(3, "@mara 18 36 26 grind 5 sour"))
			if diff := cmp.Diff(lastAdvice(t, clean), lastAdvice(t, typed)); diff != "" {
				t.Errorf("advice (-always so +changed):\n%s", diff)
			}
		})
	}
}

// lastAdvice types lines on a new file and returns the last advice.
func lastAdvice(t testing.TB, lines []string) advice {
	t.Helper()
	bar := open(t, filepath.Join(t.TempDir(), "bar.db"))
	defer bar.close()
	var last object
	for _, line := range lines {
		last = bar.say(line)
	}
	return last.advice(t)
}

// Whatever was typed, edited and deleted on the way, the account of a coffee is
// that of the shots that stand: it is the same on a file that has only read them in,
// and on one where they were typed so at once, unless another yield had been advised
// there, which is what a hand then aims at.
func TestAnyWayLeadsToTheSameAdvice(t *testing.T) {
	if f := flag.Lookup("rapid.checks"); f.Value.String() == f.DefValue { // each is three programs and a disk
		if err := f.Value.Set("20"); err != nil {
			t.Fatal(err)
		}
	}
	compared := 0
	rapid.Check(t, func(rt *rapid.T) {
		setting, clean, typed := anyWay(rt)
		if len(clean) == 0 {
			rt.Skip("no shot stands")
		}
		way := strings.Join(typed, "\n")
		table, advised := standing(t, slices.Concat(setting, typed), "")
		if _, again := standing(t, setting, table); !cmp.Equal(again, advised) {
			rt.Errorf("advice (-read in +as typed):\n%s\n%s", cmp.Diff(again, advised), way)
		}
		once, straight := standing(t, slices.Concat(setting, clean), "")
		if once != table {
			if withoutMeant(once) != withoutMeant(table) {
				rt.Errorf("the table (-clean +as typed):\n%s\n%s", cmp.Diff(once, table), way)
			}
			return
		}
		if compared++; !cmp.Equal(straight, advised) {
			rt.Errorf("advice (-clean +as typed):\n%s\n%s", cmp.Diff(straight, advised), way)
		}
	})
	if compared == 0 {
		t.Error("no way was compared with the clean one")
	}
}

// anyWay draws shots that are typed, edited and deleted, and returns what sets the
// bar up, the shots that stand, and all that was typed.
func anyWay(rt *rapid.T) (setting, clean, typed []string) {
	setting = []string{
		at(-2, "@mara /grinder add name:left finer:lower step:0.1"),
		at(-1, "@mara /coffee add name:Harbour grinder:left dose:18 yield:36 time:25-31"),
	}
	type shot struct {
		line, minute int // it was typed on
		text         string
		deleted      bool
	}
	var shots []shot
	for minute := range rapid.IntRange(2, 9).Draw(rt, "lines") {
		line := len(setting) + len(typed) + 1
		what := rapid.IntRange(0, 3).Draw(rt, "what")
		if len(shots) == 0 || what <= 1 {
			s := shot{line: line, minute: 3 * minute, text: anyShot(rt)}
			shots = append(shots, s)
			typed = append(typed, at(s.minute, "@mara "+s.text))
			continue
		}
		s := &shots[rapid.IntRange(0, len(shots)-1).Draw(rt, "which")]
		if what == 2 {
			s.deleted = true
			typed = append(typed, at(3*minute, fmt.Sprintf("@mara /delete %d", s.line)))
			continue
		}
		s.text, s.deleted = anyShot(rt), false
		typed = append(typed, at(3*minute, fmt.Sprintf("@mara /edit %d %s", s.line, s.text)))
	}
	for _, s := range shots {
		if !s.deleted {
			clean = append(clean, at(s.minute, "@mara "+s.text))
		}
	}
	return setting, clean, typed
}

// standing types lines on a new file, reads a table into it where there is one, and
// returns its table of shots and the advice of the coffee.
func standing(t *testing.T, lines []string, in string) (string, advice) {
	t.Helper()
	db := filepath.Join(t.TempDir(), "bar.db")
	bar := open(t, db)
	for _, line := range lines {
		bar.say(line)
	}
	bar.close()
	if in != "" {
		if said, err := call(t, in, "import", "-db", db, "-format", "csv"); err != nil {
			t.Fatal(err, said)
		}
	}
	table, err := call(t, "", "export", "-db", db, "-format", "csv")
	if err != nil {
		t.Fatal(err, table)
	}
	bar = open(t, db)
	defer bar.close()
	return table, bar.say(at(60, "@mara /why coffee:Harbour")).advice(t)
}

// withoutMeant leaves the yield that had been advised, the last column, out of a table.
func withoutMeant(table string) string {
	return regexp.MustCompile(`(?m),[^,]*$`).ReplaceAllString(table, "")
}

// anyShot draws a shot that says all of its numbers.
func anyShot(rt *rapid.T) string {
	return fmt.Sprintf("18 %d %d grind %.1f %s",
		rapid.IntRange(34, 38).Draw(rt, "yield"),
		rapid.IntRange(18, 38).Draw(rt, "seconds"),
		rapid.Float64Range(4.5, 5.5).Draw(rt, "grind"),
		rapid.SampledFrom([]string{"sour", "a bit sour, thin", "balanced", "bitter", "sweet", ""}).Draw(rt, "taste"))
}

// One shot from a pipe, on an empty directory.
func BenchmarkOneShot(b *testing.B) {
	dir := b.TempDir()
	for n := 0; b.Loop(); n++ {
		bar := open(b, filepath.Join(dir, fmt.Sprintf("%d.db", n)))
		bar.say("18.1 36.4 24 sour thin").advice(b)
		bar.close()
	}
}
