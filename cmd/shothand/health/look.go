package health

import (
	"fmt"
	"log/slog"
	"os"
	"sync"
	"time"

	"shothand/bot"
	"shothand/store"
)

// What is not well, and for how long. What mends itself in between, such as a
// session that is opened anew, is nobody's concern.
const (
	answerWithin = 2 * time.Second  // for the records, before they count as not answering
	probeEvery   = 5 * time.Second  // the file is tried at most, whoever asks
	watchEvery   = 30 * time.Second // a bot looks at itself
	deafAfter    = 30 * time.Second // not hearing, or taking up nothing of what was heard
	lagsAfter    = 2 * time.Minute  // still reading what was missed
	stuckAfter   = 5 * time.Minute  // a reply waits, and none was sent
)

// A Connection is what is asked of a service that may lose its line.
type Connection interface {
	// Gateway returns whether it hears what is said, and since when.
	Gateway() (up bool, since time.Time)
	// Waiting returns for how long nothing of what was heard was taken up.
	Waiting() time.Duration
	// Behind returns how many bars were not read up to the present, and from
	// when on.
	Behind() (bars int, since time.Time)
}

// A tried is what the records answered.
type tried struct {
	at      time.Time
	slow    bool  // they did not, in time
	err     error // they take no write, or are not read
	pending int   // replies
	oldest  time.Time
}

// A look is what is seen of a bot at one instant.
type look struct {
	tried
	now       time.Time
	connected bool // there is a connection, up or not
	up        bool
	since     time.Time     // it is up or not
	waiting   time.Duration // for what was heard to be taken up
	bars      int           // that are behind
	unread    time.Time     // from when on
	behind    time.Duration // for how long some bar has been
	sent      time.Time     // the last reply
	backup    time.Time     // the last; zero: none
	checked   string        // and what is known of it
	bytes     int64         // of the file
}

// A trouble is one reason why a bot is not well: what sort it is, and a
// sentence.
type trouble struct{ kind, text string }

// troubles are the reasons why the bot is not well: none if it is.
func (l look) troubles() []trouble {
	var list []trouble
	add := func(is bool, kind, text string, args ...any) {
		if is {
			list = append(list, trouble{kind, fmt.Sprintf(text, args...)})
		}
	}
	age := func(at time.Time) time.Duration { return l.now.Sub(at).Round(time.Second) }
	add(l.slow, "slow", "the records did not answer within %v", answerWithin)
	add(l.err != nil, "file", "the records take no write")
	add(l.connected && !l.up && age(l.since) > deafAfter, "deaf", "not connected for %v", age(l.since))
	add(l.waiting > deafAfter, "held", "what was heard has waited for %v", l.waiting.Round(time.Second))
	add(l.behind > lagsAfter, "behind", "%d bars are not read up to the present, for %v", l.bars, l.behind.Round(time.Second))
	stuck := l.pending > 0 && age(l.oldest) > stuckAfter && age(l.sent) > stuckAfter
	add(stuck, "stuck", "%d replies wait, the oldest for %v, and none was sent meanwhile", l.pending, age(l.oldest))
	return list
}

// lag is how far the bot is behind what has been said.
func (l look) lag() time.Duration {
	if l.bars == 0 {
		return l.waiting
	}
	return max(l.waiting, l.now.Sub(l.unread))
}

// An Observer looks at a bot that runs.
type Observer struct {
	log   *slog.Logger
	try   func() tried // asks the records, and may never return
	conn  Connection   // nil on the console
	meter *Meter
	last  *LastBackup
	path  string
	start time.Time
	Clock func() time.Time

	version string

	mu     sync.Mutex
	asking chan struct{} // closed when the try that is under way is done
	known  tried
	fell   time.Time // some bar has been behind since
}

// New returns an observer; conn is nil on the console.
func New(log *slog.Logger, version string, records *store.Store, conn Connection, m *Meter, last *LastBackup) *Observer {
	try := func() tried {
		t := tried{at: time.Now()}
		if t.err = records.Update(func(*store.Tx) error { return nil }); t.err == nil {
			t.pending, t.oldest, t.err = bot.Pending(records, t.at)
		}
		return t
	}
	return &Observer{log: log, try: try, conn: conn, meter: m, last: last, path: records.Path(), start: time.Now(), Clock: time.Now, version: version}
}

// look looks.
func (o *Observer) look() look {
	l := look{tried: o.records(), now: o.Clock(), sent: o.meter.lastSent(o.start)}
	l.backup, l.checked = o.last.get()
	if info, err := os.Stat(o.path); err == nil {
		l.bytes = info.Size()
	}
	if o.conn == nil {
		return l
	}
	l.connected = true
	l.up, l.since = o.conn.Gateway()
	l.waiting = o.conn.Waiting()
	l.bars, l.unread = o.conn.Behind()
	l.behind = o.fallen(l.bars > 0, l.now)
	return l
}

// fallen returns for how long some bar has been behind, as far as anybody
// looked.
func (o *Observer) fallen(behind bool, now time.Time) time.Duration {
	o.mu.Lock()
	defer o.mu.Unlock()
	switch {
	case !behind:
		o.fell = time.Time{}
		return 0
	case o.fell.IsZero():
		o.fell = now
	}
	return now.Sub(o.fell)
}

// records asks the records, at most every few seconds, and waits for no answer
// that does not come.
func (o *Observer) records() tried {
	o.mu.Lock()
	if !o.known.at.IsZero() && time.Since(o.known.at) < probeEvery && o.asking == nil {
		defer o.mu.Unlock()
		return o.known
	}
	if o.asking == nil {
		o.asking = make(chan struct{})
		go o.ask(o.asking)
	}
	asking := o.asking
	o.mu.Unlock()
	limit := time.NewTimer(answerWithin)
	defer limit.Stop()
	select {
	case <-asking:
		o.mu.Lock()
		defer o.mu.Unlock()
		return o.known
	case <-limit.C:
		return tried{slow: true}
	}
}

// ask asks them.
func (o *Observer) ask(done chan struct{}) {
	t := o.try()
	if t.err != nil {
		o.log.Error("the records", "err", t.err)
	}
	o.mu.Lock()
	o.known, o.asking = t, nil
	o.mu.Unlock()
	close(done)
}

// Watch writes to the log what is not well, once when it begins and once when it
// ends, until stop is called.
func (o *Observer) Watch() (stop func()) {
	done := make(chan struct{})
	var watching sync.WaitGroup
	watching.Go(func() {
		every := time.NewTicker(watchEvery)
		defer every.Stop()
		told := map[string]bool{}
		for {
			select {
			case <-done:
				return
			case <-every.C:
				told = tell(o.log, o.look(), told)
			}
		}
	})
	return func() {
		close(done)
		watching.Wait()
	}
}

// tell logs the troubles that were not told of before, and the end of those that
// were, and returns what has been told.
func tell(log *slog.Logger, l look, told map[string]bool) map[string]bool {
	now := map[string]bool{}
	for _, t := range l.troubles() {
		if now[t.kind] = true; !told[t.kind] {
			log.Warn("not well", "what", t.kind, "why", t.text)
		}
	}
	for kind := range told {
		if !now[kind] {
			log.Info("well again", "what", kind)
		}
	}
	return now
}
