package review_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/review"
)

// A bench is a bar whose truth is known: 5 % noise, 2 % outliers, a level that
// wanders by 0.4 % a shot.
type bench struct {
	dice    *rand.Rand
	history bar.History
	said    []review.Said
	level   float64
	worth   float64 // log time that a step is truly worth
	dial    float64
	at      time.Time
}

func newBench(index uint64, worth float64) *bench {
	b := &bench{dice: rand.New(rand.NewPCG(8, index)), worth: worth, dial: 5, at: time.Date(2026, 3, 2, 6, 30, 0, 0, time.UTC)}
	b.history.Grinders = []bar.Grinder{{ID: 1, Name: "left", Step: 0.1, Finer: bar.Lower}}
	b.history.Coffees = []bar.Coffee{{ID: 1, Name: "Harbour", Grinder: 1, Recipe: bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}}}
	return b
}

// pull pulls a shot where the dial stands and returns its time.
func (b *bench) pull() float64 {
	b.at = b.at.Add(3 * time.Minute)
	b.level += 0.004 * b.dice.NormFloat64()
	log := math.Log(28) + b.level + b.worth*(5-b.dial)/0.1 + 0.05*b.dice.NormFloat64()
	if b.dice.Float64() < 0.02 {
		log -= 0.35
	}
	seconds := math.Round(math.Exp(log)*10) / 10
	shot := bar.Shot{
		Coffee: 1, Grinder: 1,
		Grind: bar.Value[bar.Dial]{X: bar.Dial(math.Round(b.dial*10) / 10), From: bar.Said},
		Dose:  bar.Value[bar.Grams]{X: 18, From: bar.Said},
		Yield: bar.Value[bar.Grams]{X: 36, From: bar.Said},
		Time:  bar.Value[bar.Seconds]{X: bar.Seconds(seconds), From: bar.Said},
		Marks: bar.Purged,
	}
	b.history.Entries = append(b.history.Entries, bar.Entry{
		ID: bar.EntryID(len(b.history.Entries) + 1), Person: 1, At: b.at, Day: bar.DayOf(b.at), What: shot,
	})
	return seconds
}

// turn turns the dial as if it had been advised.
func (b *bench) turn(steps float64) {
	to := math.Round((b.dial-0.1*steps)*10) / 10
	b.said = append(b.said, review.Said{
		Shot: bar.EntryID(len(b.history.Entries)), Lever: bar.Grind, From: b.dial, To: to, Unit: advisor.DialUnit,
	})
	b.dial = to
}

func (b *bench) review(t *testing.T) review.Review {
	t.Helper()
	trail, ok := advisor.TrailOf(b.history, 1, b.at)
	if !ok {
		t.Fatal("no trail")
	}
	c := review.Course{Coffee: b.history.Coffees[0], Grinder: b.history.Grinders[0], Trail: trail, Said: b.said}
	return review.Of(review.Span{From: "2026-01-01", To: "2026-12-31"}, review.Book{Courses: []review.Course{c}})
}

// Changes that do nothing, made whenever a shot was more than 2 s off: 89 % of
// the shots after them look improved (statistics of a prototype), and still
// the claim is 0 ± 0.1 s and no more than one kind in ten is called working. The
// bars have pulled ten shots before: of a coffee's very first ones the advisor
// thinks they could be anywhere, while these are where they should be.
func TestNullChangesClaimNothing(t *testing.T) {
	if raced {
		t.Skip("takes minutes")
	}
	const bars, settle, shots = 120, 10, 60
	var sum, n, kinds, helps float64
	nearer, after := 0, 0
	for i := range uint64(bars) {
		b := newBench(i, 0)
		for n := range settle + shots {
			switch s := b.pull(); {
			case n < settle:
			case s < 26:
				b.turn(1)
			case s > 30:
				b.turn(-1)
			}
		}
		r := b.review(t)
		for _, e := range r.Effects {
			sign := 1.0
			if e.Kind == review.Coarser {
				sign = -1
			}
			sum += sign * e.Time.Mid * float64(e.Time.N)
			n += float64(e.Time.N)
			kinds++
			if e.Verdict == review.Helps {
				helps++
			}
		}
		nearer += r.Regress.Nearer
		after += r.Regress.Changed
	}
	t.Logf("%.0f changes claim %+.3f s; %.0f of %.0f kinds are said to help; %d of %d shots after one well out were nearer", n, sum/n, helps, kinds, nearer, after)
	if !(math.Abs(sum/n) <= 0.1) {
		t.Errorf("changes that do nothing claim %+.2f s", sum/n)
	}
	if !(helps <= 0.05*kinds) {
		t.Errorf("%.0f of %.0f kinds that do nothing are said to help", helps, kinds)
	}
	if !(float64(nearer) > 0.75*float64(after)) {
		t.Errorf("only %d of %d shots got nearer by themselves: the bench is too easy", nearer, after)
	}
}

// What a change does to the time, a step worth 4 s, shows within 30 uses, and
// lies in its 90 % interval 85 to 95 % of the time. Only what was changed after a
// cup that was off is told of: in bar 1029 each of the 15 shots before a finer one
// came within a second of the window, so it has nothing to tell of finer.
func TestRealTimeIsFound(t *testing.T) {
	if raced {
		t.Skip("takes minutes")
	}
	const bars, uses = 80, 15 // of each way
	worth := math.Log(30.0 / 26)
	found, inside, all := 0, 0, 0
	for i := range uint64(bars) {
		b := newBench(1000+i, worth)
		b.dial += 0.05 // so that a step goes from 26 to 30 s and back
		b.dial = math.Round(b.dial*10) / 10
		var truth []float64
		for range uses {
			for range 2 {
				b.pull()
			}
			before := b.level
			b.turn(1)
			b.pull()
			truth = append(truth, 28*math.Exp(before)*(math.Exp(worth*(5-b.dial)/0.1)-math.Exp(worth*(5-b.dial)/0.1-worth)))
			b.pull()
			b.turn(-1)
		}
		for _, e := range b.review(t).Effects {
			if e.Kind != review.Finer {
				continue
			}
			mean := 0.0
			for _, x := range truth {
				mean += x / float64(len(truth))
			}
			all++
			if e.Time.Low > 0 {
				found++
			}
			if e.Time.Low <= mean && mean <= e.Time.High {
				inside++
			}
		}
	}
	t.Logf("found in %d of %d, inside its interval in %d", found, all, inside)
	if found < 9*bars/10 {
		t.Errorf("found in %d of %d bars", found, bars)
	}
	// 85 to 95 %, give or take two standard errors of so many bars.
	share, slack := float64(inside)/float64(all), 2*math.Sqrt(0.9*0.1/float64(all))
	if !(0.85-slack <= share && share <= 0.95+slack) {
		t.Errorf("the effect is inside its interval in %.0f %% of bars", 100*share)
	}
}
