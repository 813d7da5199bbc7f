package store

import (
	"slices"

	"shothand/advisor/bar"
)

// layersRecord is the on-disk form of [bar.Layers]. Add fields; never
// rename them.
type layersRecord struct {
	Coffee  uint64     `json:"coffee"`
	Method  string     `json:"method"`
	Dose    float64    `json:"dose_g,omitempty"`
	Yield   float64    `json:"yield_g,omitempty"`
	Time    float64    `json:"time_s,omitempty"`
	Tasters int        `json:"tasters,omitempty"`
	Blind   bool       `json:"blind,omitempty"`
	Key     string     `json:"key,omitempty"`
	Split   int        `json:"split,omitempty"`
	Shown   []int      `json:"shown,omitempty"`
	Struck  []int      `json:"struck,omitempty"`
	Pair    pairRecord `json:"pair,omitzero"`
	Stopped bool       `json:"stopped,omitempty"`
}

// pairRecord is the on-disk form of an [bar.Pair].
type pairRecord struct {
	Old   float64 `json:"old_g,omitempty"`
	New   float64 `json:"new_g,omitempty"`
	Time  float64 `json:"time_s,omitempty"`
	First bool    `json:"first,omitempty"`
	Shown bool    `json:"shown,omitempty"`
	Moved bool    `json:"moved,omitempty"`
}

// sipsRecord is the on-disk form of [bar.Sips]. Add fields; never rename
// them.
type sipsRecord struct {
	Layers uint64      `json:"layers"`
	Split  int         `json:"split,omitempty"`
	After  bool        `json:"after,omitempty"`
	Sips   []sipRecord `json:"sips,omitempty"`
	Order  string      `json:"order,omitempty"`
	Better string      `json:"better,omitempty"`
}

// sipRecord is the on-disk form of a [bar.Note].
type sipRecord struct {
	Of     string        `json:"of"`
	Mass   float64       `json:"mass_g,omitempty"`
	TDS    float64       `json:"tds_percent,omitempty"`
	Words  []wordRecord  `json:"words,omitempty"`
	Unread []string      `json:"unread,omitempty"`
	Scores []scoreRecord `json:"scores,omitempty"`
}

// scoreRecord is the on-disk form of a [bar.Score], from 0 to 5.
type scoreRecord struct {
	Of string  `json:"of"`
	X  float64 `json:"x"`
}

func newLayersRecord(l bar.Layers) (*layersRecord, error) {
	method, err := word(l.Method, methodWord)
	p := l.Pair
	return &layersRecord{
		Coffee: uint64(l.Coffee), Method: method, Dose: float64(l.Dose), Yield: float64(l.Yield), Time: float64(l.Time),
		Tasters: l.Tasters, Blind: l.Blind, Key: l.Key, Split: l.Split, Shown: l.Shown, Struck: l.Struck, Stopped: l.Stopped,
		Pair: pairRecord{
			Old: float64(p.Old), New: float64(p.New), Time: float64(p.Time), First: p.First, Shown: p.Shown, Moved: p.Moved,
		},
	}, err
}

func (r layersRecord) layers() (bar.Layers, error) {
	method, err := choice(r.Method, methodWord)
	p := r.Pair
	return bar.Layers{
		Coffee: bar.CoffeeID(r.Coffee), Method: method,
		Dose: bar.Grams(r.Dose), Yield: bar.Grams(r.Yield), Time: bar.Seconds(r.Time),
		Tasters: r.Tasters, Blind: r.Blind, Key: r.Key, Split: r.Split,
		Shown: slices.Clip(r.Shown), Struck: slices.Clip(r.Struck), Stopped: r.Stopped, // shared, see cache
		Pair: bar.Pair{
			Old: bar.Grams(p.Old), New: bar.Grams(p.New), Time: bar.Seconds(p.Time),
			First: p.First, Shown: p.Shown, Moved: p.Moved,
		},
	}, err
}

func newSipsRecord(s bar.Sips) (*sipsRecord, error) {
	r := &sipsRecord{Layers: uint64(s.Layers), Split: s.Split, After: s.After, Order: s.Order, Better: s.Better}
	f := first{}
	for _, sip := range s.Sips {
		of := keep(&f, func() (string, error) { return word(sip.Of, bar.Layer.String) })
		record := sipRecord{Of: of, Mass: sip.Mass, TDS: sip.TDS, Words: newWordRecords(sip.Words), Unread: sip.Unread}
		for _, score := range sip.Scores {
			scale := keep(&f, func() (string, error) { return word(score.Of, bar.Scale.String) })
			record.Scores = append(record.Scores, scoreRecord{Of: scale, X: score.X})
		}
		r.Sips = append(r.Sips, record)
	}
	return r, f.err
}

func (r sipsRecord) sips() (bar.Sips, error) {
	s := bar.Sips{Layers: bar.EntryID(r.Layers), Split: r.Split, After: r.After, Order: r.Order, Better: r.Better}
	f := first{}
	for _, record := range r.Sips {
		of := keep(&f, func() (bar.Layer, error) { return choice(record.Of, bar.Layer.String) })
		sip := bar.Note{Of: of, Mass: record.Mass, TDS: record.TDS, Words: tasteWords(record.Words), Unread: slices.Clip(record.Unread)}
		for _, score := range record.Scores {
			scale := keep(&f, func() (bar.Scale, error) { return choice(score.Of, bar.Scale.String) })
			sip.Scores = append(sip.Scores, bar.Score{Of: scale, X: score.X})
		}
		sip.Scores = slices.Clip(sip.Scores)
		s.Sips = append(s.Sips, sip)
	}
	s.Sips = slices.Clip(s.Sips)
	return s, f.err
}

func methodWord(m bar.Method) string {
	switch m {
	case bar.Espresso:
		return "espresso"
	case bar.PourOver:
		return "pour_over"
	}
	return ""
}
