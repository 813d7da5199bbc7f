package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shothand/advisor/bar"
	"shothand/advisor/simbar"
	"shothand/bot"
	"shothand/bot/chat"
	"shothand/bot/console"
	"shothand/store"
)

// demoDB is the file of the invented bar, in the current directory.
const demoDB = "shothand-demo.db"

// How long the invented history is.
const (
	demoMornings = 36 // Monday to Saturday
	demoSeed     = 8
	demoTasting  = 4 // mornings before now on which a coffee is tasted cup by cup
)

func (p program) demo() *cobra.Command {
	c, db := onFile("demo", demoHelp)
	c.Flags().Lookup("db").DefValue = demoDB
	*db = demoDB
	fresh := c.Flags().Bool("new", false, "make the bar anew")
	yes := yesFlag(c.Flags())
	jsonOut := c.Flags().Bool("json", false, "write one JSON object for each line")
	return runs(c, 0, func([]string) error { return p.runDemo(c.Context(), *db, *fresh, *yes, *jsonOut) })
}

// runDemo makes an invented bar, if it is not there yet, and opens the console
// on it.
func (p program) runDemo(ctx context.Context, db string, fresh, yes, jsonOut bool) error {
	there, err := demoThere(db)
	if err != nil {
		return err
	}
	if fresh && there {
		if err := p.confirm(yes, demoDeed(db)); err != nil {
			return err
		}
		if err := takeAway(db); err != nil {
			return err
		}
	}
	if !there || fresh {
		if _, err := fmt.Fprintln(p.errOut, demoText(db)); err != nil {
			return err
		}
		making := p.goingOn("Playing six weeks", demoMornings)
		err := makeDemo(ctx, db, time.Now(), demoMornings, making.step)
		making.stop()
		if err != nil {
			return err
		}
	}
	o := openWith{db: db, json: jsonOut, level: "warn", keep: keepUsual()}
	return p.runConsole(ctx, o, demoHintText)
}

// demoLines is among how many of the first lines of an invented bar one made an
// entry.
const demoLines = 40

// demoThere reports whether there is a file, and fails unless it is that of an
// invented bar.
func demoThere(db string) (there bool, err error) {
	if _, err := os.Stat(db); errors.Is(err, os.ErrNotExist) {
		return false, nil
	}
	s, err := store.OpenToRead(db)
	if err != nil {
		return true, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return true, invented(s, db)
}

// takeAway removes the file of an invented bar while nobody else has it: the
// real one, where db is a link to it.
func takeAway(db string) (err error) {
	s, err := store.Open(db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if err := invented(s, db); err != nil {
		return err
	}
	real, err := filepath.EvalSymlinks(db)
	if err != nil {
		return err
	}
	return os.Remove(real)
}

// invented fails unless the records are those of an invented bar.
func invented(s *store.Store, db string) error {
	invented := false
	err := s.View(func(tx *store.Tx) error {
		bars, err := tx.Bars()
		for _, b := range bars {
			for n := range demoLines {
				_, ok, failed := tx.EntryOf(b.ID, demoID(n+1))
				invented, err = invented || ok, errors.Join(err, failed)
			}
		}
		return err
	})
	if err == nil && !invented {
		err = errors.New(noDemoText(db))
	}
	return err
}

// demoID is the id of line n of the invented crew.
func demoID(n int) string { return fmt.Sprintf("demo-%d", n) }

// makeDemo writes a bar that nobody has, up to yesterday, into a file: what
// simulated bars report goes through the bot as if people had typed it. After
// each morning it calls played.
func makeDemo(ctx context.Context, db string, now time.Time, mornings int, played func()) (err error) {
	records, err := store.Open(db)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, records.Close()) }()
	r := &rehearsal{mornings: mornings, played: played, now: now, dice: rand.New(rand.NewPCG(demoSeed, 1))}
	return bot.New(records, bot.Options{Log: slog.New(slog.DiscardHandler), Open: true}).Run(ctx, r)
}

// A rehearsal is a chat service on which an invented crew types.
type rehearsal struct {
	mornings int
	played   func() // a morning
	now      time.Time
	dice     *rand.Rand
	at       time.Time
	sent     int
	deliver  func(chat.Message) <-chan struct{}
	posts    int
	advice   answer // of the last answer
}

// An answer is what an answer advised, by its keys in JSON.
type answer struct {
	State  string
	Purge  bool
	Change struct {
		Lever    string
		From, To float64
	}
}

// Send takes a post down.
func (r *rehearsal) Send(_ context.Context, p chat.Post) (string, error) {
	r.posts++
	r.advice = answer{}
	if p.Data != nil {
		text, err := json.Marshal(p.Data)
		if err == nil {
			err = json.Unmarshal(text, &r.advice)
		}
		if err != nil {
			return "", fmt.Errorf("read an answer: %w", err)
		}
	}
	return fmt.Sprintf("demo-post-%d", r.posts), nil
}

// Edit is not needed: nobody reads along.
func (r *rehearsal) Edit(context.Context, string, chat.Post) error { return nil }

// say lets somebody type a line, and waits for the answer.
func (r *rehearsal) say(who, text string) {
	r.sent++
	r.advice = answer{}
	<-r.deliver(chat.Message{
		ID: demoID(r.sent), Channel: console.DefaultBar, From: chat.Person{ID: who, Name: who},
		Manager: true, At: r.at, Text: text,
	})
}

