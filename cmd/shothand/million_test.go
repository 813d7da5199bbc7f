package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
	"shothand/bot"
	"shothand/bot/chat"
	"shothand/bot/serve"
	"shothand/store"
)

// A file of a million shots against one of a thousand, in one run: how long it
// takes to open, to advise on a shot, and to record and answer one. It takes
// some minutes and some GB, so it runs only if SHOTHAND_MILLION is set.
func BenchmarkMillion(b *testing.B) {
	if os.Getenv("SHOTHAND_MILLION") == "" {
		b.Skip("set SHOTHAND_MILLION to run it")
	}
	small, large := filepath.Join(b.TempDir(), "small.db"), filepath.Join(b.TempDir(), "large.db")
	fill(b, small, 1, 1_000)
	fill(b, large, 100, 10_000)
	for _, f := range []struct{ name, path string }{{"1000", small}, {"1000000", large}} {
		b.Run("open/"+f.name, func(b *testing.B) { opened(b, f.path) })
	}
	for _, f := range []struct{ name, path string }{{"1000", small}, {"1000000", large}} {
		b.Run("advice/"+f.name, func(b *testing.B) { advised(b, f.path) })
	}
	for _, f := range []struct{ name, path string }{{"1000", small}, {"1000000", large}} {
		b.Run("shot/"+f.name, func(b *testing.B) { shotTaken(b, f.path) })
	}
}

