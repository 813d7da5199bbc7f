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
	channel      string
	shots        int            // posted in all
	mornings     map[string]int // shots to the call, by coffee
	calls        map[string]int
	grams        map[string]float64
	badHour      int // at which cups are off
	trouble      string
	cups, wrongs map[string]int // by coffee
}

// playMonth types a month of a bar into a bot: each morning each coffee takes as
// many shots as the dice say until it is called, and is served through the day;
// one coffee is off more often than the others, and at one hour all are. More
// coffee in the basket never mends a cup. Finer mends the sour ones of a morning,
// while most cups that are off in service are right again by themselves.
func playMonth(t *testing.T, b *bot.Bot, channel string, seed uint64, days, service int) *month {
	t.Helper()
	dice := rand.New(rand.NewPCG(seed, 4))
	m := &month{channel: channel, mornings: map[string]int{}, calls: map[string]int{}, grams: map[string]float64{}, badHour: 11 + int(seed)%3, trouble: []string{"Tide", "Harbour", "Heron"}[seed%3], cups: map[string]int{}, wrongs: map[string]int{}}
	at := time.Date(2026, 3, 1, 6, 0, 0, 0, time.UTC)
	n := 0
	say := func(text string) {
		n++
		out := b.Handle(chat.Message{ID: fmt.Sprint(channel, n), Channel: channel, From: chat.Person{ID: "mara", Name: "mara"}, Manager: true, At: at, Text: text})
		for _, o := range out {
			if o.Kind == chat.Error {
				t.Fatalf("%q: %s", text, o.Text)
			}
		}
	}
	say("/setup zone:UTC name:" + channel + " currency:EUR")
	prices := map[string]float64{"Harbour": 24, "Tide": 31, "Heron": 40}
	coffees := []string{"Harbour", "Tide", "Heron"}
	dial := map[string]float64{}
	for _, c := range coffees {
		say("/grinder add name:g" + c + " finer:lower step:0.1")
		say(fmt.Sprintf("/coffee add name:%s grinder:g%s dose:18 yield:36 time:25-31 price:%g", c, c, prices[c]))
		dial[c] = 5
	}
	shot := func(c string, seconds float64, dose float64, word string) {
		m.shots++
		m.cups[c]++
		if word != "balanced" {
			m.wrongs[c]++
		}
		say(fmt.Sprintf("%s %.1f 36 %.0f, grind %.1f, %s", strings.ToLower(c), dose, seconds, dial[c], word))
	}
	for day := range days {
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
			say("/dialled coffee:" + c)
			m.mornings[c] += shots
			m.calls[c]++
			m.grams[c] += grams
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
	shots, grams, money := 0, 0.0, 0.0
	for c, price := range map[string]float64{"Harbour": 24, "Tide": 31, "Heron": 40} {
		shots += m.mornings[c]
		grams += m.grams[c]
		money += m.grams[c] / 1000 * price
		line := fmt.Sprintf("• %s: %d shots, ", c, m.mornings[c])
		if !strings.Contains(said, line) {
			t.Errorf("%s: no %q", m.channel, line)
		}
		if off := fmt.Sprintf("%s %d of %d", c, m.wrongs[c], m.cups[c]); !strings.Contains(said, off) {
			t.Errorf("%s: no %q", m.channel, off)
		}
	}
	for _, want := range []string{
		fmt.Sprintf("%d shots on", m.shots),
		fmt.Sprintf("; %d shots, ", shots),
		fmt.Sprintf(", %.2f EUR in all;", money),
	} {
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
	for _, coffee := range []string{"Harbour", "Tide", "Heron"} {
		own := ask("lane", "/coffee show name:"+coffee)
		best := ""
		for line := range strings.Lines(own) {
			if strings.Contains(line, "tasted best at") {
				best = strings.TrimSuffix(strings.TrimSpace(line), " That is of the last 90 days.")
			}
		}
		if best == "" || !strings.Contains(review, best) || !strings.Contains(ask("lane", "/review "+coffee+" march"), best) {
			t.Errorf("%s's page and the review do not agree on %q", coffee, best)
		}
	}
}
