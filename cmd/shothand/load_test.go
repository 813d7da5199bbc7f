package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
	"shothand/bot"
	"shothand/bot/chat"
	"shothand/bot/serve"
	"shothand/store"
)

// A crowd is a service that brings n shots, from several bars at once, each of
// which waits for its answer before it sends the next, as people do.
type crowd struct {
	bars, n int
	from    int           // number of the first shot
	took    chan duration // how long each waited for its answer
}

type duration = time.Duration

func (c crowd) Listen(_ context.Context, deliver func(chat.Message) <-chan struct{}) error {
	var bars sync.WaitGroup
	for b := range c.bars {
		bars.Go(func() {
			for n := b; n < c.n; n += c.bars {
				began := time.Now()
				<-deliver(shotMessage(b, (c.from+n)/c.bars))
				c.took <- time.Since(began)
			}
		})
	}
	bars.Wait()
	return nil
}

// shotMessage is a bar's shot number n, from 0. There are ten a morning, every
// three minutes.
func shotMessage(bar, n int) chat.Message {
	return chat.Message{
		ID: fmt.Sprintf("m-%04d-%08d", bar, n), Channel: fmt.Sprintf("bar-%04d", bar), From: chat.Person{ID: "1001", Name: "mara"},
		At: opening.AddDate(0, 0, n/10).Add(time.Duration(n%10) * 3 * time.Minute), Text: fmt.Sprintf("18.1 36.4 %d grind 5.2 sour thin", 22+n%8),
	}
}

func (crowd) Send(_ context.Context, p chat.Post) (string, error) { return "p-" + p.Cause, nil }
func (crowd) Edit(_ context.Context, _ string, _ chat.Post) error { return nil }

// stub is advice that costs nothing.
func stub(h bar.History, id bar.CoffeeID, _ time.Time) (advisor.Advice, bool) {
	last := h.Entries[len(h.Entries)-1]
	return advisor.Advice{
		Coffee: id, Grinder: h.Grinders[0].ID, Shot: last.ID, Lever: bar.Grind, From: 5.2, To: 4.9, Unit: advisor.DialUnit,
		Expect: advisor.Expect{Time: 28, Low: 25, High: 31, Level: 0.8}, Sure: 0.5,
		Reasons: []why.Reason{why.UnderExtracted, why.Fast},
	}, true
}

// The recording path, its advice stubbed, against the same bytes put by bbolt
// alone, at the same concurrency: raw/ first, then bot/. A shot is two commits:
// the shot with its reply to be sent, and that it was sent.
func BenchmarkRecording(b *testing.B) {
	for _, bars := range []int{1, 8, 64} {
		first, second := puts(b)
		b.Run(fmt.Sprint("raw/", bars), func(b *testing.B) { raw(b, bars, first, second) })
		b.Run(fmt.Sprint("bot/", bars), func(b *testing.B) { crowded(b, bars, bot.Options{Open: true, Advise: stub}) })
	}
}

// The whole path: recording and advice. Before it stands one advice by itself,
// with 20 and with 200 shots in the history: what cores ÷ its time is the most
// there can be. Beside each stands the advice alone that its shots ask for: the most that
// there is, since many bars' replays do not stay in the processor's cache, a new
// day costs more than the same again, and what one advice leaves to be collected
// is collected by a core that the others need.
func BenchmarkWholePath(b *testing.B) {
	for _, shots := range []int{20, 200} {
		b.Run(fmt.Sprint("advice/", shots), func(b *testing.B) { oneAdvice(b, shots) })
	}
	for _, bars := range []int{1, 8, 64} {
		b.Run(fmt.Sprint("alone/", bars), func(b *testing.B) { adviceAlone(b, bars) })
		b.Run(fmt.Sprint("bars/", bars), func(b *testing.B) { crowded(b, bars, bot.Options{Open: true}) })
	}
}

