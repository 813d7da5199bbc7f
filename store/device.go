package store

import (
	"shothand/advisor/bar"
)

// deviceRecord is the on-disk form of a [bar.Device]. Add fields; never rename
// them.
type deviceRecord struct {
	Name    string  `json:"name"`
	Hook    string  `json:"hook,omitempty"`
	Secret  string  `json:"secret_sha256,omitempty"`
	Clock   string  `json:"clock,omitempty"` // left out: as the bar's
	Lag     float64 `json:"lag_s,omitempty"`
	Settles float64 `json:"yield_settles_s,omitempty"`
	NoDose  bool    `json:"dose_is_the_recipes,omitempty"`
	Gone    bool    `json:"retired,omitempty"`
}

func newDeviceRecord(d bar.Device) (deviceRecord, error) {
	f := first{}
	r := deviceRecord{
		Name: text(d.Name), Hook: text(d.Hook), Secret: text(d.Secret),
		Lag: float64(d.Lag), Settles: float64(d.Settles), NoDose: d.NoDose, Gone: d.Retired,
	}
	r.Clock = named(&f, d.Clock, clockStartWord)
	return r, f.err
}

func (r deviceRecord) device(id bar.DeviceID) (bar.Device, error) {
	f := first{}
	d := bar.Device{
		ID: id, Name: r.Name, Hook: r.Hook, Secret: r.Secret,
		Lag: bar.Seconds(r.Lag), Settles: bar.Seconds(r.Settles), NoDose: r.NoDose, Retired: r.Gone,
	}
	d.Clock = known(&f, r.Clock, clockStartWord)
	return d, f.err
}

func clockStartWord(c bar.ClockStart) string {
	switch c {
	case bar.BarsStart:
		return "bar"
	case bar.PumpStart:
		return "pump"
	case bar.DripStart:
		return "drip"
	}
	return ""
}

// Devices returns the devices of a bar, retired ones too, in the order they
// were added.
func (tx *Tx) Devices(bar bar.ID) ([]bar.Device, error) {
	return things(tx, bar, bucketDevices, deviceRecord.device)
}

// PutDevice adds d, or replaces the device with its id. It sets the id as
// [Tx.PutCoffee] does.
func (tx *Tx) PutDevice(bar bar.ID, d *bar.Device) error {
	r, err := newDeviceRecord(*d)
	if err != nil {
		return err
	}
	return putThing(tx, bar, bucketDevices, &d.ID, r)
}
