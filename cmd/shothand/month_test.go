package main

import (
	"bytes"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/bot"
	"shothand/bot/chat"
	"shothand/store"
)

// A month is the truth of one played bar.
type month struct {
	channel       string
	shots         int // posted in all
	march, before span
	badHour       int // at which cups are off
	trouble       string
	cups, wrongs  map[string]int // by coffee and by grinder, in March
}

// A span is what mornings cost in some days, by coffee.
type span struct {
	mornings map[string]int // shots to the call
	calls    map[string]int
	grams    map[string]float64
}

func newSpan() span { return span{map[string]int{}, map[string]int{}, map[string]float64{}} }

// each returns what one coffee and morning took.
func (s span) each() (shots, grams, money float64) {
	calls := 0.0
	for c, n := range s.calls {
		calls += float64(n)
		shots += float64(s.mornings[c])
		grams += s.grams[c]
		money += s.grams[c] / 1000 * monthPrices()[c]
	}
	return shots / calls, grams / calls, money / calls
}

func monthPrices() map[string]float64 {
	return map[string]float64{"Harbour": 24, "Tide": 31, "Heron": 40}
}

// grinderIn returns the grinder of a coffee there: two share one.
func grinderIn(coffee string) string {
	if coffee == "Tide" {
		return "right"
	}
	return "left"
}

// playMonth types a month of a bar into a bot: each morning each coffee takes as
// many shots as the dice say until it is called, and is served through the day;
// one coffee is off more often than the others, and at one hour all are. More
// coffee in the basket never mends a cup. Finer mends the sour ones of a morning,
// while most cups that are off in service are right again by themselves. Some days
// before it are played too, of which mornings are told beside.
func playMonth(t *testing.T, b *bot.Bot, channel string, seed uint64, days, service int) *month {
	t.Helper()
	dice := rand.New(rand.NewPCG(seed, 4))
	m := &month{channel: channel, march: newSpan(), before: newSpan(), badHour: 11 + int(seed)%3, trouble: []string{"Tide", "Harbour", "Heron"}[seed%3], cups: map[string]int{}, wrongs: map[string]int{}}
	at := time.Date(2026, 2, 1, 6, 0, 0, 0, time.UTC)
	n := 0
	say := func(text string) (asked bool) {
		n++
		out := b.Handle(chat.Message{ID: fmt.Sprint(channel, n), Channel: channel, From: chat.Person{ID: "mara", Name: "mara"}, Manager: true, At: at, Text: text})
		for _, o := range out {
			if o.Kind == chat.Error {
				t.Fatalf("%q: %s", text, o.Text)
			}
			asked = asked || o.Kind == chat.Question
		}
		return asked
	}
	say("/setup zone:UTC name:" + channel + " currency:EUR")
	coffees := []string{"Harbour", "Tide", "Heron"}
	dial := map[string]float64{}
	say("/grinder add name:left finer:lower step:0.1")
	say("/grinder add name:right finer:lower step:0.1")
	for _, c := range coffees {
		say(fmt.Sprintf("/coffee add name:%s grinder:%s dose:18 yield:36 time:25-31 price:%g", c, grinderIn(c), monthPrices()[c]))
		dial[c] = 5
	}
	shot := func(c string, seconds float64, dose float64, word string) {
		m.shots++
		if at.Month() == time.March {
			for _, where := range []string{c, grinderIn(c)} {
				m.cups[where]++
				m.wrongs[where] += map[bool]int{true: 1}[word != "balanced"]
			}
		}
		say(fmt.Sprintf("%s %.1f 36 %.0f, grind %.1f, %s", strings.ToLower(c), dose, seconds, dial[c], word))
	}
	for day := -days / 3; day < days; day++ {
		of := m.march
		if day < 0 {
			of = m.before
		}
		for k, c := range coffees {
			at = time.Date(2026, 3, 1+day, 6, 30+20*k, 0, 0, time.UTC)
			shots, grams := 0, 0.0
			pull := func(seconds, dose float64, word string) {
				at = at.Add(3 * time.Minute)
				shots++
				grams += dose
				shot(c, seconds, dose, word)
			}
			if dice.Float64() < 0.6 { // sour in the morning
				pull(22, 18, "sour")
				if dice.Float64() < 0.5 { // some take more coffee, which mends nothing
					pull(22.5, 18.6, "sour")
				}
				dial[c] -= 0.2
				word := "balanced"
				if dice.Float64() < 0.15 {
					word = "sour"
				}
				pull(28, 18, word)
			} else {
				pull(28, 18, "balanced")
			}
			dial[c] += 0.2 * float64(dice.IntN(2))
			at = at.Add(time.Minute)
			if say("/dialled coffee:" + c) { // its last cup was sour
				say("/dialled coffee:" + c)
			}
			of.mornings[c] += shots
			of.calls[c]++
			of.grams[c] += grams
		}
		for s := range service {
			at = time.Date(2026, 3, 1+day, 8, 0, 0, 0, time.UTC).Add(time.Duration(s) * 8 * time.Hour / time.Duration(service))
			c := coffees[s%len(coffees)]
			off := 0.08
			if c == m.trouble {
				off = 0.3
			}
			if at.Hour() == m.badHour {
				off += 0.35
			}
			word := "balanced"
			if dice.Float64() < off {
				word = "bitter"
			}
			shot(c, 28+dice.NormFloat64(), 18, word)
		}
	}
	return m
}

