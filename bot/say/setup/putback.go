package setup

import (
	"cmp"
	"encoding"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/bar"
	"shothand/bot/say"
)

// PutBack says which settings were put back, of what, and how each was and is.
func (l Lang) PutBack(of string, now, back []Fact) string {
	var changes []string
	for i, f := range back {
		if was := now[i].Value; was != f.Value {
			if f.Option == ownOption { // the others stay
				was, f.Value = besides(was, f.Value), besides(f.Value, was)
			}
			if f.Option == retiredOption {
				changes = append(changes, l.onBar(was == "true")+" → "+l.onBar(f.Value == "true"))
				continue
			}
			changes = append(changes, f.Option+": "+l.orNone(was)+" → "+l.orNone(f.Value))
		}
	}
	if len(changes) == 0 {
		return l.Say("Put back as it was.")
	}
	return l.Say("%s is as it was before: %s.", of, strings.Join(changes, ", "))
}

// A Fact is an option of a command, and what it is.
type Fact struct{ Option, Value string }

func (l Lang) orNone(value string) string {
	if value == "" {
		return l.Say("setting|none")
	}
	return say.Clip(value)
}

// retiredOption takes a coffee or a grinder off the bar.
const retiredOption = "retired"

func (l Lang) onBar(retired bool) string {
	if retired {
		return l.Say("off the bar")
	}
	return l.Say("on the bar")
}

// ownOption teaches a bar a word of its own.
const ownOption = "word"

// besides returns what a list has that another has not.
func besides(list, other string) string {
	have := strings.Split(other, ", ")
	return strings.Join(slices.DeleteFunc(strings.Split(list, ", "), func(one string) bool { return slices.Contains(have, one) }), ", ")
}

// ownText lists the bar's own words, as they are taught.
func ownText(words bar.OwnWords) string {
	var text []string
	for _, o := range words.List() {
		text = append(text, o.Word+" = "+cmp.Or(o.Means, "–"))
	}
	return strings.Join(text, ", ")
}

// BarFacts are what /setup tells of a bar.
func (l Lang) BarFacts(b bar.Bar) []Fact {
	clock := "pump"
	if b.FromDrip {
		clock = "drip"
	}
	return []Fact{
		{"name", b.Name},
		{"zone", b.Zone},
		{"order", nameOf(b.Order)},
		{"ends", nameOf(b.Ends)},
		{"clock", clock},
		{"opens", string(b.Opens)},
		{"closes", string(b.Closes)},
		{"days", l.weekdaysText(b.Days)},
		{"remind", string(b.Remind)},
		{"levers", strings.TrimPrefix(l.crewText(b.Crew), l.Semicolon())},
		{"currency", b.Currency},
		{"language", cmp.Or(b.Language, "en")},
		{ownOption, ownText(b.Words)},
	}
}

// CoffeeFacts are what /coffee tells of a coffee.
func (l Lang) CoffeeFacts(c bar.Coffee, grinder string) []Fact {
	r := c.Recipe
	return []Fact{
		{"name", c.Name},
		{"grinder", grinder},
		{"dose", l.ifSet(float64(r.Dose))},
		{"yield", l.ifSet(float64(r.Yield))},
		{"time", l.Window(r)},
		{"roasted", string(c.Roasted)},
		{"roast", nameOf(c.Roast)},
		{"aim", nameOf(c.Aim)},
		{"for", nameOf(c.For)},
		{"price", l.ifSet(c.Price)},
		{retiredOption, strconv.FormatBool(c.Retired)},
	}
}

// GrinderFacts are what /grinder tells of a grinder.
func (l Lang) GrinderFacts(g bar.Grinder) []Fact {
	return []Fact{
		{"name", g.Name},
		{"step", l.ifSet(g.Step)},
		{"finer", nameOf(g.Finer)},
		{"min", l.Number(float64(g.Min))},
		{"max", l.Number(float64(g.Max))},
		{"purge", l.ifSet(float64(g.Purge))},
		{retiredOption, strconv.FormatBool(g.Retired)},
	}
}

func (l Lang) ifSet(x float64) string {
	if x == 0 {
		return ""
	}
	return l.Number(x)
}

// nameOf returns the name that an option's value has in the records.
func nameOf(v encoding.TextMarshaler) string {
	text, err := v.MarshalText()
	if err != nil {
		return fmt.Sprint(v)
	}
	return string(text)
}
