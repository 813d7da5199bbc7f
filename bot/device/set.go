package device

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/say/setup"
	"shothand/bot/turn"
	"shothand/store"
)

// secretBytes is how long a device's secret is: nobody guesses it.
const secretBytes = 32

// SetupDevice allows a device to post, or changes what is known of it.
func SetupDevice(t *turn.Turn, c chat.Command) ([]turn.Out, error) {
	all, err := t.Devices()
	if err != nil {
		return nil, err
	}
	d, err := newDevice(t.WriterLang(), strings.TrimSpace(turn.Option(c, "device", "")))
	if err != nil {
		return nil, err
	}
	old, known := findDevice(all, cmp.Or(d.Hook, d.Name))
	if known {
		d = old
	} else if err := meantAnother(t, d, all, c); err != nil {
		return nil, err
	}
	if err := setDevice(t.WriterLang(), &d, all, c); err != nil {
		return nil, err
	}
	fresh := !known || old.Retired && !d.Retired
	secret := turn.Option(c, "secret", "") == "new" || fresh && turn.Option(c, "secret", "") == ""
	if secret && !t.Msg.Alone {
		if !fresh {
			return nil, turn.Mistake(setup.In(t.WriterLang()).SecretAlone(d.Name))
		}
		secret = false
	}
	switch {
	case known && len(c.Options) == 1 && !fresh:
		return t.Private(setup.In(t.WriterLang()).Device("", d, t.Bar))
	case d == old && !secret && known:
		return nil, turn.Mistake(t.WriterLang().NothingChanged(setup.In(t.WriterLang()).Device("", d, t.Bar)))
	}
	shown, err := putDevice(t, old, d, known, secret)
	if err != nil {
		return nil, err
	}
	how := setup.In(t.WriterLang()).DeviceAdded(all)
	if known {
		how = t.WriterLang().Say(say.Changed)
	}
	return t.Private(setup.In(t.WriterLang()).Device(how, d, t.Bar) + "\n" + setup.In(t.WriterLang()).DeviceNext(d, shown, fresh, t.Msg.Alone))
}

// meantAnother returns why a device that nobody has allowed yet is not taken for
// a new one: what was said of it is only said of one that there is, or its name
// is nearly that of one. allow:yes adds it all the same.
func meantAnother(t *turn.Turn, d bar.Device, all []bar.Device, c chat.Command) error {
	names := setup.DeviceNames(all)
	said := func(name string) bool {
		return slices.ContainsFunc(c.Options, func(o chat.Option) bool { return o.Name == name })
	}
	yes, err := parse.YesNo(turn.Option(c, "allow", "yes"))
	if err != nil {
		return err
	}
	ends := !yes || said("name") || said("secret")
	slip := len(c.Options) > 1 && !said("allow") && say.Nearest(d.Name, names) != "" && d.Hook == ""
	if !ends && !slip {
		return nil
	}
	return turn.MisnamedOf(setup.In(t.WriterLang()).NoSuchDevice(d.Name, names, ends), d.Name, names)
}

// newDevice returns the device that a name, or the id of a webhook, means.
func newDevice(l say.Lang, said string) (d bar.Device, err error) {
	if hookID(said) {
		return bar.Device{Name: "device " + said[len(said)-4:], Hook: said}, nil
	}
	d.Name, err = l.NewName(said, nil)
	return d, err
}

// hookID reports whether what was said is an id and no name.
func hookID(said string) bool {
	return len(said) >= 15 && strings.Trim(said, "0123456789") == ""
}

// findDevice returns the device of a name or an id; one in use goes first.
func findDevice(all []bar.Device, said string) (bar.Device, bool) {
	is := func(d bar.Device) bool {
		return strings.EqualFold(d.Name, said) || said != "" && d.Hook == said
	}
	if i := slices.IndexFunc(all, func(d bar.Device) bool { return is(d) && !d.Retired }); i >= 0 {
		return all[i], true
	}
	if i := slices.IndexFunc(all, is); i >= 0 {
		return all[i], true
	}
	return bar.Device{}, false
}

// setDevice takes over what the options say of a device.
func setDevice(l say.Lang, d *bar.Device, all []bar.Device, c chat.Command) error {
	return turn.Each(c, func(name, value string) (err error) {
		var x float64
		switch name {
		case "device":
		case "name":
			if d.Name, err = l.NewName(value, nil); err == nil {
				if other, taken := findDevice(all, d.Name); taken && other.ID != d.ID {
					err = turn.Mistake(setup.In(l).DeviceTaken(other.Name))
				}
			}
		case "clock":
			d.Clock, err = clockStart(value)
		case "lag":
			x, err = parse.Lag(value)
			d.Lag = bar.Seconds(x)
		case "yield":
			x, err = parse.Settles(value)
			d.Settles = bar.Seconds(x)
		case "dose":
			d.NoDose, err = recipeDose(value)
		case "secret":
			switch value {
			case "none":
				d.Secret = ""
			case "new":
			default:
				err = parse.Mistake{Kind: parse.BadOption, What: "secret:" + value, Would: "new or none"}
			}
		case "allow":
			var yes bool
			yes, err = parse.YesNo(value)
			if d.Retired = !yes; !yes {
				d.Secret = ""
			}
		default:
			err = turn.Mistake(setup.In(l).NotOfDevice(name))
		}
		return err
	})
}

func clockStart(value string) (bar.ClockStart, error) {
	if strings.EqualFold(strings.TrimSpace(value), "bar") {
		return bar.BarsStart, nil
	}
	drip, err := parse.Clock(value)
	if drip {
		return bar.DripStart, err
	}
	return bar.PumpStart, err
}

func recipeDose(value string) (bool, error) {
	switch strings.ToLower(strings.TrimSpace(value)) {
	case "recipe":
		return true, nil
	case "posted":
		return false, nil
	}
	return false, parse.Mistake{Kind: parse.BadOption, What: "dose:" + value, Would: "recipe or posted"}
}

// putDevice writes a device in place of old, with a new secret if it is to have
// one, which it returns. The entry by which it is undone knows no secrets.
func putDevice(t *turn.Turn, old, d bar.Device, known, secret bool) (shown string, err error) {
	text := make([]byte, secretBytes)
	if _, err := rand.Read(text); err != nil {
		return "", err
	}
	err = t.Change(func(tx *store.Tx) (bar.Setting, error) {
		now := d
		if err := tx.PutDevice(t.Bar.ID, &now); err != nil {
			return bar.Setting{}, err
		}
		if secret { // it names the device, which has its number only now
			shown = fmt.Sprintf("%d.%d.%s", t.Bar.ID, now.ID, hex.EncodeToString(text)) // digits and letters, which no chat takes for marks
			now.Secret = Hashed(shown)
			if err := tx.PutDevice(t.Bar.ID, &now); err != nil {
				return bar.Setting{}, err
			}
		}
		was, is := old, now
		if !known {
			was = now
		}
		was.Secret, is.Secret = "", ""
		return bar.Setting{Device: was, ToDevice: is, Added: !known}, nil
	})
	return shown, err
}

// Hashed returns what is kept of a secret.
func Hashed(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}
