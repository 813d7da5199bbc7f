package discord

import "time"

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
	usual := func(d *time.Duration, to time.Duration) {
		if *d == 0 {
			*d = to
		}
	}
	usual(&t.Open, 30*time.Second)
	usual(&t.Hello, 15*time.Second)
	usual(&t.Identify, 5500*time.Millisecond)
	usual(&t.Backoff, time.Second)
	usual(&t.BackoffTo, 5*time.Minute)
	usual(&t.Probe, 5*time.Second)
	usual(&t.Stuck, time.Minute)
	usual(&t.Close, 2*time.Second)
	usual(&t.Defer, 1500*time.Millisecond)
	usual(&t.Answer, 2500*time.Millisecond)
	usual(&t.Call, 20*time.Second)
	usual(&t.Retry, 500*time.Millisecond)
	usual(&t.Grace, 3*time.Second)
	usual(&t.Hold, 2*time.Second)
	usual(&t.Again, 30*time.Second)
	return t
}
