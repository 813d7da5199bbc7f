package bot

import (
	"errors"
	"reflect"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/store"
)

// restore undoes a setting, and nothing that was changed since.
func (t *turn) restore(r *room, e bar.Entry, old bar.Setting) ([]Out, error) {
	err := t.update(func(tx *store.Tx) error {
		if err := t.oldNumbers(tx, r, e, old.Grinder.ID); err != nil {
			return err
		}
		if err := errors.Join(t.putBack(tx, r, old), t.unmove(tx, old)); err != nil {
			return err
		}
		if err := tx.MarkSeen(t.bar.ID, t.m.ID, t.now); err != nil {
			return err
		}
		return tx.PutEntry(t.bar.ID, e)
	})
	text := t.in().TakenOut(e)
	if old.Device.ID != 0 && old.Added {
		text = t.in().DeviceGone(old.Device.Name)
	}
	return t.say(chat.Recorded, text), err
}

// oldNumbers takes back that a setting began new numbers on a grinder. If they
// have been used, the old ones begin anew.
func (t *turn) oldNumbers(tx *store.Tx, r *room, setting bar.Entry, g bar.GrinderID) error {
	begun, ok := r.begun(g, setting)
	if !ok {
		return nil
	}
	since := func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g && earlier(setting, e) }
	if len(r.shots(since)) > 0 {
		return t.newNumbers(tx, g, bar.Entry{At: t.now})
	}
	begun.Deleted = true
	return tx.PutEntry(t.bar.ID, begun)
}

// putBack writes what a setting changed as it was before. What had been added is
// retired, since shots may point to it.
func (t *turn) putBack(tx *store.Tx, r *room, old bar.Setting) error {
	if c := old.Coffee; c.ID != 0 {
		now, _ := r.coffee(c.ID)
		back := without(now, c, old.ToCoffee)
		back.Retired = back.Retired || old.Added
		if err := tx.PutCoffee(t.bar.ID, &back); err != nil {
			return err
		}
	}
	if g := old.Grinder; g.ID != 0 {
		now, _ := r.grinder(g.ID)
		back := without(now, g, old.ToGrinder)
		back.Retired = back.Retired || old.Added
		if err := tx.PutGrinder(t.bar.ID, &back); err != nil {
			return err
		}
	}
	if d := old.Device; d.ID != 0 {
		if err := t.putDeviceBack(tx, old); err != nil {
			return err
		}
	}
	if old.Bar.ID == 0 {
		return nil
	}
	back := without(t.bar, old.Bar, old.ToBar)
	if old.ToBar.ID != 0 {
		back.Words = t.bar.Words.Restore(old.Bar.Words, old.ToBar.Words)
	}
	return tx.PutBar(back)
}

// putDeviceBack writes a device as it was before. Its secret is as it is now:
// what was taken back stays so, and one that had been added has none.
func (t *turn) putDeviceBack(tx *store.Tx, old bar.Setting) error {
	all, err := tx.Devices(t.bar.ID)
	if err != nil {
		return err
	}
	for _, now := range all {
		if now.ID != old.Device.ID {
			continue
		}
		back := without(now, old.Device, old.ToDevice)
		if back.Retired = back.Retired || old.Added; back.Retired {
			back.Secret = ""
		}
		return tx.PutDevice(t.bar.ID, &back)
	}
	return nil
}

// without returns now without the change from before to after: field by field,
// and none that was changed again. An old record does not know what came after;
// then all is as before.
func without[T any](now, before, after T) T {
	if reflect.ValueOf(after).IsZero() {
		return before
	}
	takeBack(reflect.ValueOf(&now).Elem(), reflect.ValueOf(before), reflect.ValueOf(after))
	return now
}

func takeBack(now, before, after reflect.Value) {
	if now.Kind() == reflect.Struct {
		for i := range now.NumField() {
			takeBack(now.Field(i), before.Field(i), after.Field(i))
		}
		return
	}
	if now.Kind() != reflect.Map && !before.Equal(after) && now.Equal(after) { // words are taken back one by one
		now.Set(before)
	}
}
