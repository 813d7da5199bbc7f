package review

import (
	"maps"
	"math"
	"slices"
)

// A design is the model of what cups became: how right a cup was is what the
// cup before it, the setting's record of that day and the call let expect, as the repeated
// shots teach, and what was changed adds to that, by the kind of change, a little
// different with each coffee, grinder and week.
//
// What is asked of a kind is its mean effect over the times it was done: by how
// much more right those cups were than the same cups would have been at the
// setting they left. In a morning's first shots a cup that is off comes of the
// setting and stays off. In service, at a setting that has been right all day, it
// mostly comes of itself and goes by itself, and who turns the dial then mends
// nothing. Without the setting's record both are one, and the repeats of busy
// hours, which are the most, say of the morning that it would have been right
// without a change. Where nobody repeated a shot before the call, the prior alone
// says what would have been, and the interval is as wide as that.
type design struct {
	pooling
	columns map[any]int
}

// The columns of what is expected of a cup without a change.
type basis int

const (
	afterOff   basis = iota // the cup before was plainly off
	afterHalf               // or a bit off
	afterRight              // or right
	asBelieved              // from a half
	byClock
	farOut    // the cup before was plainly off, and by the clock as well
	wasProven // the setting had been right that day
	wasCalled // the coffee had been called dialled in that day
	anyChange // what changes do, whatever their kind
	anyProven // or do to a setting that had been right that day
	bases     // how many
)

// Columns that a layer has one of for each.
type (
	level  struct{ group any }
	ofKind struct{ kind Kind }
	ofHalf struct{ kind Kind } // after a cup that was a bit off
	within struct {
		kind  Kind
		group any
	}
	ofCoffee  struct{ id uint64 }
	ofGrinder struct{ id uint64 }
	ofWeek    struct{ week int }
)

func (u use) groups() []any {
	return []any{ofCoffee{uint64(u.coffee)}, ofGrinder{uint64(u.grinder)}, ofWeek{u.week}}
}

// Priors, in shares of a cup; assumed. A cup that was plainly off stays so, three
// times in four, and one that was a bit off every other time, at a setting that had
// no right cup and no call that day; nineteen times in twenty where the clock was
// well off as well. Of ten cups three to six more or less are right after a kind of
// change, and with one coffee or week up to one more or less than with another.
func basisPrior() []layer {
	return []layer{
		{1, 0.25, []width{{0.25, 1}}},
		{1, 0.5, []width{{0.3, 1}}},
		{1, 0.6, []width{{0.3, 1}}},
		{1, 0.15, []width{{0.2, 1}}},
		{1, 0, []width{{0.3, 1}}},
		{1, 0.05, []width{{0.15, 1}}},
		{2, 0.3, []width{{0.3, 1}}},
		{1, 0, []width{{0.5, 1}}},
		{1, 0, []width{{0.3, 1}}},
	}
}

func kindWidths() []width  { return []width{{0.3, 1}, {0.6, 1}} }
func halfWidths() []width  { return []width{{0.2, 1}, {0.6, 1}} }
func groupWidths() []width { return []width{{0.03, 1}, {0.12, 1}} }
func levelWidths() []width { return []width{{0.03, 1}, {0.12, 1}} }

// singleWidths are of the noise of one cup, beside that of a coin.
func singleWidths() []width { return []width{{0.6, 1}, {0.75, 1}, {0.9, 1}, {1.1, 1}, {1.3, 1}} }

// was is the column of the cup before.
func (u use) was() basis {
	switch {
	case u.wasRight():
		return afterRight
	case u.wasHalf():
		return afterHalf
	}
	return afterOff
}

