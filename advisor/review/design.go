package review

import "slices"

// A design is the model of what cups became: how right a cup was is what the
// cup before it and the belief of it let expect, as the repeated shots teach,
// and what was changed adds to that, by the kind of change, a little different
// with each coffee, grinder and week.
type design struct {
	pooling
	columns map[any]int
}

// The columns of what is expected of a cup without a change.
type basis int

const (
	middling   basis = iota // of all cups
	afterRight              // the cup before was right
	afterHalf               // or a bit off
	asBelieved              // from a half
	byClock
	anyChange // what changes do, whatever their kind
	anyHalf   // or did after a cup that was a bit off
	bases     // how many
)

// Columns that a layer has one of for each.
type (
	level  struct{ group any }
	ofKind struct{ kind Kind }
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

// Priors, in shares of a cup; assumed. Of ten cups two to six more or less are
// right after a kind of change, and with one coffee or week up to two more or
// less than with another.
func basisPrior() []layer {
	return []layer{
		{1, 0.5, []width{{0.4, 1}}},
		{1, 0.3, []width{{0.3, 1}}},
		{2, 0.15, []width{{0.2, 1}}},
		{1, 0, []width{{0.3, 1}}},
		{1, 0, []width{{0.5, 1}}},
		{1, 0, []width{{0.3, 1}}},
	}
}

func kindWidths() []width   { return []width{{0.05, 0.5}, {0.2, 1}, {0.4, 1}, {0.7, 1}} }
func groupWidths() []width  { return []width{{0.02, 1}, {0.1, 1}, {0.2, 0.5}} }
func levelWidths() []width  { return []width{{0.03, 1}, {0.12, 1}} }
func singleWidths() []width { return []width{{0.2, 1}, {0.3, 1}, {0.4, 1}, {0.5, 1}} }

// newDesign lays the uses out, or nil if there is nothing to tell.
func newDesign(uses []use) *design {
	if len(uses) == 0 {
		return nil
	}
	d := &design{columns: map[any]int{}}
	levels, kinds, groups := d.layout(uses)
	d.layers = append(basisPrior(),
		layer{levels, 0, levelWidths()}, layer{kinds, 0, kindWidths()}, layer{groups, 0, groupWidths()})
	d.noise = singleWidths()
	for _, u := range uses {
		row := map[int]float64{int(middling): 1, int(asBelieved): u.left - 0.5}
		if u.wasRight() {
			row[int(afterRight)] = 1
		} else if u.wasHalf() {
			row[int(afterHalf)] = 1
		}
		if u.clocked {
			row[int(byClock)] = 1
		}
		for _, g := range u.groups() {
			d.add(row, level{g}, 1)
		}
		d.change(row, u)
		d.rows, d.y = append(d.rows, row), append(d.y, u.right)
	}
	return d
}

// layout gives each layer its columns. A grouping of which all uses share one
// group tells nothing.
func (d *design) layout(uses []use) (levels, kinds, groups int) {
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
		for _, g := range u.groups() {
			if u.kind != 0 && slices.Contains(all, g) {
				groups += add(within{u.kind, g})
			}
		}
	}
	return levels, kinds, groups
}

// change adds what was changed before a shot. After a cup that was only a bit
// off there is half as much to mend.
func (d *design) change(row map[int]float64, u use) {
	if u.kind == 0 {
		return
	}
	part := 1.0
	if u.wasHalf() {
		part = 0.5
		row[int(anyHalf)]++
	}
	row[int(anyChange)]++
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