// oneAdvice times the advice on a new shot, those before it being remembered.
func oneAdvice(b *testing.B, shots int) {
	records, err := store.Open(filepath.Join(b.TempDir(), "bar.db"))
	if err != nil {
		b.Fatal(err)
	}
	var asked bar.History
	var coffee bar.CoffeeID
	listening := func(h bar.History, id bar.CoffeeID, now time.Time) (advisor.Advice, bool) {
		asked, coffee = h, id
		return stub(h, id, now)
	}
	c := crowd{bars: 1, n: shots, took: make(chan duration, shots)}
	if err := serve.New(bot.New(records, bot.Options{Open: true, Advise: listening})).Run(b.Context(), c); err != nil {
		b.Fatal(err)
	}
	if err := records.Close(); err != nil {
		b.Fatal(err)
	}
	now := asked.Entries[len(asked.Entries)-1].At
	before := asked
	before.Entries = asked.Entries[:len(asked.Entries)-1]
	memory := advisor.NewMemory(8)
	memory.Advise(before, coffee, now)
	used := cpuTime(b)
	for b.Loop() {
		memory.Advise(asked, coffee, now)
	}
	b.ReportMetric(float64(runtime.NumCPU())*float64(b.N)/b.Elapsed().Seconds(), "shots/s-at-most")
	b.ReportMetric(float64(cpuTime(b)-used)/float64(b.N)/1e6, "cpu-ms/shot")
}

// A question is what advice was asked of.
type question struct {
	history bar.History
	coffee  bar.CoffeeID
	now     time.Time
}

// adviceAlone times the advice that b.N shots from several bars ask for, each
// bar's in order and the bars side by side, and nothing else.
func adviceAlone(b *testing.B, bars int) {
	var mu sync.Mutex
	asked := map[bar.ID][]question{}
	crowded(b, bars, bot.Options{Open: true, Advise: func(h bar.History, id bar.CoffeeID, now time.Time) (advisor.Advice, bool) {
		mu.Lock()
		defer mu.Unlock()
		asked[h.Bar.ID] = append(asked[h.Bar.ID], question{h, id, now})
		return stub(h, id, now)
	}})
	memory := advisor.NewMemory(256)
	var asking sync.WaitGroup
	b.ResetTimer()
	used := cpuTime(b)
	b.StartTimer()
	for _, questions := range asked {
		asking.Go(func() {
			for _, q := range questions {
				memory.Advise(q.history, q.coffee, q.now)
			}
		})
	}
	asking.Wait()
	b.StopTimer()
	report(b, used)
}

// report tells how many shots came in a second, and how much of a core each
// took since so much had been used: that depends less on what else the machine
// does.
func report(b *testing.B, used duration) {
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "shots/s")
	b.ReportMetric(float64(cpuTime(b)-used)/float64(b.N)/1e6, "cpu-ms/shot")
}

// crowded times b.N shots from several bars.
func crowded(b *testing.B, bars int, o bot.Options) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	spareThreads() // as main does
	records, err := store.Open(filepath.Join(b.TempDir(), "bar.db"))
	if err != nil {
		b.Fatal(err)
	}
	defer func() {
		if err := records.Close(); err != nil {
			b.Error(err)
		}
	}()
	shotBot := serve.New(bot.New(records, o))
	c := crowd{bars: bars, n: bars, took: make(chan duration, bars+b.N)}
	if err := shotBot.Run(b.Context(), c); err != nil { // makes the bars
		b.Fatal(err)
	}
	for len(c.took) > 0 {
		<-c.took
	}
	c.from, c.n = bars, b.N
	b.ResetTimer()
	used := cpuTime(b)
	if err := shotBot.Run(b.Context(), c); err != nil {
		b.Fatal(err)
	}
	b.StopTimer()
	close(c.took)
	var took []duration
	for d := range c.took {
		took = append(took, d)
	}
	slices.Sort(took)
	report(b, used)
	b.ReportMetric(float64(took[len(took)/2])/1e6, "ms-p50")
	b.ReportMetric(float64(took[len(took)*99/100])/1e6, "ms-p99")
}

// A keyValue is what a transaction puts.
type keyValue struct {
	path       [][]byte // of buckets
	key, value []byte
}

// puts returns what the two commits of a shot put into the file, found by
// comparing the file before, between and after.
func puts(b *testing.B) (first, second []keyValue) {
	b.Helper()
	path := filepath.Join(b.TempDir(), "bar.db")
	var states [3]map[string]keyValue
	for i, sent := range []bool{true, false, true} {
		records, err := store.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		shotBot := serve.New(bot.New(records, bot.Options{Open: true, Advise: stub}))
		n := min(i, 1) // the second shot is handled, and then sent
		if sent {
			if err := shotBot.Run(b.Context(), one{shotMessage(0, n)}); err != nil {
				b.Fatal(err)
			}
		} else {
			shotBot.Handle(shotMessage(0, n))
		}
		if i == 2 { // it was known by then: note by hand that it was sent
			sendNoted(b, records, shotMessage(0, n))
		}
		if err := records.Close(); err != nil {
			b.Fatal(err)
		}
		states[i] = dumped(b, path)
	}
	return changed(states[0], states[1]), changed(states[1], states[2])
}

