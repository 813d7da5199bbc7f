package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// A Line is one record of a bar on its way to another file. Written as JSON,
// one a line, all lines of a bar hold everything about it.
type Line struct {
	Kind   string          `json:"kind"`             // "entry"
	ID     uint64          `json:"id,omitempty"`     // of what has a number
	Key    string          `json:"key,omitempty"`    // of what has a name
	Record json.RawMessage `json:"record,omitempty"` // as it is in the file
}

// kindBar is the kind of the first line of a bar.
const kindBar = "bar"

// A portable is a kind of record that is carried: where it lies, and how it is
// put into another file with its places in the indexes, which are not carried.
type portable struct {
	kind   string
	bucket string // whose keys are gone through
	line   func(tx *Tx, here bar.ID, key, value []byte) (Line, error)
	put    func(tx *Tx, here bar.ID, l Line) error
}

// portables lists the kinds in the order in which they can be put: what others
// point to goes first.
func portables() []portable {
	return []portable{
		{"grinder", bucketGrinders, byNumber, putLine(func(tx *Tx, here bar.ID, id bar.GrinderID, g bar.Grinder) error {
			g.ID = id
			return tx.PutGrinder(here, &g)
		})},
		{"coffee", bucketCoffees, byNumber, putLine(func(tx *Tx, here bar.ID, id bar.CoffeeID, r coffeeRecord) error {
			c := r.coffee(id)
			return tx.PutCoffee(here, &c)
		})},
		{"device", bucketDevices, byNumber, putLine(func(tx *Tx, here bar.ID, id bar.DeviceID, d bar.Device) error {
			d.ID = id
			return tx.PutDevice(here, &d)
		})},
		{"person", bucketPeople, byNumber, putLine((*Tx).putPerson)},
		{"entry", bucketInstants, (*Tx).entryLine, putLine((*Tx).putEntryRecord)},
		{"advice", bucketAdvice, byNumber, putLine(func(tx *Tx, here bar.ID, id bar.EntryID, r adviceRecord) error {
			s, err := r.said(id, nil)
			return errors.Join(err, tx.PutAdvice(here, s))
		})},
		{"reply", bucketReplies, byName, putNamed(func(tx *Tx, here bar.ID, cause string, record replyRecord) error {
			r, err := record.reply(cause, nil)
			return errors.Join(err, tx.PutReply(here, r))
		})},
		{"seen", bucketSeen, markLineOf, putNamed(func(tx *Tx, here bar.ID, key string, r markLine) error {
			in := seenMarks()
			if wasOnce(key) { // in an old export
				in = onceMarks()
			}
			return tx.putMark(here, in, key, instant(r.At))
		})},
		{"once", bucketOnce, markLineOf, putNamed(func(tx *Tx, here bar.ID, key string, r markLine) error {
			return tx.putMark(here, onceMarks(), key, instant(r.At))
		})},
		{"day", bucketDays, byName, putNamed((*Tx).putDay)},
	}
}

// byNumber is the line of a record whose key is a number.
func byNumber(_ *Tx, _ bar.ID, key, value []byte) (Line, error) {
	data, err := opened(key, value)
	return Line{ID: readID[uint64](key), Record: data}, err
}

// byName is the line of a record whose key is a name.
func byName(_ *Tx, _ bar.ID, key, value []byte) (Line, error) {
	data, err := opened(key, value)
	return Line{Key: string(key), Record: data}, err
}

// opened returns a copy of the JSON in value.
func opened(key, value []byte) (json.RawMessage, error) {
	data, ok := file.Unseal(key, value)
	if !ok {
		return nil, file.ErrDamaged
	}
	return bytes.Clone(data), nil
}

// entryLine is the line of an entry. They are gone through by id, not by time:
// a shot comes before what was said of it, whatever the clock did.
func (tx *Tx) entryLine(here bar.ID, id, at []byte) (Line, error) {
	key := slices.Concat(at, id)
	value, err := tx.value(here, bucketEntries, key)
	if err != nil {
		return Line{}, err
	}
	data, err := opened(key, value)
	return Line{ID: readID[uint64](id), Record: data}, err
}

func markLineOf(_ *Tx, _ bar.ID, key, at []byte) (Line, error) {
	data, err := json.Marshal(markLine{At: int64(readInstant(at))})
	return Line{Key: string(key), Record: data}, err
}

// putLine reads the record of a line that has a number for put.
func putLine[ID ~uint64, R any](put func(*Tx, bar.ID, ID, R) error) func(*Tx, bar.ID, Line) error {
	return func(tx *Tx, here bar.ID, l Line) error {
		var r R
		if err := json.Unmarshal(l.Record, &r); err != nil {
			return err
		}
		if l.ID == 0 {
			return errors.New("no id")
		}
		return put(tx, here, ID(l.ID), r)
	}
}

// putNamed reads the record of a line that has a name for put.
func putNamed[Key ~string, R any](put func(*Tx, bar.ID, Key, R) error) func(*Tx, bar.ID, Line) error {
	return func(tx *Tx, here bar.ID, l Line) error {
		var r R
		if err := json.Unmarshal(l.Record, &r); err != nil {
			return err
		}
		return put(tx, here, Key(l.Key), r)
	}
}

