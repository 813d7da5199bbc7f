package store

import (
	"shothand/advisor/bar"
)

func personAs(p bar.Person, id bar.PersonID) bar.Person { p.ID = id; return p }

// People returns the people of a bar, in the order they came.
func (tx *Tx) People(here bar.ID) ([]bar.Person, error) {
	return things(tx, here, bucketPeople, personAs)
}

// PersonOf returns the person with that account in a bar, and adds them if
// they are new. A name that is not empty replaces the one known.
func (tx *Tx) PersonOf(here bar.ID, account, name string) (bar.Person, error) {
	known, err := tx.value(here, bucketAccounts, textKey(account))
	if err != nil {
		return bar.Person{}, err
	}
	p := bar.Person{Account: text(account)}
	if known != nil {
		if _, err := tx.read(here, bucketPeople, known, &p); err != nil {
			return bar.Person{}, err
		}
		p.ID = readID[bar.PersonID](known)
		if name = text(name); name == "" || name == p.Name {
			return p, nil
		}
	}
	p.Name = text(name)
	if err := putThing(tx, here, bucketPeople, &p.ID, p); err != nil {
		return bar.Person{}, err
	}
	return p, tx.index(here, bucketAccounts, textKey(account), idKey(p.ID))
}

// PutPerson replaces what is known of a person.
func (tx *Tx) PutPerson(here bar.ID, p bar.Person) error {
	return putThing(tx, here, bucketPeople, &p.ID, p)
}