// sendNoted does what the bot does once a reply is out.
func sendNoted(b *testing.B, records *store.Store, m chat.Message) {
	b.Helper()
	err := records.Update(func(tx *store.Tx) error {
		bar, _ := tx.BarOf(m.Channel)
		r, _, err := tx.ReplyOf(bar, m.ID)
		if err != nil {
			return err
		}
		r.State, r.Post = store.Sent, "p-"+m.ID
		return tx.PutReply(bar, r)
	})
	if err != nil {
		b.Fatal(err)
	}
}

// one is a service that brings one message.
type one struct{ m chat.Message }

func (o one) Listen(_ context.Context, deliver func(chat.Message) <-chan struct{}) error {
	<-deliver(o.m)
	return nil
}

func (one) Send(_ context.Context, p chat.Post) (string, error) { return "p-" + p.Cause, nil }
func (one) Edit(_ context.Context, _ string, _ chat.Post) error { return nil }

func dumped(b *testing.B, path string) map[string]keyValue {
	b.Helper()
	db, err := bbolt.Open(path, 0o600, nil)
	if err != nil {
		b.Fatal(err)
	}
	all := map[string]keyValue{}
	var walk func(bucket *bbolt.Bucket, path [][]byte) error
	walk = func(bucket *bbolt.Bucket, path [][]byte) error {
		return bucket.ForEach(func(k, v []byte) error {
			here := slices.Concat(path, [][]byte{bytes.Clone(k)})
			if v == nil {
				if inner := bucket.Bucket(k); inner != nil {
					return walk(inner, here)
				}
			}
			all[string(bytes.Join(here, []byte{0}))] = keyValue{path, bytes.Clone(k), bytes.Clone(v)}
			return nil
		})
	}
	err = db.View(func(tx *bbolt.Tx) error {
		return tx.ForEach(func(name []byte, bucket *bbolt.Bucket) error { return walk(bucket, [][]byte{bytes.Clone(name)}) })
	})
	if err != nil {
		b.Fatal(err)
	}
	if err := db.Close(); err != nil {
		b.Fatal(err)
	}
	return all
}

func changed(before, after map[string]keyValue) []keyValue {
	var all []keyValue
	for key, kv := range after {
		if old, known := before[key]; !known || !bytes.Equal(old.value, kv.value) {
			all = append(all, kv)
		}
	}
	return all
}

// raw puts the bytes of b.N shots, from several goroutines at once, into
// buckets shaped as a bar's, in two batches a shot.
func raw(b *testing.B, bars int, first, second []keyValue) {
	db, err := bbolt.Open(filepath.Join(b.TempDir(), "raw.db"), 0o600, &bbolt.Options{FreelistType: bbolt.FreelistMapType})
	if err != nil {
		b.Fatal(err)
	}
	db.MaxBatchDelay = 2 * time.Millisecond // about what a commit takes
	defer func() {
		if err := db.Close(); err != nil {
			b.Error(err)
		}
	}()
	put := func(bar, n int, all []keyValue) error {
		return db.Batch(func(tx *bbolt.Tx) error {
			for _, kv := range all {
				root, err := tx.CreateBucketIfNotExists(fmt.Appendf(nil, "bar-%04d", bar))
				if err != nil {
					return err
				}
				bucket, err := root.CreateBucketIfNotExists(kv.path[len(kv.path)-1])
				if err != nil {
					return err
				}
				key := bytes.Clone(kv.key) // as long as it was, ascending as it was
				if len(key) >= 8 {
					binary.BigEndian.PutUint64(key[len(key)-8:], uint64(n))
				}
				if err := bucket.Put(key, kv.value); err != nil {
					return err
				}
			}
			return nil
		})
	}
	b.ResetTimer()
	used := cpuTime(b)
	var workers sync.WaitGroup
	for bar := range bars {
		workers.Go(func() {
			for n := bar; n < b.N; n += bars {
				if err := put(bar, n, first); err != nil {
					b.Error(err)
					return
				}
				if err := put(bar, n, second); err != nil {
					b.Error(err)
					return
				}
			}
		})
	}
	workers.Wait()
	report(b, used)
}