// A counter is one coffee of the invented bar.
type counter struct {
	name, grinder string
	bag           int // mornings that one lasts
	days          []*simbar.World
}

// Listen plays the weeks.
func (r *rehearsal) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	r.deliver = deliver
	counters := []*counter{
		{name: "Harbour", grinder: "left", bag: 6, days: simbar.NewSeason(demoSeed, r.mornings, 6)},
		{name: "Tide", grinder: "right", bag: 9, days: simbar.NewSeason(demoSeed+5, r.mornings, 9)},
	}
	days := workdays(r.now, r.mornings)
	r.open(days[0], counters)
	for i, day := range days {
		for k, c := range counters {
			if ctx.Err() != nil {
				return nil
			}
			r.at = day.Add(time.Duration(k)*25*time.Minute + time.Duration(r.dice.IntN(6))*time.Minute)
			r.morning(i, c)
		}
		if i == r.mornings-demoTasting {
			r.taste(day, counters[1])
		}
		r.played()
	}
	return nil
}

// workdays returns the last so many days before now that are no Sundays, at
// half past six.
func workdays(now time.Time, n int) []time.Time {
	var list []time.Time
	for d := now.AddDate(0, 0, -1); len(list) < n; d = d.AddDate(0, 0, -1) {
		if d.Weekday() != time.Sunday {
			list = append([]time.Time{time.Date(d.Year(), d.Month(), d.Day(), 6, 30, 0, 0, now.Location())}, list...)
		}
	}
	return list
}

// open sets the bar up.
func (r *rehearsal) open(day time.Time, counters []*counter) {
	r.at = day.Add(-time.Hour)
	r.say("mara", `/setup name:"Harbour Lane"`)
	for _, c := range counters {
		t := c.days[0].Table()
		r.say("mara", fmt.Sprintf("/grinder add name:%s finer:lower step:%g", c.grinder, t.Dial.Step))
		r.say("mara", fmt.Sprintf("/coffee add name:%s grinder:%s dose:%g yield:%g time:%g-%g", c.name, c.grinder, t.Recipe.Dose, t.Recipe.Yield, t.Recipe.Low, t.Recipe.High))
	}
}

// opener returns who opens on a morning.
func opener(i int) string { return []string{"mara", "jo", "sam"}[i%3] }

// A crew's habits, all invented.
const (
	demoMost     = 9    // shots before a morning is given up
	demoContrary = 0.12 // of advice is not followed
	demoService  = 2    // shots a day after it was called dialled in, and sometimes one more
)

// morning dials one coffee in, and serves it.
func (r *rehearsal) morning(i int, c *counter) {
	w, who := c.days[i], opener(i)
	w.Begin()
	if i > 0 && i%c.bag == 0 {
		r.say(who, strings.ToLower(c.name)+" new bag")
	}
	set, called := w.Table().Start, false
	for range demoMost {
		r.pull(c, w, set, who)
		if r.advice.Change.Lever == bar.Keep.String() {
			r.say(who, "/dialled coffee:"+c.name)
			r.say(who, "yes") // where it was asked because of the window
			called = true
			break
		}
		set = r.obey(w, set)
	}
	if !called {
		return
	}
	for n := range demoService + r.dice.IntN(2) {
		r.at = r.at.Add(time.Duration(70+r.dice.IntN(110)) * time.Minute)
		r.pull(c, w, set, opener(i+n))
		if lever := r.advice.Change.Lever; lever == bar.Grind.String() {
			set = r.obey(w, set)
		}
	}
}

// obey returns the setting that was advised, or the old one now and then.
func (r *rehearsal) obey(w *simbar.World, set simbar.Setting) simbar.Setting {
	set.Purge, set.Care = false, false
	if r.dice.Float64() < demoContrary {
		return set
	}
	set.Purge = r.advice.Purge
	switch r.advice.Change.Lever {
	case bar.Grind.String():
		set.Grind = w.Table().Dial.Turn(set.Grind, w.Table().Dial.Steps(r.advice.Change.From, r.advice.Change.To))
	case bar.Yield.String():
		set.Yield = r.advice.Change.To
	case bar.Dose.String():
		set.Dose = r.advice.Change.To
	case bar.Prep.String():
		set.Care = true
	}
	return set
}

// pull pulls a shot and types it.
func (r *rehearsal) pull(c *counter, w *simbar.World, set simbar.Setting, who string) {
	r.at = r.at.Add(time.Duration(120+r.dice.IntN(100)) * time.Second)
	shot := w.Pull(set)
	parts := []string{fmt.Sprintf("%s %.1f %.1f %.0f s, grind %g", strings.ToLower(c.name), shot.Dose, shot.Yield, shot.Time, shot.Grind)}
	if shot.Choked {
		parts = append(parts, "choked")
	}
	if shot.Purge == simbar.Purged {
		parts = append(parts, "purged")
	}
	tasted := w.Ask().Tastings
	if len(tasted) > 0 {
		parts = append(parts, tasted[0].Words...)
	}
	r.say(who, strings.Join(parts, ", "))
	if len(tasted) > 1 {
		r.at = r.at.Add(40 * time.Second)
		second := "sam"
		if who == second {
			second = "jo"
		}
		r.say(second, strings.Join(tasted[1].Words, ", "))
	}
}
