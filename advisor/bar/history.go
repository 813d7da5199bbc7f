package bar

import (
	"reflect"
	"slices"
	"time"

	"shothand/advisor/closed"
)

// Units of what a bar measures.
type (
	// Grams is a mass.
	Grams float64
	// Seconds is the length of a shot, counted from pump on unless the bar
	// says that it counts from the first drip.
	Seconds float64
	// Dial is a position on a grinder's dial, as read off it. On a grinder
	// without numbers it is counted in steps, + is finer, from where the
	// grinder stood when it was first used.
	Dial float64
	// Celsius is a temperature.
	Celsius float64
	// Percent is a share: of the beverage for TDS.
	Percent float64
)

// Ids are numbers, so that names are only labels. Zero is none.
type (
	// ID names a bar.
	ID uint64
	// CoffeeID names a coffee within its bar.
	CoffeeID uint64
	// GrinderID names a grinder within its bar.
	GrinderID uint64
	// PersonID names a person within a bar.
	PersonID uint64
	// EntryID names an entry within its bar.
	EntryID uint64
)

// A History is all that a bar knows when it asks for advice.
type History struct {
	Bar      Bar
	Coffees  []Coffee
	Grinders []Grinder
	People   []Person
	Entries  []Entry // as far back as they are to teach, by time, then by id; times in the bar's zone
}

// A Bar is one espresso bar: one channel of a team's chat.
type Bar struct {
	ID    ID     `json:"-"`
	Name  string `json:"name,omitempty"`
	Zone  string `json:"zone,omitempty"` // IANA name; empty until set
	Order Order  `json:"order"`
	Ends  Ends   `json:"ends,omitzero"` // left out: by the scale
	// FromDrip says that the bar's clock starts at the first drip, not with the
	// pump. Its windows are meant so, too.
	FromDrip bool `json:"clock_from_first_drip,omitempty"`

	Opens  TimeOfDay `json:"opens,omitempty"` // of service; empty when not told
	Closes TimeOfDay `json:"closes,omitempty"`
	Days   Weekdays  `json:"days,omitempty"`        // on which it is open; left out: every day
	Remind TimeOfDay `json:"remind,omitempty"`      // of the morning's reminder; empty for none
	Crew   Levers    `json:"crew_levers,omitempty"` // that the crew may move; the others are the lead's

	Words OwnWords `json:"own_words,omitempty"` // of its own for how a cup tastes

	Currency string `json:"currency,omitempty"` // of its prices, ISO 4217 ("EUR"); empty when not told
	Language string `json:"language,omitempty"` // that it is answered in, "it"; empty for English
}

// Equal reports whether all that was told of two bars is the same.
func (b Bar) Equal(c Bar) bool {
	same := b.Words.Equal(c.Words)
	b.Words, c.Words = nil, nil
	return same && reflect.DeepEqual(b, c)
}

// Ends is what ends a bar's shots.
type Ends int

// What can end a shot.
const (
	ByScale Ends = iota
	ByButton
	ByTime
	ByEye
)

func endings() []string {
	return []string{ByScale: "scale", ByButton: "button", ByTime: "time", ByEye: "eye"}
}

// MarshalText names e, as records do.
func (e Ends) MarshalText() ([]byte, error) { return closed.Marshal(e, endings()) }

// UnmarshalText sets e to the end of that name.
func (e *Ends) UnmarshalText(text []byte) error { return closed.Unmarshal(e, text, endings()) }

// An Order is how a bar reads three bare numbers.
type Order int

// The orders.
const (
	DoseYieldTime Order = iota
	DoseTimeYield
)

func orders() []string {
	return []string{DoseYieldTime: "dose-yield-time", DoseTimeYield: "dose-time-yield"}
}

// MarshalText names o, as records do.
func (o Order) MarshalText() ([]byte, error) { return closed.Marshal(o, orders()) }

// UnmarshalText sets o to the order of that name.
func (o *Order) UnmarshalText(text []byte) error { return closed.Unmarshal(o, text, orders()) }