// markLine is the record of a message that made no entry, or of what was told
// once: nanoseconds since 1970.
type markLine struct {
	At int64 `json:"at_ns"`
}

func (tx *Tx) putPerson(here bar.ID, id bar.PersonID, p bar.Person) error {
	if known, err := tx.value(here, bucketAccounts, textKey(p.Account)); err != nil || known != nil {
		return errors.Join(err, fmt.Errorf("a second person with account %q", p.Account))
	}
	return errors.Join(
		putThing(tx, here, bucketPeople, &id, p),
		tx.index(here, bucketAccounts, textKey(p.Account), idKey(id)),
	)
}

// putEntryRecord adds an entry under the id it had.
func (tx *Tx) putEntryRecord(here bar.ID, id bar.EntryID, r entryRecord) error {
	e, err := r.entry(id, nil)
	if err != nil {
		return err
	}
	if known, err := tx.value(here, bucketInstants, idKey(id)); err != nil || known != nil {
		return errors.Join(err, fmt.Errorf("a second entry %d", id))
	}
	b, err := tx.in(here, bucketEntries)
	if err != nil {
		return err
	}
	known := e
	if shot, is := e.What.(bar.Shot); is { // what was posted later comes later: End looks for it
		shot.Posted = 0
		known.What = shot
	}
	if err := tx.checkEntry(here, known); err != nil {
		return err
	}
	return errors.Join(assign(b, &id), tx.addEntry(here, e))
}

// Export calls each with all lines of a bar, the bar itself first.
func (tx *Tx) Export(here bar.ID, each func(Line) error) error {
	b := tx.bars().Bucket(idKey(here))
	if b == nil {
		return missing("bar", here)
	}
	record, ok := file.Unseal([]byte(keyBar), b.Get([]byte(keyBar)))
	if !ok {
		return fmt.Errorf("bar %d: %w", here, file.ErrDamaged)
	}
	if err := each(Line{Kind: kindBar, Record: record}); err != nil {
		return err
	}
	for _, p := range portables() {
		bucket, err := tx.in(here, p.bucket)
		if err != nil {
			return err
		}
		err = bucket.ForEach(func(key, value []byte) error {
			l, err := p.line(tx, here, key, value)
			if err != nil {
				return fmt.Errorf("bar %d: %s %x: %w", here, p.bucket, key, err)
			}
			l.Kind = p.kind
			return each(l)
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// ErrTwice is a bar that the file has already.
var ErrTwice = errors.New("there already")

// Import adds the bar that lines hold, as [Tx.Export] gave them, and returns
// its id. If channel is not empty, the bar becomes that of another channel.
func (tx *Tx) Import(channel string, lines []Line) (bar.ID, error) {
	if len(lines) == 0 {
		return 0, errors.New("no line")
	}
	c, err := tx.BeginImport(channel, lines[0])
	if err != nil {
		return 0, fmt.Errorf("line 1: %w", err)
	}
	for n, l := range lines[1:] {
		if err := c.Put(l); err != nil {
			return 0, fmt.Errorf("line %d: %w", n+2, err)
		}
	}
	return c.End()
}

// A Carried is a bar that comes line by line.
type Carried struct {
	tx  *Tx
	bar bar.ID
	by  map[string]portable
}

// BeginImport adds the bar of which l is the first line; see [Tx.Import].
func (tx *Tx) BeginImport(channel string, l Line) (*Carried, error) {
	if !l.Begins() {
		return nil, errors.New("not a bar")
	}
	var r barRecord
	if err := json.Unmarshal(l.Record, &r); err != nil {
		return nil, err
	}
	if channel == "" {
		channel = r.Channel
	}
	if _, known := tx.BarOf(channel); known {
		return nil, fmt.Errorf("the bar of channel %q is %w", channel, ErrTwice)
	}
	here, err := tx.AddBar(channel, r.Bar)
	if err != nil {
		return nil, err
	}
	c := &Carried{tx, here.ID, map[string]portable{}}
	for _, p := range portables() {
		c.by[p.kind] = p
	}
	return c, nil
}

// GoOn goes on in another update, in which the next lines are put.
func (c *Carried) GoOn(tx *Tx) { c.tx = tx }

// Begins reports whether a bar begins with the line.
func (l Line) Begins() bool { return l.Kind == kindBar }

// Put adds what a line holds.
func (c *Carried) Put(l Line) error {
	p, known := c.by[l.Kind]
	if !known {
		return fmt.Errorf("unknown kind %q", l.Kind)
	}
	if err := p.put(c.tx, c.bar, l); err != nil {
		return fmt.Errorf("%s: %w", l.Kind, err)
	}
	return nil
}

// End checks the bar, now that all of it is there. In an old export entries do not
// name what they came with.
func (c *Carried) End() (bar.ID, error) {
	return c.bar, errors.Join(nameCompanions(c.tx.bar(c.bar)), c.tx.checkBar(c.bar))
}
