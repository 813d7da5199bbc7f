package store

import (
	"shothand/advisor/bar"
)

// deviceRecord is the on-disk form of a [bar.Device].
type deviceRecord struct {
	ID      bar.DeviceID   `json:"-"`
	Name    string         `json:"name"`
	Hook    string         `json:"hook,omitempty"`
	Secret  string         `json:"secret_sha256,omitempty"`
	Clock   bar.ClockStart `json:"clock,omitzero"` // left out: as the bar's
	Lag     bar.Seconds    `json:"lag_s,omitempty"`
	Settles bar.Seconds    `json:"yield_settles_s,omitempty"`
	NoDose  bool           `json:"dose_is_the_recipes,omitempty"`
	Retired bool           `json:"retired,omitempty"`
}

func newDeviceRecord(d bar.Device) deviceRecord { return deviceRecord(d) }

func (r deviceRecord) device(id bar.DeviceID) bar.Device {
	r.ID = id
	return bar.Device(r)
}

// Devices returns the devices of a bar, retired ones too, in the order they
// were added.
func (tx *Tx) Devices(here bar.ID) ([]bar.Device, error) {
	return things(tx, here, bucketDevices, deviceRecord.device)
}

// PutDevice adds d, or replaces the device with its id. It sets the id as
// [Tx.PutCoffee] does.
func (tx *Tx) PutDevice(here bar.ID, d *bar.Device) error {
	return putThing(tx, here, bucketDevices, &d.ID, newDeviceRecord(*d))
}
