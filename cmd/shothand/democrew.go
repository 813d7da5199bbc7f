package main

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/chat"
)

// A counter is one coffee of the invented bar, with its truth. All of it is
// assumed, so that a story can be seen: a step of the grinder is worth about 9 %
// of the time, a cup tastes by the time and the yield it took, and more coffee in
// the basket does nothing for it.
type counter struct {
	name, grinder string
	price         float64
	bag           int     // mornings that one lasts
	best          float64 // g in the cup that taste best
	yield         float64 // g that the recipe says
	level         float64 // log time at the middle of the dial, for 36 g
	dial          float64
}

// setting is how a shot is pulled.
type setting struct {
	dial, dose, yield float64
	purged            bool
}

func (r *rehearsal) counters() []*counter {
	return []*counter{
		{name: "Harbour", grinder: "left", price: 24, bag: 6, best: 36, yield: 36, dial: 5.2},
		{name: "Tide", grinder: "right", price: 31, bag: 9, best: 31, yield: 36, dial: 6.4},
	}
}

// middle is where a dial stands for 28 s on a day like any other.
func (c *counter) middle() float64 { return map[string]float64{"left": 5, "right": 6}[c.grinder] }

// pull returns the time of a shot in s, and how far its cup is off in taste
// steps, − under.
func (c *counter) pull(dice *rand.Rand, s setting) (seconds, off float64) {
	pour := math.Log(28) + c.level + 0.09*(c.middle()-s.dial)/0.1 + 0.025*dice.NormFloat64()
	seconds = math.Exp(pour + 0.7*math.Log(s.yield/36) + 0.5*math.Log(s.dose/18))
	off = 5*(pour-math.Log(28)) + 3.5*math.Log(s.yield/c.best)
	return seconds, off + 0.2*dice.NormFloat64()
}

// tasteWords are what somebody says of a cup that is so far off.
func tasteWords(dice *rand.Rand, off float64) string {
	side := "sour"
	if off > 0 {
		side = "bitter"
	}
	switch size := math.Abs(off); {
	case size < 0.55:
		return []string{"balanced", "sweet", "balanced, sweet"}[dice.IntN(3)]
	case size < 0.9:
		return "a bit " + side
	}
	return side
}

// Listen plays the weeks.
func (r *rehearsal) Listen(ctx context.Context, deliver func(chat.Message) <-chan struct{}) error {
	r.deliver = deliver
	counters := r.counters()
	days := workdays(r.now, r.mornings)
	r.open(days[0], counters)
	for i, day := range days {
		before := len(days) - 1 - i // mornings
		for k, c := range counters {
			if ctx.Err() != nil {
				return nil
			}
			r.at = day.Add(time.Duration(k)*20*time.Minute + time.Duration(r.dice.IntN(5))*time.Minute)
			r.morning(i, before, c)
		}
		r.service(day, before, counters)
		if before == demoTasting {
			r.taste(day, counters[1])
		}
		r.played()
	}
	return nil
}

// demoService is how long the crew is there on its last morning.
const demoService = 4 * time.Hour

// workdays returns the last so many days without one a week, the last of them
// today, each at half past six, or sooner where it is early yet. Before seven in
// the morning the last one is yesterday.
func workdays(now time.Time, n int) []time.Time {
	start := func(d time.Time) time.Time {
		return time.Date(d.Year(), d.Month(), d.Day(), 6, 30, 0, 0, now.Location())
	}
	last := start(now)
	if now.Hour() < 7 {
		last = start(now.AddDate(0, 0, -1))
	}
	list := []time.Time{last}
	for before := 1; len(list) < n; before++ {
		if before%7 != demoClosed {
			list = append([]time.Time{last.AddDate(0, 0, -before)}, list...)
		}
	}
	if early := now.Add(-demoService); early.Before(last) && !now.Before(last) {
		list[n-1] = early
		if dawn := time.Date(now.Year(), now.Month(), now.Day(), 4, 30, 0, 0, now.Location()); early.Before(dawn) {
			list[n-1] = dawn
		}
	}
	return list
}

// open sets the bar up.
func (r *rehearsal) open(day time.Time, counters []*counter) {
	r.at = day.Add(-time.Hour)
	r.say("mara", `/setup name:"Harbour Lane" currency:EUR opens:07:30 closes:17:00`)
	for _, c := range counters {
		r.say("mara", fmt.Sprintf("/grinder add name:%s finer:lower step:0.1", c.grinder))
		r.say("mara", fmt.Sprintf("/coffee add name:%s grinder:%s dose:18 yield:%g time:25-31 price:%g", c.name, c.grinder, c.yield, c.price))
	}
}

