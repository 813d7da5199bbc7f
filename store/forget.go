package store

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"shothand/advisor/bar"
	"shothand/store/file"
)

// Forget takes the name and the account of a person out of a bar: their own
// words as typed go, and their name goes from what others typed. Their shots
// stay, as somebody's. It returns false if the bar does not know the account.
// Until the file is compacted, what is gone can still be read from the disk;
// if that is not done now, [Open] does it.
func (tx *Tx) Forget(here bar.ID, account string) (bool, error) {
	known, err := tx.value(here, bucketAccounts, textKey(account))
	if err != nil || known == nil {
		return false, err
	}
	id := readID[bar.PersonID](known)
	people, err := tx.People(here)
	if err != nil {
		return false, err
	}
	i := slices.IndexFunc(people, func(p bar.Person) bool { return p.ID == id })
	if i < 0 {
		return false, missing("person", id)
	}
	if err := tx.forgetEntries(here, people[i]); err != nil {
		return false, err
	}
	nobody := bar.Person{Account: fmt.Sprintf("forgotten %d", id)}
	return true, errors.Join(
		tx.drop(here, bucketAccounts, textKey(account)),
		tx.write(here, bucketPeople, idKey(id), nobody),
		tx.index(here, bucketAccounts, textKey(nobody.Account), idKey(id)),
		file.LeaveTraces(tx.tx),
	)
}

// forgetEntries rewrites the entries in which a person can be recognised.
func (tx *Tx) forgetEntries(here bar.ID, p bar.Person) error {
	b, err := tx.in(here, bucketEntries)
	if err != nil {
		return err
	}
	var changed []bar.Entry // not while the bucket is being read
	err = b.ForEach(func(key, value []byte) error {
		e, err := tx.entryOf(here, key, value, nil)
		if stripped, ok := strip(e, p); ok {
			changed = append(changed, stripped)
		}
		return err
	})
	if err != nil {
		return err
	}
	for _, e := range changed {
		if err := tx.PutEntry(here, e); err != nil {
			return err
		}
	}
	return nil
}

// asPosted reports whether e is a device's own entry: its text is no person's.
func asPosted(e bar.Entry) bool {
	s, ok := e.What.(bar.Shot)
	return ok && s.Device != 0 && s.Posted == 0
}

// strip returns e without what tells of p, and whether that is a change.
func strip(e bar.Entry, p bar.Person) (bar.Entry, bool) {
	before := e.Raw
	posted := asPosted(e)
	if e.Raw = without(e.Raw, p); e.Person == p.ID && !posted {
		e.Raw = ""
	}
	changed := e.Raw != before
	if posted && e.Person == p.ID { // nobody's again, as the device posted it
		e.Person, changed = 0, true
	}
	unread := func(words []string) []string {
		kept := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return without(w, p) != w })
		changed = changed || len(kept) != len(words)
		return kept
	}
	switch w := e.What.(type) {
	case bar.Shot:
		w.Unread = unread(w.Unread)
		e.What = w
	case bar.Words:
		w.Unread = unread(w.Unread)
		e.What = w
	case bar.Sips:
		w.Sips = slices.Clone(w.Sips)
		for i := range w.Sips {
			w.Sips[i].Unread = unread(w.Sips[i].Unread)
		}
		e.What = w
	case bar.Told, bar.Dialled, bar.Setting, bar.Held, bar.Layers: // hold ids alone
	}
	return e, changed
}

// without returns text with the name and the account of p, in whatever case,
// struck out.
func without(text string, p bar.Person) string {
	for _, name := range []string{p.Account, p.Name} {
		if name != "" {
			text = strike(text, name)
		}
	}
	return text
}

// strike puts a dash in place of a name that stands by itself in text.
func strike(text, name string) string {
	var b strings.Builder
	for from := 0; ; {
		at := indexFold(text[from:], name)
		if at < 0 {
			return b.String() + text[from:]
		}
		end := from + at + len(name)
		b.WriteString(text[from : from+at])
		if inWord(text[:from+at], text[end:]) {
			b.WriteString(text[from+at : end])
		} else {
			b.WriteString("–")
		}
		from = end
	}
}

// indexFold is strings.Index for names of the same length in whatever case.
func indexFold(text, name string) int {
	for i := range text {
		if len(text)-i >= len(name) && strings.EqualFold(text[i:i+len(name)], name) {
			return i
		}
	}
	return -1
}

// inWord reports whether what stands between two texts is part of a word.
func inWord(before, after string) bool {
	last := strings.TrimRightFunc(before, letter) != before
	first := strings.TrimLeftFunc(after, letter) != after
	return last || first
}

func letter(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