// A month of three bars, asked what whoever runs them asks on its last day: the
// answers are those of the truth: shots, cups, coffee and money to the last one,
// the coffee that gives trouble, no change praised that does nothing;
// and review, page and a coffee's page agree. In the usual tests it is ten days;
// with SHOTHAND_MONTH it is the whole month, some 4,000 shots.
func TestMonthOfThreeBars(t *testing.T) {
	t.Parallel()
	if raced {
		t.Skip("takes minutes")
	}
	days, service := 10, 9
	if wholeMonth() {
		days, service = 30, 38
	}
	db := filepath.Join(t.TempDir(), "month.db")
	s, err := store.Open(db)
	if err != nil {
		t.Fatal(err)
	}
	b := bot.New(s, bot.Options{Log: slog.New(slog.DiscardHandler), Open: true})
	var months []*month
	total := 0
	for i, channel := range []string{"lane", "quay", "dock"} {
		m := playMonth(t, b, channel, uint64(i), days, service)
		months = append(months, m)
		total += m.shots
	}
	last := time.Date(2026, 3, days, 20, 0, 0, 0, time.UTC)
	ask := func(channel, text string, manages ...string) string {
		out := b.Handle(chat.Message{ID: channel + text, Channel: channel, From: chat.Person{ID: "mara", Name: "mara"}, Manager: true, Manages: manages, At: last, Text: text})
		return out[len(out)-1].Text
	}
	t.Logf("%d shots in three bars", total)
	for _, m := range months {
		began := time.Now()
		said := ask(m.channel, "/review march pictures:no")
		t.Logf("%s, asked for %s:\n%s", m.channel, time.Since(began).Round(time.Millisecond), said)
		m.check(t, said)
	}
	beside := ask("lane", "/review bars march", "quay")
	if !strings.Contains(beside, "Lane: ") || !strings.Contains(beside, "Quay: ") || strings.Contains(beside, "Dock") {
		t.Errorf("bars beside each other:\n%s", beside)
	}
	oneTruth(t, s, ask, last)
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

// check holds what a review said against the truth.
func (m *month) check(t *testing.T, said string) {
	t.Helper()
	shots, cups, money, calls, callsBefore := 0, 0, 0.0, 0, 0
	var wants []string
	for c, price := range monthPrices() {
		shots += m.march.mornings[c]
		cups += m.cups[c]
		money += m.march.grams[c] / 1000 * price
		calls, callsBefore = calls+m.march.calls[c], callsBefore+m.before.calls[c]
		wants = append(wants, fmt.Sprintf("• %s: %d shots, ", c, m.march.mornings[c]), fmt.Sprintf("%s %d of %d", c, m.wrongs[c], m.cups[c]))
	}
	for _, g := range []string{"left", "right"} {
		wants = append(wants, fmt.Sprintf("grinder %s %d of %d", g, m.wrongs[g], m.cups[g]))
	}
	_, _, now := m.march.each()
	shotsBefore, gramsBefore, then := m.before.each()
	wants = append(
		wants,
		fmt.Sprintf("%d shots on", cups), fmt.Sprintf("; %d shots, ", shots), fmt.Sprintf(", %.2f EUR in all;", money),
		fmt.Sprintf(" %.2f EUR to dial one coffee in (the 31 days before: %.2f EUR);", now, then),
		fmt.Sprintf("• The 31 days before: %s shots, %.0f g, ", strings.TrimSuffix(fmt.Sprintf("%.1f", shotsBefore), ".0"), gramsBefore),
		fmt.Sprintf(", %.2f EUR to dial one coffee in (%d times then, %d times now).", then, callsBefore, calls),
	)
	for _, want := range wants {
		if !strings.Contains(said, want) {
			t.Errorf("%s: no %q", m.channel, want)
		}
	}
	for line := range strings.Lines(said) {
		helps, idle, _ := strings.Cut(line, "no help that we can see")
		if strings.HasPrefix(line, "Which changes worked: ") && (strings.Contains(helps, "more coffee") || strings.Contains(idle, "finer")) {
			t.Errorf("%s: %s", m.channel, line)
		}
		if strings.HasPrefix(line, "Which changes worked: ") && wholeMonth() && !strings.Contains(helps, "finer") && !strings.Contains(helps, "changing the grind") {
			t.Errorf("%s: finer mends mornings, and it is not said: %s", m.channel, line)
		}
		if strings.HasPrefix(line, "What gives trouble: ") && wholeMonth() {
			if want := fmt.Sprintf("%s (%d of %d", m.trouble, m.wrongs[m.trouble], m.cups[m.trouble]); !strings.Contains(line, want) {
				t.Errorf("%s: the coffee is %s: %s", m.channel, want, line)
			}
			// Tide has its grinder to itself: that is the same cups, and told once.
			if left := strings.Contains(line, "grinder left ("); left != (m.trouble != "Tide") || strings.Contains(line, "grinder right (") {
				t.Errorf("%s: of the coffees of left one is off, or none where it is Tide: %s", m.channel, line)
			}
			if want := fmt.Sprintf("%02d:00 to %02d:00 (", m.badHour, m.badHour+1); !strings.Contains(line, want) {
				t.Errorf("%s: the hour is %s: %s", m.channel, want, line)
			}
		}
	}
}

func wholeMonth() bool { return os.Getenv("SHOTHAND_MONTH") != "" }

// oneTruth reads review, page and a coffee's page of the same history, and holds
// their figures to each other.
func oneTruth(t *testing.T, s *store.Store, ask func(channel, text string, manages ...string) string, last time.Time) {
	t.Helper()
	var page bytes.Buffer
	err := s.View(func(tx *store.Tx) error {
		lane, err := barOf(tx, "lane")
		return errors.Join(err, bot.Report(&page, s, lane, "march", last))
	})
	if err != nil {
		t.Fatal(err)
	}
	plain := strings.NewReplacer("&#39;", "'", "&#43;", "+", "&quot;", `"`).Replace(page.String())
	review := ask("lane", "/review march")
	for line := range strings.Lines(review) {
		line = strings.TrimSpace(strings.TrimPrefix(line, "• "))
		if strings.HasPrefix(line, "Where these figures") {
			continue
		}
		if !strings.Contains(plain, line) {
			t.Errorf("the page does not say %q", line)
		}
	}
	all := ask("lane", "/review since new year") // as far back as a coffee's page looks
	for _, coffee := range []string{"Harbour", "Tide", "Heron"} {
		own := ask("lane", "/coffee show name:"+coffee)
		best := ""
		for line := range strings.Lines(own) {
			if strings.Contains(line, "tasted best at") {
				best = strings.TrimSuffix(strings.TrimSpace(line), " That is of the last 90 days.")
			}
		}
		if best == "" || !strings.Contains(all, best) || !strings.Contains(ask("lane", "/review "+coffee+" since new year"), best) {
			t.Errorf("%s's page and the review do not agree on %q", coffee, best)
		}
	}
}