// A Coffee is one coffee on the bar's list.
type Coffee struct {
	ID      CoffeeID  `json:"-"`
	Name    string    `json:"name"`
	Grinder GrinderID `json:"grinder,omitempty"`
	Recipe  Recipe    `json:"-"`
	Roasted Day       `json:"roasted,omitempty"` // empty when not known
	Retired bool      `json:"retired,omitempty"`

	Roast       Roast   `json:"roast,omitzero"`
	Aim         Aim     `json:"aim,omitzero"`
	For         Drink   `json:"for,omitzero"`             // what Recipe is for
	Milk        Recipe  `json:"milk,omitzero"`            // of its cups in milk, zero where Recipe serves them too
	Basket      Basket  `json:"-"`                        // that Recipe is pulled in
	PreInfusion Seconds `json:"pre_infusion_s,omitempty"` // of it, within the time of a shot; 0 when not told
	Price       float64 `json:"price_per_kg,omitempty"`   // of a kg, in the bar's currency; 0 when not told
}

// A Recipe is what a coffee is aimed at.
type Recipe struct {
	Dose  Grams   `json:"dose_g"`
	Yield Grams   `json:"yield_g"`
	Low   Seconds `json:"low_s"` // the window of time
	High  Seconds `json:"high_s"`
	Soft  bool    `json:"soft,omitempty"` // the window was not typed by the bar
}

// House is the recipe of a coffee nobody has described. Common practice, no
// source: a double of 1:2 in about half a minute.
func House() Recipe { return Recipe{Dose: 18, Yield: 36, Low: 25, High: 31, Soft: true} }

// A Person is somebody who has posted a shot or tasted one.
type Person struct {
	ID      PersonID `json:"-"`
	Account string   `json:"account"`           // the id in the chat
	Name    string   `json:"name"`              // shown as text
	Mention bool     `json:"mention,omitempty"` // wants to be mentioned for alerts
}

// A Day is a local date of a bar, "2026-03-02", ordered as text. A bar's day
// begins at 04:00. Empty is none.
type Day string

// DayBegins is when a bar's day begins, after midnight.
const DayBegins = 4 * time.Hour

// DayOf returns the bar's day in which at falls, by the clock of at's zone.
func DayOf(at time.Time) Day {
	y, m, d := at.Date()
	if at.Hour() < int(DayBegins.Hours()) {
		d--
	}
	return Day(time.Date(y, m, d, 12, 0, 0, 0, time.UTC).Format(time.DateOnly))
}

// CoffeeOf returns the coffee of that id.
func CoffeeOf(all []Coffee, id CoffeeID) (Coffee, bool) {
	i := slices.IndexFunc(all, func(c Coffee) bool { return c.ID == id })
	if i < 0 {
		return Coffee{}, false
	}
	return all[i], true
}

// GrinderOf returns the grinder of that id.
func GrinderOf(all []Grinder, id GrinderID) (Grinder, bool) {
	i := slices.IndexFunc(all, func(g Grinder) bool { return g.ID == id })
	if i < 0 {
		return Grinder{}, false
	}
	return all[i], true
}

// Since returns the number of days from e to d, or false if either is no date.
func (d Day) Since(e Day) (int, bool) {
	to, err1 := time.Parse(time.DateOnly, string(d))
	from, err2 := time.Parse(time.DateOnly, string(e))
	if err1 != nil || err2 != nil {
		return 0, false
	}
	return int(to.Sub(from).Hours() / 24), true
}

// An Entry is one thing that happened in a bar, in the order of its time.
type Entry struct {
	ID      EntryID   `json:"-"`
	Message string    `json:"message,omitempty"` // id of the chat message that told it
	With    string    `json:"with,omitempty"`    // that of the entry it came with, where its message told another too
	Person  PersonID  `json:"person,omitempty"`
	Typed   PersonID  `json:"typed,omitempty"` // who told it, where somebody else pulled it
	At      time.Time `json:"-"`
	Day     Day       `json:"day,omitempty"`
	Raw     string    `json:"raw,omitempty"` // the text as posted
	Deleted bool      `json:"deleted,omitempty"`
	What    What      `json:"-"`
}

