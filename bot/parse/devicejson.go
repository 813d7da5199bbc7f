package parse

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"shothand/advisor/bar"
)

// A Posted is what a device posts: the numbers of one shot.
type Posted struct {
	Shot Shot      // numbers and a coffee alone
	At   time.Time // when the shot ended, zero if that was not told
	Key  string    // by which the device knows the shot again, or empty
	// Coffee is its name as the device has it, or empty.
	Coffee string
}

// How long what a device posts may be, and its key, in bytes.
const (
	maxPost = 4096
	maxKey  = 200
)

// postedShot is the JSON that a device posts. Add fields; never rename them.
type postedShot struct {
	Dose      *float64 `json:"dose_g"`
	Yield     *float64 `json:"yield_g"`
	Time      *float64 `json:"time_s"`
	FirstDrip *float64 `json:"first_drip_s"`
	Coffee    *string  `json:"coffee"`
	At        *string  `json:"at"`
	Key       *string  `json:"key"`
}

// postedFields names the fields of what a device posts.
const postedFields = "dose_g, yield_g, time_s, first_drip_s, coffee, at, key"

// Post reads what a device posts: a JSON object, or shorthand of which the
// numbers and the coffee count. It is false for what is neither. The error is
// a Mistake.
func Post(text string, v Vocab) (p Posted, ok bool, err error) {
	text = strings.TrimSpace(clean(text))
	if body := unfenced(text); strings.HasPrefix(body, "{") && len(body) <= maxPost {
		p, err = postedJSON(body, v)
	} else if long(text) {
		return Posted{}, false, nil
	} else if p.Shot, ok = postedText(text, v); !ok {
		return Posted{}, false, nil
	}
	if err == nil {
		err = checkPosted(p.Shot)
	}
	if m, ok := errors.AsType[Mistake](err); ok {
		m.What = strings.Map(shown, m.What)
		err = m
	}
	return p, err == nil, err
}

// checkPosted refuses what no shot has, and a first drip after the end.
func checkPosted(s Shot) error {
	if s.Drip.Said && s.Drip.X > s.Time.X {
		return Mistake{Kind: BadPost, What: fmt.Sprintf("first_drip_s %g", s.Drip.X), More: fmt.Sprintf("first_drip_s ≤ time_s, %g", s.Time.X)}
	}
	return Check(s)
}

// shown drops what is not seen, or turns the text after it round.
func shown(r rune) rune {
	if unicode.In(r, unicode.Cf) || unicode.IsControl(r) && !unicode.IsSpace(r) {
		return -1
	}
	return r
}

// unfenced takes the marks of a block of code off, which a chat shows as they
// were typed.
func unfenced(text string) string {
	inner, fenced := strings.CutPrefix(text, "```")
	if !fenced {
		return text
	}
	return strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(inner, "json"), "```"))
}

func postedText(text string, v Vocab) (Shot, bool) {
	v.Usual, v.Answer = nil, false
	m, err := Shorthand(text, v)
	s, ok := m.(Shot)
	if err != nil || !ok || !s.Time.Said || len(s.Doubt) > 0 {
		return Shot{}, false
	}
	return Shot{
		Coffee: s.Coffee, Dose: s.Dose, Yield: s.Yield, Time: s.Time, Drip: s.Drip,
		Swapped: s.Swapped, Better: s.Better, Stranger: s.Stranger, Near: s.Near,
	}, true
}

func postedJSON(text string, v Vocab) (Posted, error) {
	var r postedShot
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		return Posted{}, badJSON(err, text)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Posted{}, Mistake{Kind: BadPost, What: cut(text), Would: "one object for one shot"}
	}
	if err := fieldsOnce(text); err != nil {
		return Posted{}, err
	}
	if r.Time == nil {
		return Posted{}, Mistake{Kind: BadPost, What: cut(text), Would: "time_s is the one field that has to be there"}
	}
	p := Posted{Shot: Shot{Dose: given(r.Dose), Yield: given(r.Yield), Time: given(r.Time), Drip: given(r.FirstDrip)}}
	if r.Coffee != nil && strings.TrimSpace(*r.Coffee) != "" {
		if p.Coffee = strings.Join(strings.Fields(strings.Map(shown, *r.Coffee)), " "); p.Coffee != "" {
			p.Shot.Coffee, p.Shot.Stranger = coffeeCalled(p.Coffee, v)
		}
	}
	var err error
	if r.At != nil {
		if p.At, err = time.Parse(time.RFC3339, *r.At); err != nil {
			return Posted{}, Mistake{Kind: BadPost, What: cut("at " + *r.At), Would: "a time as 2026-03-02T07:30:00+01:00"}
		}
	}
	if r.Key != nil {
		p.Key = *r.Key
	}
	if len(p.Key) > maxKey {
		return Posted{}, Mistake{Kind: BadPost, What: cut("key " + p.Key), Would: "at most 200 bytes"}
	}
	return p, nil
}