// opener returns who opens on a morning.
func opener(i int) string { return []string{"mara", "jo", "sam"}[i%3] }

// A crew's habits, all invented.
const (
	demoMost     = 7    // shots before a morning is given up
	demoContrary = 0.15 // of advice is not followed
	demoRush     = 11   // the hour of the longest queue
	demoHurry    = 0.8  // taste steps that a hurried cup is more under
	demoHabit    = 0.8  // of sour cups get more coffee in the basket from sam and jo, whatever is advised
)

// morning dials one coffee in.
func (r *rehearsal) morning(i, before int, c *counter) {
	who := opener(i)
	c.level = 0.3*c.level + 0.15*r.dice.NormFloat64()
	if i > 0 && i%c.bag == 0 {
		c.level += math.Copysign(0.15, r.dice.Float64()-0.6)
		r.say(who, strings.ToLower(c.name)+" new bag")
	}
	if before == 0 {
		c.level -= 0.13 // so that the last morning has something to show
	}
	s := setting{dial: c.dial, dose: 18, yield: c.yield}
	for range demoMost {
		off := r.shot(c, s, who, true)
		c.dial = s.dial
		if r.advice.Change.Lever == bar.Keep.String() {
			r.say(who, "/dialled coffee:"+c.name)
			r.say(who, "yes") // where it was asked because of the window
			return
		}
		s = r.next(s, who, off)
	}
}

// next returns how the next shot is pulled: as advised, out of habit, or as the
// one before.
func (r *rehearsal) next(s setting, who string, off float64) setting {
	s.purged = false
	sour := off < -0.55
	switch habit := r.dice.Float64(); {
	case sour && who != "mara" && s.dose < 18.3 && habit < demoHabit:
		s.dose = 18.6
		return s
	case habit > 1-demoContrary:
		return s
	}
	s.purged = r.advice.Purge
	switch r.advice.Change.Lever {
	case bar.Grind.String():
		s.dial = math.Round(10*r.advice.Change.To) / 10
	case bar.Yield.String():
		s.yield = r.advice.Change.To
	case bar.Dose.String():
		s.dose = r.advice.Change.To
	}
	return s
}

// service pulls a few shots a day of each coffee, until mid-morning on the last
// day. On one day a coffee runs slower and slower until somebody turns it.
func (r *rehearsal) service(day time.Time, before int, counters []*counter) {
	shots, apart := 3, 70*time.Minute
	if before == demoDrift {
		shots, apart = 11, 22*time.Minute
	}
	last := r.now
	r.at = day.Add(70 * time.Minute)
	for n := range shots {
		for k, c := range counters {
			if before == demoDrift && k == 0 {
				c.level += 0.022
			} else if before == demoDrift && n%3 > 0 {
				continue
			}
			r.at = r.at.Add(apart/2 + time.Duration(r.dice.IntN(9))*time.Minute)
			if before == 0 && r.at.After(last.Add(-5*time.Minute)) {
				return
			}
			s := setting{dial: c.dial, dose: 18, yield: c.yield}
			r.shot(c, s, opener(n+before), r.dice.Float64() < 0.6)
			if r.advice.Change.Lever == bar.Grind.String() && r.advice.State == "drifting" {
				c.dial = math.Round(10*r.advice.Change.To) / 10
			}
		}
	}
}

// shot pulls a shot and types it, and returns how far off its cup was.
func (r *rehearsal) shot(c *counter, s setting, who string, tasted bool) float64 {
	r.at = r.at.Add(time.Duration(110+r.dice.IntN(80)) * time.Second)
	pulled := s
	pulled.dose += 0.08 * r.dice.NormFloat64()
	pulled.yield += 0.5 * r.dice.NormFloat64()
	seconds, off := c.pull(r.dice, pulled)
	if r.rush > 0 && r.at.Hour() == r.rush {
		off -= demoHurry
	}
	parts := []string{fmt.Sprintf("%s %.1f %.1f %.0f s, grind %.1f", strings.ToLower(c.name), pulled.dose, pulled.yield, seconds, s.dial)}
	if s.purged {
		parts = append(parts, "purged")
	}
	if tasted {
		parts = append(parts, tasteWords(r.dice, off))
	}
	r.say(who, strings.Join(parts, ", "))
	if advice := r.advice; tasted && r.dice.Float64() < 0.12 {
		r.at = r.at.Add(40 * time.Second)
		second := "sam"
		if who == second {
			second = "jo"
		}
		r.say(second, tasteWords(r.dice, off+0.3*r.dice.NormFloat64()))
		if r.advice.Change.Lever == "" {
			r.advice = advice
		}
	}
	return off
}