// ToldBy reports whether somebody pulled what an entry tells of, or told it for who did.
func (e Entry) ToldBy(who PersonID) bool {
	return e.Person == who || e.Typed == who && who != 0
}

// What an entry tells: a Shot, Words, Told, Dialled, Setting, Held, Layers or
// Sips.
//
//sumtype:decl
type What interface{ isWhat() }

func (Shot) isWhat() {}

func (Words) isWhat() {}

func (Told) isWhat() {}

func (Dialled) isWhat() {}

func (Setting) isWhat() {}

func (Held) isWhat() {}

// A Shot is one shot as it was reported.
type Shot struct {
	Coffee  CoffeeID    `json:"coffee"`
	Grinder GrinderID   `json:"grinder,omitempty"`
	Grind   Value[Dial] `json:"grind_dial,omitzero"`
	// Turned is how many steps, + is finer, the dial was turned since the
	// grinder's shot before, where Grind is not known.
	Turned     float64      `json:"turned_steps,omitempty"`
	TurnedFrom Provenance   `json:"turned_from,omitempty"` // Advised where nobody said that it was turned
	Dose       Value[Grams] `json:"dose_g,omitzero"`
	Yield      Value[Grams] `json:"yield_g,omitzero"`
	// Meant is the yield that had been advised for it, 0 where none was. A hand on the
	// scale misses by more than what is often advised.
	Meant Grams          `json:"meant_g,omitempty"`
	Time  Value[Seconds] `json:"time_s,omitzero"`
	Marks Marks          `json:"marks,omitempty"`

	// What few bars measure; zero when not told.
	TDS       Percent `json:"tds_percent,omitempty"`
	Water     Celsius `json:"water_c,omitempty"`
	FirstDrip Seconds `json:"first_drip_s,omitempty"`

	Words  []Word   `json:"words,omitempty"`  // of the person who posted
	Unread []string `json:"unread,omitempty"` // words nobody could place

	// What a device had to do with it; zero where none had.
	Device DeviceID `json:"device,omitempty"`    // that the numbers come from
	Posted EntryID  `json:"posted_as,omitempty"` // as the device posted it, where a person told of the same shot
	TimeSD Seconds  `json:"time_sd_s,omitempty"` // what the device's corrections leave unsure of Time
}

// Timed reports whether somebody timed a shot: a gusher that nobody timed is taken
// for one of some seconds, which are none of its own.
func (s Shot) Timed() bool { return s.Time.From != None && s.Time.From != Assumed }

// A Value is one number of a shot and where it comes from.
type Value[T ~float64] struct {
	X     T          `json:"x"`
	From  Provenance `json:"from"`            // None: not known
	Rough bool       `json:"rough,omitempty"` // a range, an "ish", a volume, or by eye
}

// A Provenance is where a value comes from.
type Provenance int

// The provenances.
const (
	None    Provenance = iota
	Said               // in the message
	Advised            // what the person had been advised, in time to do it
	Last               // as on the grinder's last shot
	Assumed            // from the recipe
	Clocked            // of what was advised and where it stood before, what its time fits
)

// Supposed reports whether nobody has said a dial's position, and it was taken from
// what came before.
func (p Provenance) Supposed() bool { return p == Advised || p == Last || p == Clocked }

func provenances() []string {
	return []string{None: "none", Said: "said", Advised: "advised", Last: "last", Assumed: "assumed", Clocked: "clocked"}
}

// String names p, as records do; empty for none of them.
func (p Provenance) String() string { return closed.Name(p, provenances()) }

// MarshalText names p, as records do.
func (p Provenance) MarshalText() ([]byte, error) { return closed.Marshal(p, provenances()) }

