package bot

import (
	"math"
	"slices"

	"shothand/advisor/agree"
	"shothand/advisor/bar"
	"shothand/advisor/extraction"
	"shothand/advisor/layers"
	"shothand/bot/chat"
	"shothand/store"
)

// An account is what a tasting cup by cup has come to.
type account struct {
	table
	splits   []int // that count, in order
	rows     []accountRow
	masses   map[int][layers.Cups]float64 // by split; as planned where nobody weighed
	weighed  bool                         // of the last split, all cups
	expected [layers.Cups]layers.Expected // of the last split
	measured [layers.Cups]layers.Held     // of the last split
	known    bool                         // measured is
	whole    float64                      // % TDS of the shot beside it, 0 if not told
	verdict  layers.Verdict
	yields   []yieldLine
	right    int // orders that were right, of those below
	orders   int
	alike    []likeness // of all tastings of the bar; only a post of the account tells it
	both     int        // cups that two or more have tasted
}

// An accountRow is what one taster said of one split.
type accountRow struct {
	who   bar.PersonID
	split int
	said  layers.Tasting
	after bool
}

// A yieldLine is a yield and what a shot that ends there holds.
type yieldLine struct {
	yield float64
	cup   extraction.Cup
}

// newAccount works it out. It fails where the shot cannot be split.
func newAccount(b table) (account, error) {
	a := account{table: b, masses: map[int][layers.Cups]float64{}}
	cuts, err := layers.Plan(b.begun.Method, b.brew())
	if err != nil {
		return a, err
	}
	var tds [layers.Cups]float64
	for split := 1; split <= b.begun.Split; split++ {
		if b.begun.IsStruck(split) || !b.begun.IsShown(split) {
			continue
		}
		a.splits = append(a.splits, split)
		masses := layers.Masses(cuts)
		a.weighed, a.whole = true, 0
		tds = [layers.Cups]float64{}
		for i := range masses {
			mass, strength := b.measuredCup(split, bar.Layer(i))
			if a.weighed = a.weighed && mass > 0; mass > 0 {
				masses[i] = mass
			}
			tds[i] = strength
		}
		_, a.whole = b.measuredCup(split, bar.Whole)
		a.masses[split] = masses
		for _, who := range b.tasters(split) {
			a.rows = append(a.rows, accountRow{who: who, split: split, said: b.of(who, split), after: b.late(who, split)})
			if order := b.order(who, split); order != "" && who != b.entry.Person {
				a.orders++
				if order == b.begun.Key {
					a.right++
				}
			}
		}
	}
	if len(a.splits) == 0 {
		return a, nil
	}
	last := a.splits[len(a.splits)-1]
	if a.expected, err = layers.Expect(b.begun.Method, b.brew(), a.masses[last]); err != nil {
		return a, err
	}
	a.measured, a.known = layers.Measure(float64(b.begun.Dose), a.masses[last], tds)
	a.known = a.known && a.weighed
	a.judge()
	return a, nil
}

// measuredCup returns the weight and the strength that were told of a cup
// last, by whomever.
func (b table) measuredCup(split int, of bar.Layer) (mass, tds float64) {
	for _, e := range b.sips {
		s := e.What.(bar.Sips)
		if s.Split != split {
			continue
		}
		for _, x := range s.Sips {
			if x.Of == of && x.Mass > 0 {
				mass = x.Mass
			}
			if x.Of == of && x.TDS > 0 {
				tds = x.TDS
			}
		}
	}
	return mass, tds
}

// judge sets where the shot should end and compares the yields.
func (a *account) judge() {
	yield := float64(a.begun.Yield)
	var said []layers.Tasting
	for _, row := range a.rows {
		said = append(said, row.said)
	}
	a.verdict = layers.End(yield, a.masses, palate(a.coffee.Aim), said)
	step := math.Round(yield / 9)
	ends := []float64{yield - step, yield, yield + step}
	if a.verdict.Way != layers.Stay && !slices.Contains(ends, a.verdict.Yield) {
		ends = append(ends, a.verdict.Yield)
		slices.Sort(ends)
	}
	for _, end := range ends {
		if cup, _, err := layers.At(a.begun.Method, a.brew(), end); err == nil {
			a.yields = append(a.yields, yieldLine{end, cup})
		}
	}
}

// palate is how much of a fault sour and bitter are in a coffee that is aimed
// to be bright or rich; assumed.
func palate(aim bar.Aim) layers.Palate {
	p := layers.Palate{Sour: 1, Bitter: 1}
	switch aim {
	case bar.Bright:
		p.Sour = 0.5
	case bar.Rich:
		p.Bitter = 0.5
	case bar.NoAim, bar.Round:
	}
	return p
}

// accountOf is the account of a tasting, or what to tell people why there is
// none.
func accountOf(b table) (account, error) {
	a, err := newAccount(b)
	if err != nil {
		return a, mistake(noSplitText)
	}
	return a, nil
}

