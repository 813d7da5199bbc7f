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

	"shothand/bot"
	"shothand/bot/chat"
	"shothand/bot/console"
	"shothand/bot/serve"
	"shothand/store"
)

// demoDB is the file of the invented bar, in the current directory.
const demoDB = "shothand-demo.db"

// How long the invented history is, and where its turns lie, in mornings before
// the last.
const (
	demoMornings = 30 // the last one today
	demoClosed   = 3  // days before today it is closed, and each week before: so that it goes the same whatever the day
	demoSeed     = 6
	demoTasting  = 12 // a coffee is tasted cup by cup, and its recipe moves
	demoDrift    = 5  // a coffee runs away in service
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
		if err := tell(p.errOut, demoText(db)); err != nil {
			return err
		}
		making := p.goingOn("Playing five weeks", demoMornings)
		err := makeDemo(ctx, db, rehearse(demoSeed, time.Now(), demoMornings, making.step))
		making.stop()
		if err != nil {
			return err
		}
		if ctx.Err() != nil {
			return stoppedDemo(db)
		}
	}
	if p.now == nil {
		if p.now, err = goingOnFrom(db, time.Now); err != nil {
			return err
		}
	}
	o := openWith{db: db, json: jsonOut, level: "warn", keep: keepUsual()}
	return p.runConsole(ctx, o, demoHintText)
}

// goingOnFrom returns a clock that goes on a minute after the last of what is in
// a file: an invented bar stands in the middle of its morning whenever it is
// opened, and sums up no day unasked.
func goingOnFrom(db string, machine func() time.Time) (clock func() time.Time, err error) {
	began, last := machine(), time.Time{}
	err = using(store.OpenToRead, db, func(s *store.Store) error {
		return s.View(func(tx *store.Tx) error {
			bars, err := tx.Bars()
			for _, b := range bars {
				entries, failed := tx.Recent(b.ID, time.Unix(0, 0))
				if n := len(entries); n > 0 && entries[n-1].At.After(last) { // oldest first
					last = entries[n-1].At
				}
				err = errors.Join(err, failed)
			}
			return err
		})
	})
	return func() time.Time { return last.Add(time.Minute + machine().Sub(began)) }, err
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
	return true, using(store.OpenToRead, db, func(s *store.Store) error { return invented(s, db) })
}

// takeAway removes the file of an invented bar while nobody else has it: the
// real one, where db is a link to it.
func takeAway(db string) error {
	return using(store.Open, db, func(s *store.Store) error {
		if err := invented(s, db); err != nil {
			return err
		}
		return removeReal(db)
	})
}

// removeReal removes a file, the real one where its name is a link to it.
func removeReal(db string) error {
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

// makeDemo writes a bar that nobody has, up to this morning, into a file: what an
// invented crew says goes through the bot as if people had typed it.
func makeDemo(ctx context.Context, db string, r *rehearsal) error {
	return using(store.Open, db, func(records *store.Store) error {
		return serve.New(bot.New(records, bot.Options{Log: slog.New(slog.DiscardHandler), Open: true})).Run(ctx, r)
	})
}

// rehearse returns an invented crew up to now, of so many mornings. After each
// morning it calls played.
func rehearse(seed uint64, now time.Time, mornings int, played func()) *rehearsal {
	return &rehearsal{mornings: mornings, played: played, now: now, rush: demoRush, dice: rand.New(rand.NewPCG(seed, 1))}
}

// A rehearsal is a chat service on which an invented crew types.
type rehearsal struct {
	mornings int
	played   func() // a morning
	rush     int    // the hour at which cups are hurried, 0 for none
	now      time.Time
	dice     *rand.Rand
	at       time.Time
	sent     int
	deliver  func(chat.Message) <-chan struct{}
	posts    int
	advice   answer // of the last answer
	buttons  []chat.Button
	newCup   string // of a pair: the letter of the cup that is new
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
	r.advice, r.buttons = answer{}, p.Buttons
	if _, told, ok := strings.Cut(p.Text, "X is the shot of "); ok { // to the leader alone
		r.newCup = "x"
		if old, _, _ := strings.Cut(told, " g"); old == "36" {
			r.newCup = "y"
		}
	}
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

// tap lets somebody press the first button of the last post.
func (r *rehearsal) tap(who string) {
	if len(r.buttons) == 0 {
		return
	}
	r.sent++
	<-r.deliver(chat.Message{
		ID: demoID(r.sent), Kind: chat.Pressed, Channel: console.DefaultBar, From: chat.Person{ID: who, Name: who},
		Manager: true, At: r.at, Press: r.buttons[0].State, Post: fmt.Sprintf("demo-post-%d", r.posts),
	})
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
