package discord

import (
	"cmp"
	"time"
)

// Timings are how long things may take. The zero value of each stands for what
// a real Discord needs; tests shorten them.
type Timings struct {
	Open      time.Duration // from dialling to being ready
	Hello     time.Duration // without a word before the interval of the heart is known
	Identify  time.Duration // between two identifications, by the platform 5 s
	Backoff   time.Duration // after the first failure, doubled with each
	BackoffTo time.Duration // at most
	Probe     time.Duration // between looks at a session
	Stuck     time.Duration // a session whose lock is not free for so long is dead
	Close     time.Duration // for a session to close
	Defer     time.Duration // before "thinking" is shown to whoever gave a command
	Answer    time.Duration // for an interaction's first answer, by the platform 3 s
	Call      time.Duration // for one REST call
	Retry     time.Duration // after the first failed call, doubled with each
	Grace     time.Duration // for what is under way when the program stops
	Hold      time.Duration // for what is live, at most, when what was missed stands before it
	Again     time.Duration // before a channel that could not be caught up with is tried again
}

func (t Timings) orUsual() Timings {
	t.Open = cmp.Or(t.Open, 30*time.Second)
	t.Hello = cmp.Or(t.Hello, 15*time.Second)
	t.Identify = cmp.Or(t.Identify, 5500*time.Millisecond)
	t.Backoff = cmp.Or(t.Backoff, time.Second)
	t.BackoffTo = cmp.Or(t.BackoffTo, 5*time.Minute)
	t.Probe = cmp.Or(t.Probe, 5*time.Second)
	t.Stuck = cmp.Or(t.Stuck, time.Minute)
	t.Close = cmp.Or(t.Close, 2*time.Second)
	t.Defer = cmp.Or(t.Defer, 1500*time.Millisecond)
	t.Answer = cmp.Or(t.Answer, 2500*time.Millisecond)
	t.Call = cmp.Or(t.Call, 20*time.Second)
	t.Retry = cmp.Or(t.Retry, 500*time.Millisecond)
	t.Grace = cmp.Or(t.Grace, 3*time.Second)
	t.Hold = cmp.Or(t.Hold, 2*time.Second)
	t.Again = cmp.Or(t.Again, 30*time.Second)
	return t
}
