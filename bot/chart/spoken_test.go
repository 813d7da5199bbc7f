package chart_test

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/layers"
	"shothand/advisor/review"
	"shothand/bot/chart"
	"shothand/bot/say"
	"shothand/bot/say/bycup"
	"shothand/bot/say/past"
)

// Each kind of picture has room for its words in every language, says none of them
// in English, and writes its numbers as the language does.
func TestPicturesInEveryLanguage(t *testing.T) {
	for _, code := range say.Languages()[1:] {
		l := say.In(code)
		for name, p := range chart.Samples() {
			said, without := chart.Texts(worded(l, p))
			if len(without) > 0 {
				t.Errorf("%s, %s: %v", code, name, without)
			}
			for _, text := range said {
				if english().MatchString(text) {
					t.Errorf("%s, %s: %q is English", code, name, text)
				}
				if regexp.MustCompile(`^\d+\.\d+$`).MatchString(text) {
					t.Errorf("%s, %s: %q has a decimal point", code, name, text)
				}
				if strings.Contains(text, "..") {
					t.Errorf("%s, %s: %q ends twice", code, name, text)
				}
			}
		}
	}
}

// english finds words that none of the other languages has.
func english() *regexp.Regexp {
	return regexp.MustCompile(`(?i)(^|\PL)(the|of|shots?|time|yield|cups?|before|here|window|choked|week|day|finer|nobody)(\PL|$)`)
}

// worded has a sample say its words in a language.
func worded(l say.Lang, p chart.Picture) chart.Picture {
	coffee := bar.Coffee{Name: "Harbour", Recipe: bar.Recipe{Dose: 18, Yield: 36.5, Low: 25, High: 31}}
	grinder := bar.Grinder{Name: "left", Step: 0.1, Finer: bar.Lower}
	course := review.Course{Coffee: coffee, Grinder: grinder}
	back := past.LookBack{Lang: past.In(l)}
	back.Span.From, back.Span.To = "2026-10-01", "2026-12-31"
	switch p := p.(type) {
	case chart.DialIn:
		p.Title, p.Under, p.Words = past.In(l).DialInTitle(coffee, "2026-09-30", true), l.Count(6, "shot"), past.In(l).DialInWords(coffee, grinder)
		for i := range p.Shots {
			p.Shots[i].Name, p.Shots[i].Said = l.Number(5.2), l.Term("sour")+", "+l.Term("thin")
			if p.Shots[i].Changed != "" {
				p.Shots[i].Changed = past.In(l).Kind(review.Coarser)
			}
		}
		return p
	case chart.Day:
		p.Title, p.Under, p.Words = l.DayName("2026-09-30"), l.Count(11, "shot"), past.In(l).DayWords()
		for i := range p.Coffees {
			p.Coffees[i].Head = past.In(l).DayHead(coffee)
		}
		return p
	case chart.Drift:
		p.Title, p.Under, p.Words = past.In(l).DriftTitle(coffee, "2026-09-30"), l.Count(22, "shot"), past.In(l).DriftWords(coffee)
		return p
	case chart.Curve:
		p.Title, p.Under, p.Words = past.In(l).CurveTitle(course), past.In(l).CurveUnder(course), past.In(l).CurveWords(course, "2026-09-30")
		return p
	case chart.Cost:
		p.Title, p.Under, p.Words = l.Say(past.CostTitle), back.Days(), past.In(l).CostWords()
		for i := range p.Weeks {
			p.Weeks[i] = l.ShortDate(time.Date(2026, 9, 30+7*i, 0, 0, 0, 0, time.UTC))
		}
		return p
	case chart.Chances:
		p.Title, p.Under, p.Words = past.In(l).ChancesTitle(coffee), l.Count(6, "cup"), past.In(l).ChancesWords(coffee.Recipe)
		return p
	case chart.Rows:
		if !p.Zero {
			p.Title, p.Under, p.Head, p.Words = l.Say(past.CalibrationTitle), l.Count(160, "shot"), l.Say(past.CalibrationHead), past.In(l).CalibrationWords()
			for i := range p.Rows {
				p.Rows[i].Name = past.In(l).CalibrationName(review.Bin{Level: 0.95})
			}
			return p
		}
		p.Title, p.Under, p.Head, p.Words = l.Say(past.EffectsTitle), back.EffectsUnderText(), l.Say(past.EffectsHead), past.In(l).EffectsWords()
		row := p.Rows[0]
		p.Rows = nil
		for k := review.Finer; k <= review.Water; k++ {
			for _, v := range []review.Verdict{review.Open, review.Helps, review.Nothing, review.Harms} {
				row.Name, row.Note = past.In(l).Kind(k)+" "+past.In(l).Verdict(v), back.EffectNote(review.Effect{Kind: k, Uses: 12, Right: 9, Verdict: v, More: 30})
				p.Rows = append(p.Rows, row)
			}
		}
		return p
	case chart.Layers:
		account := layers.Account{Known: true}
		account.Coffee = coffee
		account.Begun.Dose, account.Begun.Yield = 18, 36.5
		p.Title, p.Under, p.Head, p.Words = past.In(l).LayersTitle(account), bycup.In(l).AccountHead(account), l.Say(past.LayersHead), past.In(l).LayersWords(account)
		for i := range p.Cups {
			p.Cups[i].Name, p.Cups[i].Said = past.In(l).LayerName(bar.Layer(i), 12.1), l.Term("sour")+", "+l.Term("salty")
		}
		return p
	}
	return p
}
