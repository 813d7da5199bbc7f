package setup

import (
	"strings"
	"time"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// Sentences about what devices post.
const (
	deviceCaution say.English = "Before you fix anything to a machine: its maker's manual first, and keep mains and water apart. Nothing here opens, starts or stops a machine."
	StillHeld     say.English = "That shot is kept until somebody says what it is."
	NoShotPosted  say.English = "I read no shot in that. Nothing was recorded."
)

// Device tells of a device.
func (l Lang) Device(how string, d bar.Device, b bar.Bar) string {
	text := d.Name + l.Colon()
	if how != "" {
		text = how + ". " + text
	}
	if d.Retired {
		return text + l.Say("nothing of it is read any more; its shots stay.")
	}
	parts := []string{l.clockStart(d, b)}
	if d.Lag > 0 {
		parts = append(parts, l.Say("%s s are added for its late start", l.Number(float64(d.Lag))))
	}
	if d.Settles > 0 {
		parts = append(parts, l.Say("its yield is taken to be %s s behind the cup", l.Number(float64(d.Settles))))
	}
	if d.NoDose {
		parts = append(parts, l.Say("the dose is the recipe's"))
	}
	if d.Secret != "" {
		parts = append(parts, l.Say("it has a secret"))
	}
	return text + strings.Join(parts, l.Semicolon()) + "."
}

func (l Lang) clockStart(d bar.Device, b bar.Bar) string {
	if d.Clock == bar.DripStart || d.Clock == bar.BarsStart && b.FromDrip {
		return l.Say("its clock begins with the first drip")
	}
	return l.Say("its clock begins with the pump")
}

// DeviceNext says what comes after /setup device:…, with the secret if there
// is a new one.
func (l Lang) DeviceNext(d bar.Device, secret string, fresh, alone bool) string {
	if d.Retired {
		return l.Say("Let it post again with /setup device:%s allow:yes.", say.Quoted(d.Name))
	}
	var lines []string
	if secret != "" {
		lines = append(lines, l.Say("Its secret, shown this once: %s", secret),
			l.Say("It posts to the address that the program was started with by --listen, with “Authorization: Bearer” and the secret."))
	}
	if fresh {
		by := l.Say("Or it posts here by a webhook of this channel called %s.", d.Name)
		if d.Hook != "" {
			by = l.Say("Or it posts here by the webhook %s.", d.Hook)
		}
		lines = append(lines, by)
		if !alone {
			lines = append(lines, l.SecretAlone(d.Name))
		}
	}
	return strings.Join(append(lines, l.Say(deviceCaution)), "\n")
}

// SecretAlone says how to get a secret that nobody else reads.
func (l Lang) SecretAlone(name string) string {
	return l.Say("A secret is shown to you alone: pick /setup from the list that opens when you type a slash, with device:%s secret:new.", say.Quoted(name))
}

// DeviceTaken refuses a name that another device has.
func (l Lang) DeviceTaken(name string) string {
	return l.Say("There is a device called %s already; nothing was changed.", name)
}

// NotOfDevice refuses an option of /setup beside device.
func (l Lang) NotOfDevice(option string) string {
	return l.Say("%s: is about the bar and not about a device. Send the two one by one; nothing was changed.", option)
}

// Devices lists the devices that may post.
func (l Lang) Devices(all []bar.Device) string {
	names := DeviceNames(all)
	if len(names) == 0 {
		return ""
	}
	return "\n" + l.Say("Devices that may post: %s.", l.List(names))
}

// Posted stands above a shot that a device posted.
func (l Lang) Posted(d bar.Device) string {
	return l.Say("From %s, nobody's yet. Tap how it tastes, or say mine.", d.Name)
}

// NowMine says that a shot is somebody's now.
func (l Lang) NowMine(who string) string { return l.Say("Noted: %s's.", who) }

// HandedBack says that a shot is nobody's again.
func (l Lang) HandedBack(d bar.Device) string {
	return l.Say("Taken back. What %s posted stands, as nobody's.", d.Name)
}

// SameShot says that a device saw what a person told.
func (l Lang) SameShot(d bar.Device) string {
	return l.Say("The same shot as %s posted: one, not two.", d.Name)
}

// WhichPosted asks which of the devices' shots a person told.
func (l Lang) WhichPosted() string {
	return l.Say("Two shots were posted with these numbers. Which is it? I kept what you wrote.")
}

// PostedLabel names a device's shot on a button.
func (l Lang) PostedLabel(d bar.Device, e bar.Entry, s bar.Shot) string {
	return l.Say("%s, %s s", d.Name+" "+e.At.Format("15:04:05"), l.Timed(s.Time.X))
}

// AnotherLabel is the button for a shot that no device has posted.
const AnotherLabel say.English = "another shot"

// PostedAt refuses a time that cannot be, or is too long ago.
func (l Lang) PostedAt(at, now time.Time) string {
	if at.After(now) {
		return l.Say("That shot is said to end at %s, which is still to come: it is %s here. Set the device's clock, or leave at out. Nothing was recorded.", at.Format(time.RFC3339), now.Format(time.RFC3339))
	}
	return l.Say("That shot ended at %s, more than two days ago; I take those of the last two days. Nothing was recorded.", at.Format(time.RFC3339))
}

// Why a post from outside the chat was not taken, for whoever sets a device up.
const (
	NoSuchSecret   say.English = "No device has this secret. A lead gets one with /setup device:NAME secret:new and sends it as “Authorization: Bearer SECRET”."
	TooManySecrets say.English = "Too many wrong secrets. Wait a moment."
	TooManyPosts   say.English = "Too many posts of this device. Wait as long as Retry-After says and send the same again, with its key."
	PostTooLong    say.English = "A shot takes at most 4,096 bytes. Nothing was recorded."
	PostNoJSON     say.English = "That is no JSON. A shot is an object such as {\"time_s\": 27.4, \"yield_g\": 36.2}. Nothing was recorded."
	PostLater      say.English = "The bar cannot take it now. Send the same again, with its key."
)
