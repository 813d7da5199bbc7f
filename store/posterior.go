package store

import "shothand/advisor"

// A Posterior is what a grinder has taught up to an entry. It is derived: what
// it says follows from the entries, and it may be missing.
type Posterior struct {
	Upto  advisor.EntryID
	Model string // version of the model it belongs to
	Data  []byte // the model's own
}

// posteriorRecord is the on-disk form of a [Posterior]. Add fields; never
// rename them.
type posteriorRecord struct {
	Upto  uint64 `json:"upto"`
	Model string `json:"model"`
	Data  []byte `json:"data_base64,omitempty"`
}

// PutPosterior keeps p for a grinder.
func (tx *Tx) PutPosterior(bar advisor.BarID, grinder advisor.GrinderID, p Posterior) error {
	r := posteriorRecord{Upto: uint64(p.Upto), Model: p.Model, Data: p.Data}
	return tx.write(bar, bucketPosteriors, idKey(grinder), r)
}

// Posterior returns what is kept for a grinder, or false if nothing is.
func (tx *Tx) Posterior(bar advisor.BarID, grinder advisor.GrinderID) (Posterior, bool, error) {
	var r posteriorRecord
	found, err := tx.read(bar, bucketPosteriors, idKey(grinder), &r)
	return Posterior{Upto: advisor.EntryID(r.Upto), Model: r.Model, Data: r.Data}, found, err
}