// UnmarshalText sets p to the provenance of that name.
func (p *Provenance) UnmarshalText(text []byte) error {
	return closed.Unmarshal(p, text, provenances())
}

// Marks are what was said of a shot besides its numbers and its taste.
type Marks uint16

// The marks.
const (
	Practice  Marks = 1 << iota // a trainee's: neither teaches nor alarms
	Sink                        // poured away untasted
	Single                      // a single, by a single basket
	First                       // cold machine, or a grinder that stood
	Purged                      // the grinder was purged after the change
	NotPurged                   // it was not
	Choked                      // (almost) nothing came; the time is a lower bound
	Stopped                     // stopped before its yield
	Spurted                     // sprayed, spurted or channelled
	Stuck                       // grind said to be as it was, against the advice
	InMilk                      // tasted in milk, by the coffee's recipe for it
	Unplaced                    // at a setting that was said and could not be placed
)

// markNames lists them, in this order.
func markNames() []string {
	return []string{
		"practice", "sink", "single", "first", "purged", "not_purged", "choked", "stopped", "spurted", "stuck", "in_milk", "unplaced",
	}
}

// Names returns the names of the marks of m, as records do.
func (m Marks) Names() ([]string, error) { return closed.Names(m, markNames()) }

// MarksOf returns the marks of those names.
func MarksOf(names []string) (Marks, error) { return closed.Set[Marks](names, markNames()) }

// MarshalJSON lists the names of m.
func (m Marks) MarshalJSON() ([]byte, error) { return closed.MarshalSet(m, markNames()) }

// UnmarshalJSON sets m to the marks of those names.
func (m *Marks) UnmarshalJSON(data []byte) error { return closed.UnmarshalSet(m, data, markNames()) }

// Has reports whether all marks of n are set in m.
func (m Marks) Has(n Marks) bool { return m&n == n }

// Words are taste words that came after their shot, or from a second taster.
type Words struct {
	Shot   EntryID  `json:"shot"`
	Words  []Word   `json:"words,omitempty"`
	Unread []string `json:"unread,omitempty"`
}

// Told is something that happened to the bar, told in words.
type Told struct {
	Event   Event     `json:"event"`
	Coffee  CoffeeID  `json:"coffee,omitempty"`  // 0: none in particular
	Grinder GrinderID `json:"grinder,omitempty"` // 0: none in particular

	Dial   Value[Dial] `json:"dial,omitzero"`          // where Moved: where the dial was put, if it has numbers and they are known
	Turned float64     `json:"turned_steps,omitempty"` // where Moved and Dial is not known: by how many steps, + is finer
	Purged bool        `json:"purged,omitempty"`       // where Moved: the old grounds were let out
	Shown  bool        `json:"shown,omitempty"`        // where Rezeroed: a number showed it, nobody told
}

// Dialled says that somebody called a coffee dialled in.
type Dialled struct {
	Coffee CoffeeID `json:"coffee"`
	Shot   EntryID  `json:"shot,omitempty"` // the shot that earned it, 0 if none
}

// A Setting is a change of what the bar has told of itself, a coffee, a grinder
// or a device. The one that changed holds its state before; undo restores it.
// A zero id in Coffee, Grinder or Device means that it was not touched.
type Setting struct {
	Bar     Bar
	Coffee  Coffee
	Grinder Grinder
	Added   bool // it did not exist before

	// What it came to, so that undo takes back no more than it changed. Old
	// records do not have it.
	ToBar     Bar
	ToCoffee  Coffee
	ToGrinder Grinder

	Device, ToDevice Device // without their secrets
}

// Held is a message that reads as a shot, kept as it was posted until somebody
// says which coffee it was, or in which order its numbers stand.
type Held struct {
	Device DeviceID `json:"device"` // that posted it, 0 for a person
	// Settled are the numbers that were put right since, "dose_g=18,yield_g=38".
	Settled string `json:"settled,omitempty"`
	Named   string `json:"named,omitempty"` // what its coffee was said to be called since
}
