package parse

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/bot/chat"
)

// cupsText prints cups as short as a table can have them.
func cupsText(c Cups) string {
	var all []string
	sip := func(label string, s bar.Note) {
		parts := []string{label}
		if s.Mass > 0 {
			parts = append(parts, fmt.Sprintf("%gg", s.Mass))
		}
		if s.TDS > 0 {
			parts = append(parts, fmt.Sprintf("%g%%", s.TDS))
		}
		for _, w := range s.Words {
			parts = append(parts, w.Term)
		}
		for _, x := range s.Scores {
			parts = append(parts, fmt.Sprintf("%d=%g", x.Of, x.X))
		}
		for _, u := range s.Unread {
			parts = append(parts, "?"+u)
		}
		all = append(all, strings.Join(parts, " "))
	}
	for _, s := range c.Sips {
		sip([]string{"early", "middle", "late", "whole"}[s.Of], s)
	}
	for _, s := range c.Lets {
		sip(s.Letter, s.Note)
	}
	text := strings.Join(all, " / ")
	if c.Split > 0 {
		text = fmt.Sprint("split ", c.Split, ": ", text)
	}
	if c.Order != "" {
		text += " order " + c.Order
	}
	return text + c.Better
}

func TestCupWords(t *testing.T) {
	for _, test := range []struct {
		text  string
		blind bool
		want  string // empty: none of ours
	}{
		{"early 12.1 g sour, salty / middle 12.8 g sweet, flat / late 11.9 g thin, bitter", false, "early 12.1g sour salty / middle 12.8g sweet flat / late 11.9g thin bitter"},
		{"Early: sour\nMiddle: sweet\nLate: thin\nWhole: balanced", false, "early sour / middle sweet / late thin / whole balanced"},
		{"early sour 3 sweet 2 body 4", false, "early 0=3 2=2 3=4"},
		{"early 12,1g tds 16.4 very sour, bitter 0, dryness 1/5", false, "early 12.1g 16.4% sour 1=0 4=1"},
		{"early 12.1 sour", false, "early 12.1g sour"},
		{"first sour, second sweet, third thin", false, "early sour / middle sweet / late thin"},
		{"late 3.9 % thin", false, "late 3.9% thin"},
		{"second split: early salty / late thin", false, "split 2: early salty / late thin"},
		{"split 2 early salty", false, "split 2: early salty"},
		{"early marshmallow sour", false, "early sour ?marshmallow"},
		{"a sour / b sweet, a bit flat / c thin, order c b a", true, "A sour / B sweet flat / C thin order CBA"},
		{"cup A: sour / cup B: sweet", true, "A sour / B sweet"},
		{"order: b, c, a", true, " order BCA"},
		{"x", false, "X"},
		{"I prefer Y", false, "Y"},
		{"same", false, "same"},
		{"cup x better", false, "X"},
		{"no difference", false, "same"},

		{"late again, sorry guys", false, ""},
		{"middle shelf is out of milk", false, ""},
		{"18 36 28 sour", false, ""},
		{"the early cup was sour", false, ""},
		{"early start tomorrow, please bring milk and sweet rolls", false, ""},
		{"early sour / early sweet", false, ""},
		{"a bit sour", false, ""},
		{"a bit sour", true, ""},
		{"a: bit sour", true, "A sour"},
		{"x marks the spot", false, ""},
		{"", false, ""},
	} {
		c, ok, err := CupWords(test.text, test.blind)
		got := ""
		if ok {
			got = cupsText(c)
		}
		if err != nil || got != test.want {
			t.Errorf("%q reads %q, %v; want %q", test.text, got, err, test.want)
		}
	}
}

func TestCupsThatCannotBe(t *testing.T) {
	for _, text := range []string{"early sour 9", "early 900 g sour", "late tds 60 thin", "early 0 g sour", "a sour, order a a b"} {
		if c, ok, err := CupWords(text, strings.HasPrefix(text, "a ")); !errors.As(err, &Mistake{}) {
			t.Errorf("%q reads %+v, %v, %v", text, c, ok, err)
		}
	}
	for _, o := range []chat.Option{{Name: "split", Value: "two"}, {Name: "order", Value: "ABB"}, {Name: "better", Value: "both"}, {Name: "early", Value: "sour 7"}} {
		if c, err := CupsOf(chat.Command{Options: []chat.Option{o}}); !errors.As(err, &Mistake{}) {
			t.Errorf("%+v reads %+v, %v", o, c, err)
		}
	}
}

// An option says of a cup what the same words in a message do.
func TestCupsOf(t *testing.T) {
	c, err := CupsOf(chat.Command{Options: []chat.Option{
		{Name: "early", Value: "12.1 g sour, salty"}, {Name: "late", Value: "thin"}, {Name: "b", Value: "late / early"}, {Name: "order", Value: "b > c > a"}, {Name: "split", Value: "2"},
	}})
	if got, want := cupsText(c), "split 2: early 12.1g sour salty / late thin / B ?late ?early order BCA"; err != nil || got != want {
		t.Errorf("%q, %v; want %q", got, err, want)
	}
}

func FuzzCupWords(f *testing.F) {
	f.Add("early 12.1 g sour, salty / middle 12.8 g sweet, flat / late 11.9 g thin, bitter", false)
	f.Add("a sour / b sweet / c thin, order c b a", true)
	f.Add("split 2 early tds 16 sour 3", false)
	f.Fuzz(func(t *testing.T, text string, blind bool) {
		c, ok, err := CupWords(text, blind)
		if err != nil && !errors.As(err, &Mistake{}) {
			t.Errorf("%q: %v", text, err)
		}
		for _, s := range c.Sips {
			if ok && !(0 <= s.Mass && s.Mass <= 500 && 0 <= s.TDS && s.TDS <= 40) {
				t.Errorf("%q reads %+v", text, s)
			}
			for _, x := range s.Scores {
				if !(0 <= x.X && x.X <= layers.MostScore) {
					t.Errorf("%q reads %+v", text, x)
				}
			}
		}
	})
}