// newDesign lays the uses out, or nil if there is nothing to tell.
func newDesign(uses []use) *design {
	if len(uses) == 0 {
		return nil
	}
	d := &design{columns: map[any]int{}}
	levels, kinds, halves, groups := d.layout(uses)
	d.layers = append(basisPrior(),
		layer{levels, 0, levelWidths()}, layer{kinds, 0, kindWidths()},
		layer{halves, 0, halfWidths()}, layer{groups, 0, groupWidths()})
	d.noise = singleWidths()
	for _, u := range uses {
		row := map[int]float64{int(u.was()): 1}
		row[int(wasProven)] = u.proven
		if u.was() == afterOff {
			row[int(afterOff)], row[int(farOut)] = 1-u.out, u.out
		}
		if u.called {
			row[int(wasCalled)] = 1
		}
		if u.clocked {
			row[int(byClock)], row[int(asBelieved)] = 1, u.left-0.5
		}
		for _, g := range u.groups() {
			d.add(row, level{g}, 1)
		}
		d.change(row, u)
		d.rows, d.y, d.scale = append(d.rows, row), append(d.y, u.right), append(d.scale, 0.5)
	}
	for range 3 {
		d.weigh()
	}
	return d
}

// weigh gives each cup the noise of what is expected of it: of cups that are
// hardly ever right, or nearly always, single ones differ by less than of those
// that are right every other time, as with a coin.
func (d *design) weigh() {
	theta := d.likeliest()
	for i, row := range d.rows {
		share := 0.0
		for _, at := range slices.Sorted(maps.Keys(row)) { // a sum is the same in the same order
			share += row[at] * theta.AtVec(at)
		}
		share = min(max(share, rarely), 1-rarely)
		d.scale[i] = math.Sqrt(share * (1 - share))
	}
}

// rarely is the share of right cups that no cup is held to be beyond: a few cups
// that were all right, or all wrong, do not tell that the next will be; assumed.
const rarely = 0.15

// layout gives each layer its columns. A grouping of which all uses share one
// group tells nothing.
func (d *design) layout(uses []use) (levels, kinds, halves, groups int) {
	next := int(bases)
	add := func(key any) int {
		if _, ok := d.columns[key]; ok {
			return 0
		}
		d.columns[key] = next
		next++
		return 1
	}
	var all []any
	for i := range uses[0].groups() {
		var own []any
		for _, u := range uses {
			if g := u.groups()[i]; !slices.Contains(own, g) {
				own = append(own, g)
			}
		}
		if len(own) > 1 {
			all = append(all, own...)
		}
	}
	for _, g := range all {
		levels += add(level{g})
	}
	for _, u := range uses {
		if u.kind != 0 {
			kinds += add(ofKind{u.kind})
		}
	}
	for _, u := range uses {
		if u.kind != 0 && u.wasHalf() {
			halves += add(ofHalf{u.kind})
		}
	}
	for _, u := range uses {
		for _, g := range u.groups() {
			if u.kind != 0 && slices.Contains(all, g) {
				groups += add(within{u.kind, g})
			}
		}
	}
	return levels, kinds, halves, groups
}

// change adds what was changed before a shot. Of a setting that had been right
// that day there is little to mend, and after a cup that was only a bit off a
// kind may do something else.
func (d *design) change(row map[int]float64, u use) {
	if u.kind == 0 {
		return
	}
	part := 1 - u.proven
	row[int(anyProven)] += u.proven
	if u.wasHalf() {
		d.add(row, ofHalf{u.kind}, part)
		return
	}
	row[int(anyChange)] += part
	d.add(row, ofKind{u.kind}, part)
	for _, g := range u.groups() {
		d.add(row, within{u.kind, g}, part)
	}
}

// add adds to a column of a row, if there is one of the key.
func (d *design) add(row map[int]float64, key any, x float64) {
	if at, ok := d.columns[key]; ok {
		row[at] += x
	}
}

// effect returns the sum of coefficients that is the mean effect of a kind over
// its uses.
func (d *design) effect(uses []use, kind Kind) []float64 {
	row, n := map[int]float64{}, 0.0
	for _, u := range uses {
		if u.kind == kind {
			n++
			d.change(row, u)
		}
	}
	c := make([]float64, int(bases)+len(d.columns))
	for at, x := range row {
		c[at] = x / n
	}
	return c
}
