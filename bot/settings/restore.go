package settings

import (
	"cmp"
	"errors"
	"reflect"
	"slices"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/recent"
	"shothand/bot/resolve"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// unmove notes of the pair that moved a recipe that it was put back.
func unmove(t *turn.Turn, tx *store.Tx, old bar.Setting) error {
	entries, err := tx.LayersOf(t.Bar.ID, old.Coffee.ID)
	for _, e := range entries {
		l, ok := e.What.(bar.Layers)
		if !ok || !l.Pair.Moved || l.Pair.Old != old.Coffee.Recipe.Yield || l.Pair.New != old.ToCoffee.Recipe.Yield {
			continue
		}
		l.Pair.Moved = false
		e.What = l
		if err := tx.PutEntry(t.Bar.ID, e); err != nil {
			return err
		}
	}
	return err
}

// Restore undoes a setting, and nothing that was changed since.
func Restore(t *turn.Turn, r *recent.Book, e bar.Entry, old bar.Setting) ([]turn.Out, error) {
	now, bars := *r, t.Bar
	err := t.Update(func(tx *store.Tx) (err error) {
		if err := oldNumbers(t, tx, r, e, old.Grinder.ID); err != nil {
			return err
		}
		if err := errors.Join(putBack(t, tx, r, old), unmove(t, tx, old)); err != nil {
			return err
		}
		if err := tx.MarkSeen(t.Bar.ID, t.Msg.ID, t.Now); err != nil {
			return err
		}
		if err := tx.PutEntry(t.Bar.ID, e); err != nil {
			return err
		}
		if bars, err = tx.Bar(t.Bar.ID); err != nil {
			return err
		}
		if now.Coffees, err = tx.Coffees(t.Bar.ID); err != nil {
			return err
		}
		if now.Grinders, err = tx.Grinders(t.Bar.ID); err != nil {
			return err
		}
		return t.Remember(tx, t.Post(chat.Recorded, ""))
	})
	if err != nil {
		return nil, err
	}
	text := putBackText(t, r, &now, bars, old)
	if old.Device.ID != 0 && old.Added {
		text = setup.In(t.Lang()).DeviceGone(old.Device.Name)
	}
	return t.Says(chat.Recorded, text), nil
}

// putBackText says what a setting was and is, after it was put back. It speaks as the
// bar does then.
func putBackText(t *turn.Turn, was, now *recent.Book, bars bar.Bar, old bar.Setting) string {
	l := setup.In(say.In(bars.Language))
	switch {
	case old.Coffee.ID != 0:
		a, _ := was.Coffee(old.Coffee.ID)
		b, _ := now.Coffee(old.Coffee.ID)
		return l.PutBack(a.Name, l.CoffeeFacts(a, grinderName(was, a)), l.CoffeeFacts(b, grinderName(now, b)))
	case old.Grinder.ID != 0:
		a, _ := was.Grinder(old.Grinder.ID)
		b, _ := now.Grinder(old.Grinder.ID)
		return l.PutBack(a.Name, l.GrinderFacts(a), l.GrinderFacts(b))
	}
	return l.PutBack(t.Bar.Name, l.BarFacts(t.Bar), l.BarFacts(bars))
}

// Of names what a setting is of.
func Of(t *turn.Turn, w bar.Setting) string {
	return cmp.Or(w.Coffee.Name, w.Grinder.Name, w.Device.Name, t.Bar.Name)
}

func grinderName(r *recent.Book, c bar.Coffee) string {
	g, _ := r.Grinder(c.Grinder)
	return g.Name
}

// oldNumbers takes back that a setting began new numbers on a grinder. If they
// have been used, the old ones begin anew.
func oldNumbers(t *turn.Turn, tx *store.Tx, r *recent.Book, setting bar.Entry, g bar.GrinderID) error {
	begun, ok := r.Begun(g, setting)
	if !ok {
		return nil
	}
	since := func(e bar.Entry, s bar.Shot) bool { return s.Grinder == g && recent.Earlier(setting, e) }
	if len(r.Shots(since)) > 0 {
		return resolve.NewNumbers(t, tx, g, bar.Entry{At: t.Now})
	}
	begun.Deleted = true
	return tx.PutEntry(t.Bar.ID, begun)
}

// putBack writes what a setting changed as it was before. What had been added is
// retired, since shots may point to it.
func putBack(t *turn.Turn, tx *store.Tx, r *recent.Book, old bar.Setting) error {
	if c := old.Coffee; c.ID != 0 {
		now, _ := r.Coffee(c.ID)
		back := without(now, c, old.ToCoffee)
		back.Retired = back.Retired || old.Added
		if err := tx.PutCoffee(t.Bar.ID, &back); err != nil {
			return err
		}
	}
	if g := old.Grinder; g.ID != 0 {
		now, _ := r.Grinder(g.ID)
		back := without(now, g, old.ToGrinder)
		back.Retired = back.Retired || old.Added
		if err := tx.PutGrinder(t.Bar.ID, &back); err != nil {
			return err
		}
	}
	if d := old.Device; d.ID != 0 {
		if err := putDeviceBack(t, tx, old); err != nil {
			return err
		}
	}
	if old.Bar.ID == 0 {
		return nil
	}
	back := without(t.Bar, old.Bar, old.ToBar)
	if old.ToBar.ID != 0 {
		back.Words = t.Bar.Words.Restore(old.Bar.Words, old.ToBar.Words)
	}
	return tx.PutBar(back)
}

// putDeviceBack writes a device as it was before. Its secret is as it is now:
// what was taken back stays so, and one that had been added has none.
func putDeviceBack(t *turn.Turn, tx *store.Tx, old bar.Setting) error {
	all, err := tx.Devices(t.Bar.ID)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(all, func(d bar.Device) bool { return d.ID == old.Device.ID })
	if at < 0 {
		return nil
	}
	back := without(all[at], old.Device, old.ToDevice)
	if back.Retired = back.Retired || old.Added; back.Retired {
		back.Secret = ""
	}
	return tx.PutDevice(t.Bar.ID, &back)
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