// fill writes bars with so many shots each, answered, ten minutes apart and the
// last of all bars at the same time. Each bar has four coffees on two grinders.
func fill(b *testing.B, path string, bars, shots int) {
	b.Helper()
	records, err := store.Open(path)
	if err != nil {
		b.Fatal(err)
	}
	const batch = 5_000
	for here := range bars {
		var made bar.Bar
		err := records.Update(func(tx *store.Tx) (err error) {
			if made, err = tx.AddBar(fmt.Sprintf("bar-%04d", here), bar.Bar{Name: "Harbour Lane"}); err != nil {
				return err
			}
			for _, name := range []string{"left", "right"} {
				if err := tx.PutGrinder(made.ID, &bar.Grinder{Name: name, Finer: bar.Lower, Step: 0.1}); err != nil {
					return err
				}
			}
			for i, name := range []string{"Harbour", "Tide", "decaf", "Gull"} {
				c := bar.Coffee{Name: name, Grinder: bar.GrinderID(1 + i%2), Recipe: bar.House()}
				if err := tx.PutCoffee(made.ID, &c); err != nil {
					return err
				}
			}
			_, err = tx.PersonOf(made.ID, "1001", "mara")
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
		for from := 0; from < shots; from += batch {
			err := records.Update(func(tx *store.Tx) error {
				for n := from; n < min(from+batch, shots); n++ {
					if err := oldShot(tx, made.ID, shots-n); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				b.Fatal(err)
			}
		}
	}
	if err := records.Close(); err != nil {
		b.Fatal(err)
	}
}

// oldShot writes the shot before which there will be n others until now, with
// the advice and the reply that it got. The newest are of the first coffee.
func oldShot(tx *store.Tx, here bar.ID, n int) error {
	at := opening.Add(-time.Duration(n) * 10 * time.Minute)
	said := func(x float64) bar.Value[bar.Grams] {
		return bar.Value[bar.Grams]{X: bar.Grams(x), From: bar.Said}
	}
	coffee := (n - 1) / 20 % 4 // they come in runs
	seconds := 24 + n*7%8
	shot := bar.Shot{
		Coffee: bar.CoffeeID(1 + coffee), Grinder: bar.GrinderID(1 + coffee%2), Dose: said(18.1), Yield: said(36.4),
		Grind: bar.Value[bar.Dial]{X: bar.Dial(5.2 - float64(n%3)/10), From: bar.Said},
		Time:  bar.Value[bar.Seconds]{X: bar.Seconds(seconds), From: bar.Said},
		Words: []bar.Word{{Term: []string{"sour", "balanced", "bitter"}[n%3]}},
	}
	message := "m-" + strconv.Itoa(n)
	id, err := tx.AddEntry(here, bar.Entry{
		Message: message, Person: 1, At: at, Day: bar.DayOf(at), Raw: fmt.Sprintf("18.1 36.4 %d grind 5.2 sour", seconds), What: shot,
	})
	if err != nil {
		return err
	}
	err = tx.PutAdvice(here, store.Said{
		Entry: id, Coffee: shot.Coffee, Grinder: shot.Grinder, Person: 1, At: at, Model: advisor.Model, Lever: bar.Grind, From: 5.2, To: 5.1,
		Unit: advisor.DialUnit, Expect: advisor.Expect{Time: 28, Low: 25, High: 31, Level: 0.8}, Sure: 0.5,
		Reasons: []why.Reason{why.UnderExtracted},
	})
	if err != nil {
		return err
	}
	return tx.PutReply(here, store.Reply{Cause: message, Entry: id, Kind: chat.Advice.String(), State: store.Sent, Post: "p-" + message, At: at})
}

// opened times the opening of a file, which reads all of it.
func opened(b *testing.B, path string) {
	for b.Loop() {
		records, err := store.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		if err := records.Close(); err != nil {
			b.Fatal(err)
		}
	}
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(info.Size())/(1<<20), "MiB")
}

// advised times the reading of a coffee's history and the advice on its newest
// shot, those before it being remembered.
func advised(b *testing.B, path string) {
	records, err := store.Open(path)
	if err != nil {
		b.Fatal(err)
	}
	memory := advisor.NewMemory(8)
	ask := func(without int) int {
		var h bar.History
		err := records.View(func(tx *store.Tx) (err error) {
			h, err = tx.History(1, 1, opening)
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
		h.Entries = h.Entries[:len(h.Entries)-without]
		if _, ok := memory.Advise(h, 1, opening); !ok {
			b.Fatal("no advice")
		}
		return len(h.Entries)
	}
	ask(1) // the shots before the newest
	n := ask(0)
	var took []time.Duration
	for b.Loop() {
		began := time.Now()
		ask(0)
		took = append(took, time.Since(began))
	}
	slices.Sort(took)
	b.ReportMetric(float64(n), "entries")
	b.ReportMetric(float64(took[len(took)/2])/1e6, "ms-p50")
	if err := records.Close(); err != nil {
		b.Fatal(err)
	}
}

// shotTaken times a shot on its whole way, from one bar.
func shotTaken(b *testing.B, path string) {
	records, err := store.Open(path)
	if err != nil {
		b.Fatal(err)
	}
	shotBot := serve.New(bot.New(records, bot.Options{Open: true}))
	n := 0
	var took []time.Duration
	for b.Loop() {
		n++
		m := shotMessage(0, n)
		m.ID = fmt.Sprint("new-", n)
		m.Text = "harbour " + m.Text
		began := time.Now()
		if err := shotBot.Run(b.Context(), one{m}); err != nil {
			b.Fatal(err)
		}
		took = append(took, time.Since(began))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2])/1e6, "ms-p50")
	if err := records.Close(); err != nil {
		b.Fatal(err)
	}
}

// mostHeap is how much memory the bot may hold for a thousand bars.
const mostHeap = 200 << 20

// A thousand bars that are all in the middle of a morning fit into memory. It
// takes a few minutes, so it runs only if SHOTHAND_BARS says how many.
func TestThousandBars(t *testing.T) {
	bars, err := strconv.Atoi(os.Getenv("SHOTHAND_BARS"))
	if err != nil {
		t.Skip("set SHOTHAND_BARS=1000 to run it")
	}
	records, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	before := heap()
	morning := full{crowd{bars: bars, n: bars * 25, took: make(chan duration, bars*25)}, func() {
		held := heap() - before
		t.Logf("%d bars of 25 shots: heap %.1f MiB after collection, %s resident, %d goroutines", bars, float64(held)/(1<<20), resident(t), runtime.NumGoroutine())
		if held > mostHeap {
			t.Errorf("the heap holds %d MiB, want at most %d", held>>20, mostHeap>>20)
		}
	}}
	if err := serve.New(bot.New(records, bot.Options{Open: true})).Run(t.Context(), morning); err != nil {
		t.Fatal(err)
	}
	if err := records.Close(); err != nil {
		t.Fatal(err)
	}
}

// full is a crowd that looks round when all have been answered and nobody has
// left yet.
type full struct {
	crowd
	look func()
}

func (f full) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	err := f.crowd.Listen(ctx, deliver)
	f.look()
	return err
}

// resident returns how much of the memory of this machine the process has,
// the part of the file that is mapped included.
func resident(t *testing.T) string {
	t.Helper()
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return "unknown"
	}
	for line := range strings.Lines(string(status)) {
		if rest, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			return strings.TrimSpace(rest)
		}
	}
	return "unknown"
}
