package review

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"shothand/advisor/bar"
)

// A Trouble is a coffee, a grinder or an hour whose cups are off more often than
// the others', or could be: the most trouble first.
type Trouble struct {
	Coffee  bar.CoffeeID // one of the three
	Grinder bar.GrinderID
	Hour    int
	Cups    int
	Off     int     // of them
	Sure    float64 // that it is worse than the rest together
	Among   int     // so many that it is one of
	Rest    int
	RestOff int
	Reasons []Reason // why they were off, the most frequent first
}

// A Reason is what was wrong with a cup.
type Reason struct {
	What Fault
	Cups int
}

// A Fault is a way of being off.
type Fault int

// The faults.
const (
	Under Fault = iota + 1
	Over
	Weak
	Strong
	Fast // by the clock, where nobody tasted
	Slow
	Choked
	Disliked
)

// Plain reports whether it may be said that this is worse than the rest. Of many
// hours one looks bad by chance, so it takes more to say so of one of many.
func (t Trouble) Plain() bool {
	return t.Cups >= Few && t.Sure > 1-(1-sureEnough)/float64(max(t.Among, 1))
}

// Share is what part of the cups were off, with its 90 % interval, of a uniform prior.
func (t Trouble) Share() Estimate {
	b := distuv.Beta{Alpha: 1 + float64(t.Off), Beta: 1 + float64(t.Cups-t.Off)}
	return Estimate{Mid: float64(t.Off) / float64(max(t.Cups, 1)), Low: b.Quantile(0.05), High: b.Quantile(0.95), N: t.Cups}
}

// grindersShared reports whether two coffees ran on one grinder: else it says the
// same of a grinder as of its coffee.
func grindersShared(cups []Cup) bool {
	of := map[bar.GrinderID]bar.CoffeeID{}
	for _, c := range cups {
		if other, ok := of[c.Shot.Grinder]; ok && other != c.Shot.Coffee {
			return true
		}
		of[c.Shot.Grinder] = c.Shot.Coffee
	}
	return false
}

// served returns the cups that came after the coffee was called dialled in: that some
// are off before, and in the morning, is no news. Days without a call are left out,
// since nobody knows when they were done. Where most days have none, it returns all
// cups, and false.
func served(cups []Cup, calls []bar.Entry) (after []Cup, called bool) {
	first := firstCalls(calls)
	days := map[coffeeDay]bool{}
	with := 0
	for _, c := range cups {
		key := coffeeDay{c.Entry.Day, c.Shot.Coffee}
		at, ok := first[key]
		if !days[key] {
			days[key] = true
			with += one(ok)
		}
		if ok && c.Entry.At.After(at) {
			after = append(after, c)
		}
	}
	if 2*with < len(days) || with == 0 {
		return cups, false
	}
	return after, true
}

// troubles ranks what key names by how often its cups are off.
func troubles(cups []Cup, key func(Cup) Trouble) []Trouble {
	var list []Trouble
	reasons := map[int]map[Fault]int{}
	all, off := 0, 0
	for _, c := range cups {
		if !c.Judged || !c.serves() {
			continue
		}
		k := key(c)
		i := slices.IndexFunc(list, func(t Trouble) bool { return t.Coffee == k.Coffee && t.Grinder == k.Grinder && t.Hour == k.Hour })
		if i < 0 {
			i = len(list)
			list, reasons[i] = append(list, k), map[Fault]int{}
		}
		list[i].Cups++
		all++
		if c.off() {
			list[i].Off++
			off++
			reasons[i][c.fault()]++
		}
	}
	for i := range list {
		t := &list[i]
		t.Among = len(list)
		t.Rest, t.RestOff = all-t.Cups, off-t.Off
		t.Sure = Worse(t.Off, t.Cups, t.RestOff, t.Rest)
		for f, n := range reasons[i] {
			t.Reasons = append(t.Reasons, Reason{f, n})
		}
		slices.SortFunc(t.Reasons, func(a, b Reason) int { return cmp.Or(b.Cups-a.Cups, int(a.What-b.What)) })
	}
	slices.SortStableFunc(list, func(a, b Trouble) int { return cmp.Compare(b.Sure, a.Sure) })
	return list
}

// Worse returns the probability that a share of off cups is higher than that of
// the rest, of uniform priors.
func Worse(off, n, restOff, rest int) float64 {
	if rest == 0 {
		return 0
	}
	return above(
		distuv.Beta{Alpha: 1 + float64(off), Beta: 1 + float64(n-off)},
		distuv.Beta{Alpha: 1 + float64(restOff), Beta: 1 + float64(rest-restOff)})
}

// above returns the probability that a is above b.
func above(a, b distuv.Beta) float64 {
	const cells = 2000
	p := 0.0
	last := 0.0
	for i := 1; i <= cells; i++ {
		x := float64(i) / cells
		f := b.CDF(x)
		p += (f - last) * a.Survival(x-0.5/cells)
		last = f
	}
	return p
}

// fault returns what was wrong with a cup that is off.
func (c Cup) fault() Fault {
	r := c.Read
	switch {
	case c.Shot.Marks.Has(bar.Choked):
		return Choked
	case !r.Tasted:
		return either(c.fast, Fast, Slow)
	case r.Under && !r.Over:
		return Under
	case r.Over && !r.Under:
		return Over
	case r.Weak && !r.Strong:
		return Weak
	case r.Strong && !r.Weak:
		return Strong
	}
	return Disliked
}