// fieldsOnce refuses a field that comes twice, or is spelt in other letters: a
// decoder takes the last of them.
func fieldsOnce(text string) error {
	d := json.NewDecoder(strings.NewReader(text))
	known, seen := strings.Split(postedFields, ", "), map[string]bool{}
	for n := -1; ; n++ { // the brace, then name and value in turn: no value is an object
		token, err := d.Token()
		if err != nil {
			return nil
		}
		name, ok := token.(string)
		switch {
		case n%2 != 0 || !ok:
		case !slices.Contains(known, name):
			return Mistake{Kind: BadPost, What: cut(name), Would: "there is " + postedFields}
		case seen[name]:
			return Mistake{Kind: BadPost, What: cut(name), Would: "each field once"}
		default:
			seen[name] = true
		}
	}
}

// badJSON says what a decoder could not take.
func badJSON(err error, text string) error {
	if t, ok := errors.AsType[*json.UnmarshalTypeError](err); ok && t.Field != "" {
		would := Would("a number, as 27.4")
		if t.Type.Kind().String() == "string" {
			would = "a text in quotes"
		}
		return Mistake{Kind: BadPost, What: cut(t.Field + " " + t.Value), Would: would}
	}
	if _, name, ok := strings.Cut(err.Error(), "unknown field "); ok {
		return Mistake{Kind: BadPost, What: cut(strings.Trim(name, `"`)), Would: "there is " + postedFields}
	}
	return Mistake{Kind: BadPost, What: cut(text), Would: `JSON as {"time_s": 27.4, "yield_g": 36.2}`}
}

// given returns a number that was told, in Post's sense.
func given(x *float64) Number {
	if x == nil {
		return Number{}
	}
	return Number{X: *x, Said: true}
}

// coffeeCalled finds the coffee of a name, or the one that begins so; else
// the name is a stranger's.
func coffeeCalled(name string, v Vocab) (id bar.CoffeeID, stranger string) {
	var near []bar.CoffeeID
	for _, c := range v.Coffees {
		if strings.EqualFold(c.Name, name) {
			return c.ID, ""
		}
		if len(c.Name) > len(name) && strings.EqualFold(c.Name[:len(name)], name) {
			near = append(near, c.ID)
		}
	}
	if len(near) == 1 {
		return near[0], ""
	}
	return 0, cut(name)
}

// Mine reads that somebody calls a shot theirs, "mine", and what they say of it
// besides: "mine, sour".
func Mine(text string) (rest string, ok bool) {
	text = strings.TrimSpace(text)
	for _, call := range []string{"that's mine", "that’s mine", "thats mine", "it's mine", "it’s mine", "its mine", "it was mine", "it was me", "that was mine", "that was me", "my shot", "mine"} {
		if len(text) < len(call) || !strings.EqualFold(text[:len(call)], call) {
			continue
		}
		after, _ := utf8.DecodeRuneInString(text[len(call):])
		if len(text) > len(call) && (unicode.IsLetter(after) || unicode.IsDigit(after) || after == '\'' || after == '’') {
			continue
		}
		return strings.TrimLeftFunc(text[len(call):], func(r rune) bool {
			return unicode.IsSpace(r) || slices.Contains([]rune(",.!:;–—-"), r)
		}), true
	}
	return "", false
}

// MineAt takes where the dial stood off the front of what is said of such a shot:
// "at 5.0, sour".
func MineAt(rest string) (dial Grind, after string) {
	label, tail, _ := strings.Cut(rest, " ")
	place, after, _ := strings.Cut(strings.TrimSpace(tail), " ")
	place = strings.TrimRight(place, ",.;")
	if !slices.Contains([]string{"at", "grind", "grinder", "setting", "dial", "was"}, strings.ToLower(label)) || place == "" {
		return Grind{}, rest
	}
	x, err := strconv.ParseFloat(strings.Replace(place, ",", ".", 1), 64)
	if err != nil || math.IsNaN(x) {
		return Grind{}, rest
	}
	return Grind{X: x, Said: true, Text: place}, strings.TrimSpace(after)
}

// CoffeeCalled finds the coffee of a name, or the one that begins so; else the
// name is a stranger's.
func CoffeeCalled(name string, v Vocab) (id bar.CoffeeID, stranger string) {
	if name == "" {
		return 0, ""
	}
	return coffeeCalled(name, v)
}

// Settles reads how long a device's yield is behind the cup: "settles-2s",
// "2 s", "at once".
func Settles(value string) (float64, error) {
	text := strings.TrimLeft(strings.TrimPrefix(fold(strings.TrimSpace(value)), "settles"), " -:")
	if text == "at once" || None(text) {
		return 0, nil
	}
	x, err := Secs(text)
	if err == nil && x > 10 {
		err = Mistake{Kind: Impossible, What: cut(value), More: "0–10 s"}
	}
	if err != nil {
		return 0, bad(value, "how long its reading lags behind the cup, as settles-2s, or none")
	}
	return x, nil
}

// Lag reads by how much a device's clock begins late.
func Lag(value string) (float64, error) {
	if None(value) {
		return 0, nil
	}
	x, err := Secs(value)
	if err != nil || x > 10 {
		return 0, bad(value, "up to 10 s, as 1.5 s, or none")
	}
	return x, nil
}