// accountPost is the account, whole or as it is told at the table, with its
// picture in light or dark, or the result of a pair, as a post.
func (t *turn) accountPost(r *room, b table, whole, dark bool) (chat.Post, error) {
	if b.ofPair() {
		return t.pairPost(b), nil
	}
	a, err := accountOf(b)
	if err != nil {
		return chat.Post{}, err
	}
	if len(a.splits) > 0 {
		if a.alike, a.both, err = t.likenesses(r); err != nil {
			return chat.Post{}, err
		}
	}
	p := t.post(chat.Info, a.text(r.people, t.bar.Ends, whole))
	var list pictures
	list.add(layersPicture(a))
	if p.Files, err = drawFiles(list, dark); err != nil {
		return p, err
	}
	if a.verdict.Way != layers.Stay && len(a.splits) >= enoughSplits && b.begun.Method == bar.Espresso {
		p.Buttons = []chat.Button{{Label: pairLabel, State: pressState(pressPair, b.entry.ID)}}
	}
	return p, nil
}

// enoughSplits is how many splits a conclusion takes: one is noisy.
const enoughSplits = 2

// layersShow says again what the last tasting of a coffee has come to.
func (t *turn) layersShow(r *room, c chat.Command) ([]Out, error) {
	coffee, err := t.meant(r, c, "coffee")
	if err != nil {
		return nil, err
	}
	tables, err := t.tablesOf(r, coffee.ID)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(tables) {
		if b.ofPair() && b.begun.Pair.Shown || !b.ofPair() && len(b.begun.Shown) > 0 {
			p, err := t.accountPost(r, b, true, isDark(c))
			return []Out{{Post: p}}, err
		}
	}
	return nil, mistake(noLayersText(coffee))
}

// tablesOf returns all tastings of a coffee, oldest first.
func (t *turn) tablesOf(r *room, c bar.CoffeeID) ([]table, error) {
	var all []table
	err := t.store.View(func(tx *store.Tx) error {
		entries, err := tx.LayersOf(t.bar.ID, c)
		for _, e := range entries {
			b := table{entry: e, begun: e.What.(bar.Layers)}
			b.coffee, _ = r.coffee(c)
			if b.sips, err = tx.SipsOf(t.bar.ID, e.ID); err != nil {
				return err
			}
			all = append(all, b)
		}
		return err
	})
	return all, err
}

// A likeness is how alike the bar's people taste in one family: said or not
// said, or by the scores from 0 to 5.
type likeness struct {
	of     bar.Scale
	scores bool
	agree.Agreement
}

// likenesses returns how alike the bar's people taste, over the cups of all its
// tastings before others were shown, where there are cups enough to say; and
// how many cups two or more have tasted.
func (t *turn) likenesses(r *room) (all []likeness, both int, err error) {
	tables, err := t.allTables(r)
	if err != nil {
		return nil, 0, err
	}
	said := cupsOfAll(r, tables, func(s bar.Note, f bar.Scale) float64 {
		if layers.Named(s, f) {
			return 1
		}
		return 0
	})
	scores := cupsOfAll(r, tables, scoreGiven)
	for i, f := range layers.Families() {
		nominal, ok := agree.Judge(family(said, i), agree.Nominal)
		both = nominal.Units
		if ok {
			all = append(all, likeness{f, false, nominal})
		}
		if ordinal, ok := agree.Judge(family(scores, i), agree.Ordinal); ok {
			all = append(all, likeness{f, true, ordinal})
		}
	}
	return all, both, nil
}

// scoreGiven returns the score that was given, [agree.Missing] for none.
func scoreGiven(s bar.Note, f bar.Scale) float64 {
	for _, x := range s.Scores {
		if x.Of == f {
			return x.X
		}
	}
	return agree.Missing()
}

// family returns the units of one family of those that cupsOfAll returns.
func family(units [][]float64, at int) [][]float64 {
	var of [][]float64
	for i := at; i < len(units); i += len(layers.Families()) {
		of = append(of, units[i])
	}
	return of
}

// allTables returns all tastings of the bar, coffee by coffee, oldest first.
func (t *turn) allTables(r *room) ([]table, error) {
	var all []table
	for _, c := range r.coffees {
		tables, err := t.tablesOf(r, c.ID)
		if err != nil {
			return nil, err
		}
		all = append(all, tables...)
	}
	return all, nil
}

// cupsOfAll returns for each cup of all tastings and each family what value
// has of each person, [agree.Missing] of those who did not taste it or had been
// shown what the others said.
func cupsOfAll(r *room, tables []table, value func(bar.Note, bar.Scale) float64) [][]float64 {
	var units [][]float64
	for _, b := range tables {
		for _, split := range b.begun.Shown {
			if !b.begun.IsStruck(split) && !b.ofPair() {
				units = append(units, b.units(r, split, value)...)
			}
		}
	}
	return units
}

// units are cupsOfAll of one split.
func (b table) units(r *room, split int, value func(bar.Note, bar.Scale) float64) [][]float64 {
	var units [][]float64
	for cup := range bar.Layer(layers.Cups) {
		for _, f := range layers.Families() {
			var unit []float64
			for _, p := range r.people {
				x := agree.Missing()
				if s, ok := b.of(p.ID, split).Note(cup); ok && s.Tasted() && !b.late(p.ID, split) {
					x = value(s, f)
				}
				unit = append(unit, x)
			}
			units = append(units, unit)
		}
	}
	return units
}

// letterOf returns the letter of a cup.
func (b table) letterOf(l bar.Layer) string {
	if int(l) < len(b.begun.Key) {
		return b.begun.Key[l : l+1]
	}
	return ""
}
