package store

import (
	"slices"

	"shothand/advisor/bar"
)

// shotRecord is the on-disk form of an [bar.Shot]. Add fields; never
// rename them.
type shotRecord struct {
	Coffee    uint64       `json:"coffee"`
	Grinder   uint64       `json:"grinder,omitempty"`
	Grind     valueRecord  `json:"grind_dial,omitzero"`
	Turned    float64      `json:"turned_steps,omitempty"`
	Dose      valueRecord  `json:"dose_g,omitzero"`
	Yield     valueRecord  `json:"yield_g,omitzero"`
	Time      valueRecord  `json:"time_s,omitzero"`
	Marks     []string     `json:"marks,omitempty"`
	TDS       float64      `json:"tds_percent,omitempty"`
	Water     float64      `json:"water_c,omitempty"`
	FirstDrip float64      `json:"first_drip_s,omitempty"`
	Words     []wordRecord `json:"words,omitempty"`
	Unread    []string     `json:"unread,omitempty"`

	Device uint64  `json:"device,omitempty"`
	Posted uint64  `json:"posted_as,omitempty"`
	TimeSD float64 `json:"time_sd_s,omitempty"`
}

func newShotRecord(s bar.Shot) (*shotRecord, error) {
	r := &shotRecord{
		Coffee: uint64(s.Coffee), Grinder: uint64(s.Grinder), Turned: s.Turned,
		TDS: float64(s.TDS), Water: float64(s.Water), FirstDrip: float64(s.FirstDrip),
		Words: newWordRecords(s.Words), Unread: s.Unread,
		Device: uint64(s.Device), Posted: uint64(s.Posted), TimeSD: float64(s.TimeSD),
	}
	f := first{}
	r.Grind = record(&f, s.Grind)
	r.Dose = record(&f, s.Dose)
	r.Yield = record(&f, s.Yield)
	r.Time = record(&f, s.Time)
	r.Marks = keep(&f, func() ([]string, error) { return MarkWords(s.Marks) })
	return r, f.err
}

func (r shotRecord) shot() (bar.Shot, error) {
	f := first{}
	s := bar.Shot{
		Coffee: bar.CoffeeID(r.Coffee), Grinder: bar.GrinderID(r.Grinder), Turned: r.Turned,
		Grind: value[bar.Dial](&f, r.Grind),
		Dose:  value[bar.Grams](&f, r.Dose),
		Yield: value[bar.Grams](&f, r.Yield),
		Time:  value[bar.Seconds](&f, r.Time),
		Marks: keep(&f, func() (bar.Marks, error) { return MarksOf(r.Marks) }),
		TDS:   bar.Percent(r.TDS), Water: bar.Celsius(r.Water), FirstDrip: bar.Seconds(r.FirstDrip),
		Words: tasteWords(r.Words), Unread: slices.Clip(r.Unread), // shared, see cache
		Device: bar.DeviceID(r.Device), Posted: bar.EntryID(r.Posted), TimeSD: bar.Seconds(r.TimeSD),
	}
	return s, f.err
}

// A valueRecord is the on-disk form of an [bar.Value], in the unit that
// its field names.
type valueRecord struct {
	X     float64 `json:"x"`
	From  string  `json:"from"`
	Rough bool    `json:"rough,omitempty"`
}

// record returns the record of v. The zero value has the zero record, which is
// left out of the JSON.
func record[T ~float64](f *first, v bar.Value[T]) valueRecord {
	if v == (bar.Value[T]{}) {
		return valueRecord{}
	}
	from := keep(f, func() (string, error) { return word(v.From, ProvenanceWord) })
	return valueRecord{X: float64(v.X), From: from, Rough: v.Rough}
}

// value returns the value of r.
func value[T ~float64](f *first, r valueRecord) bar.Value[T] {
	if r == (valueRecord{}) {
		return bar.Value[T]{}
	}
	from := keep(f, func() (bar.Provenance, error) { return choice(r.From, ProvenanceWord) })
	return bar.Value[T]{X: T(r.X), From: from, Rough: r.Rough}
}

// A first keeps the first error of several steps.
type first struct{ err error }

// keep returns what step returns and keeps its error.
func keep[T any](f *first, step func() (T, error)) T {
	v, err := step()
	if f.err == nil {
		f.err = err
	}
	return v
}

// wordRecord is the on-disk form of a [bar.Word]. Add fields; never rename
// them.
type wordRecord struct {
	Term   string  `json:"term"`
	Degree float64 `json:"degree"`
	Not    bool    `json:"not,omitempty"`
	Than   bool    `json:"than,omitempty"`
}

func newWordRecords(words []bar.Word) []wordRecord {
	var records []wordRecord
	for _, w := range words {
		records = append(records, wordRecord{Term: w.Term, Degree: w.Degree, Not: w.Not, Than: w.Than})
	}
	return records
}

func tasteWords(records []wordRecord) []bar.Word {
	var words []bar.Word
	for _, r := range records {
		words = append(words, bar.Word{Term: r.Term, Degree: r.Degree, Not: r.Not, Than: r.Than})
	}
	return slices.Clip(words)
}
