package advisor_test

import (
	"shothand/advisor/flow"
	"shothand/advisor/simbar"
)

// A part is what an advised has to do without, to see what it earns. What is
// asked is still the advisor, told less, or with less of the grid to believe in.
type part int

const (
	whole part = iota
	// noTaste withholds every word. A setting is kept once the advice has left
	// three shots in a row where they were, as a bar does where nobody speaks.
	noTaste
	// noCarry gives every run a new grinder and a new coffee.
	noCarry
	// noRetention starts from a grid that holds no old grounds.
	noRetention
	// fixedNoise starts from a grid that holds one noise only, 5 %.
	fixedNoise
)

// What part is taken from: the grid of package flow, whose index runs over
// slopes, then retentions, and the noise it begins with.
const (
	gridRetentions = len(flow.Effective{})
	usualNoise     = 0.05
)

// given returns what the filter is told of the grinder before its first shot,
// nil for nothing.
func (p part) given() *flow.Carried {
	if p != noRetention && p != fixedNoise {
		return nil
	}
	var c flow.Carried
	for i := range c.Odds {
		if p == fixedNoise || i%gridRetentions == 0 {
			c.Odds[i] = 1
		}
	}
	if p == fixedNoise {
		c.Shots, c.Scatter = 1e6, 1e6*usualNoise*usualNoise
	}
	return &c
}

// An ablation is a row played without a part, and what is held up by it.
type ablation struct {
	part
	name string
	rows []simbar.Row
}

// ablations returns what is taken away, and where it should tell.
func ablations() []ablation {
	return []ablation{
		{noTaste, "no taste", []simbar.Row{simbar.Cold, simbar.Bars, simbar.OutsideTyped}},
		{noCarry, "no carry-over", []simbar.Row{simbar.KnownGrinder, simbar.NextMorning, simbar.SecondCoffee, simbar.BarMorning}},
		{noRetention, "no retention", []simbar.Row{simbar.Cold, simbar.Retentive, simbar.Bars, simbar.Forgetful}},
		{fixedNoise, "fixed noise", []simbar.Row{simbar.Cold, simbar.Noisy, simbar.Bars}},
	}
}
