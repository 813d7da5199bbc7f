package advisor_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"shothand/advisor/simbar"
)

// A sheet is text of tables.
type sheet struct{ strings.Builder }

func (s *sheet) printf(format string, values ...any) {
	s.Write(fmt.Appendf(nil, format, values...))
}

// head begins a part of the sheet and says what it shows.
func (s *sheet) head(title, about string) { s.printf("\n# %s\n\n%s\n\n", title, about) }

// table writes rows of cells, each column as wide as its widest.
func (s *sheet) table(rows [][]string) {
	width := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var cells []string
		for i, cell := range row {
			cells = append(cells, fmt.Sprintf("%-*s", width[i], cell))
		}
		s.WriteString(strings.TrimRight(strings.Join(cells, "  "), " ") + "\n")
	}
}

// render writes c out.
func (c *card) render(hash string) string {
	var s sheet
	s.printf("%s%s\n# %d bars a row\n", hashHead, hash, c.bars)
	c.renderFigures(&s)
	c.renderFamily(&s)
	c.renderBars(&s)
	c.renderParts(&s)
	renderCover(&s, "base rows", c.base)
	renderCover(&s, "8 % noise", c.noisy)
	c.renderClaims(&s)
	return s.String()
}

func (c *card) renderFigures(s *sheet) {
	s.head("Figures to reach", `"advisor" is told of each setting whether it is right, "by the shot" of each shot.
Against graded: mean shots, where the advisor keeps wrongly no more often; the
rival keeps after three in a row inside, which is wrong about one time in twenty.`)
	limit := func(f figure, x float64) string {
		if math.IsNaN(x) {
			return "-"
		}
		sign := "≤ "
		if f.least {
			sign = "≥ "
		}
		return sign + fmt.Sprintf(f.format, x)
	}
	rows := [][]string{{"what", "is", "reach", "beyond", ""}}
	for _, f := range c.figures() {
		rows = append(rows, []string{f.what, f.is(), limit(f, f.reach), limit(f, f.beyond), f.verdict()})
	}
	s.table(rows)
}

func (c *card) renderFamily(s *sheet) {
	s.head("(a) The model's own family", `Shots to a right keep. Wrong: first keeps that were wrong; never: no right keep in
40 shots; chokes: a bar; first: of the first moves of the grind.`)
	s.table(lineRows(c.lines, true))
}

func (c *card) renderBars(s *sheet) {
	s.head("(b) Bars the model was not built from", "Shots to the first keep; cost: shots, and 8 more for a wrong or missing keep.")
	s.table(lineRows(c.lines, false))
	s.head("(b) Mean over the rows", "Every row counts the same. ±: the standard error, of the bars of each row.")
	rows := [][]string{{"player", "cost", "±", "× habit", "±", "wrong", "never", "chokes"}}
	for _, e := range entrants(false) {
		mean := func(of func(*line) float64) float64 { return c.overBars(e.name, of) }
		rows = append(rows, []string{
			e.name,
			fmt.Sprintf("%.2f", mean(func(l *line) float64 { return l.Cost })),
			fmt.Sprintf("%.2f", c.doubt(e.name, 0)),
			fmt.Sprintf("%.2f", c.times(e.name)),
			fmt.Sprintf("%.3f", c.doubt(e.name, c.times(e.name))/c.overBars(habit, func(l *line) float64 { return l.Cost })),
			percent(mean(func(l *line) float64 { return l.Wrong })),
			percent(mean(func(l *line) float64 { return l.Never })),
			fmt.Sprintf("%.3f", mean(func(l *line) float64 { return l.Chokes })),
		})
	}
	s.table(rows)
}

func (c *card) renderParts(s *sheet) {
	s.head("What each part earns", `The advisor without a part, beside itself whole. Rows of (a) are told by the shot.
No taste: every word is withheld, and kept is what the advice has left alone for
three shots. No carry-over: every run is a new coffee on a new grinder. No
retention, fixed noise: a grid without old grounds, or with a noise of 5 % only.`)
	rows := [][]string{lineHead()}
	for _, l := range c.ablated {
		beside := byAdvisor
		if l.row.Family() {
			beside = byShot
		}
		rows = append(rows, c.at(l.row, beside).cells("whole"), l.cells(l.name))
	}
	s.table(rows)
}

func lineHead() []string {
	return []string{"row", "player", "median", "mean", "p90", "wrong", "never", "within 3", "cost", "chokes", "first"}
}

// lineRows returns the lines of the family, or of bars.
func lineRows(lines []*line, family bool) [][]string {
	rows := [][]string{lineHead()}
	for _, l := range lines {
		if l.row.Family() == family {
			rows = append(rows, l.cells(l.name))
		}
	}
	return rows
}

func (l *line) cells(name string) []string {
	return []string{
		string(l.row), name, fmt.Sprintf("%.0f", l.Median), fmt.Sprintf("%.2f", l.Mean), fmt.Sprintf("%.0f", l.P90),
		percent(l.Wrong), percent(l.Never), percent(l.Within3), fmt.Sprintf("%.2f", l.Cost),
		fmt.Sprintf("%.3f", l.Chokes), percent(l.firstMoves),
	}
}

func percent(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

func renderCover(s *sheet, where string, c *calibration) {
	s.head("Calibration: "+where, `What is foretold is the time of each shot as the clock shows it, given its grind,
its dose, its yield and whether it was purged, by the filter that advised it. Every
bar goes on to shot 12. Share of times inside the central intervals; the scores
are of log time, less is better.`)
	rows := [][]string{{"shot", "50 %", "80 %", "90 %", "95 %", "CRPS", "score of 80 %"}}
	for number := firstForetold; number <= lastForetold; number++ {
		f := c[number]
		row := []string{fmt.Sprint(number)}
		for _, level := range []float64{0.5, 0.8, 0.9, 0.95} {
			row = append(row, percent(covered(f, level)))
		}
		rows = append(rows, append(row,
			fmt.Sprintf("%.4f", meanOf(f, func(f forecast) float64 { return f.crps })),
			fmt.Sprintf("%.3f", meanOf(f, func(f forecast) float64 { return f.score }))))
	}
	s.table(rows)
	all := slices.Concat(c[firstForetold:]...)
	s.printf("\nTenths of the distribution, each to hold 10 %%:")
	for k := range 10 {
		s.printf(" %.1f", 100*shareOf(all, func(f forecast) bool { return min(int(10*f.pit), 9) == k }))
	}
	s.WriteString("\n")
}

func (c *card) renderClaims(s *sheet) {
	s.head("Reliability of the probability that the setting just used is right",
		"Claimed: its mean; right: the share that was; n: advices, up to the end of each run.")
	rows := [][]string{{"between", "by setting: claimed", "right", "n", "by the shot: claimed", "right", "n", "bars: claimed", "right", "n"}}
	for k := range 10 {
		row := []string{fmt.Sprintf("%.1f to %.1f", float64(k)/10, float64(k+1)/10)}
		for _, group := range []string{byAdvisor, byShot, "bars"} {
			row = append(row, claimCells(c.claims[group], k)...)
		}
		rows = append(rows, row)
	}
	s.table(rows)
	s.head("The same in each row of bars, from 0.5 up",
		"Off: by how much what is claimed misses what is right, mean over the tenths. Kept: the same where it says keep.")
	rows = [][]string{{"row", "claimed", "right", "n", "off", "kept: claimed", "right", "n"}}
	for _, row := range simbar.BarRows() {
		rows = append(rows, rowClaims(row, c.at(row, byAdvisor).claims))
	}
	s.table(rows)
}

// rowClaims sums up the claims of a row that are at least one half.
func rowClaims(row simbar.Row, all []claim) []string {
	sure := func(c claim) float64 { return c.sure }
	right := func(c claim) bool { return c.right }
	likely := slices.DeleteFunc(slices.Clone(all), func(c claim) bool { return c.sure < 0.5 })
	kept := slices.DeleteFunc(slices.Clone(all), func(c claim) bool { return !c.keep })
	cells := []string{string(row)}
	off := 0.0
	for k := 5; k < 10; k++ {
		tenth := slices.DeleteFunc(slices.Clone(likely), func(c claim) bool { return min(int(10*c.sure), 9) != k })
		if len(tenth) > 0 {
			off += float64(len(tenth)) / float64(len(likely)) * math.Abs(meanOf(tenth, sure)-shareOf(tenth, right))
		}
	}
	for i, claims := range [][]claim{likely, kept} {
		cells = append(cells, fmt.Sprintf("%.3f", meanOf(claims, sure)), fmt.Sprintf("%.3f", shareOf(claims, right)), fmt.Sprint(len(claims)))
		if i == 0 {
			cells = append(cells, fmt.Sprintf("%.3f", off))
		}
	}
	return cells
}

// claimCells sums up the claims of one tenth.
func claimCells(all []claim, tenth int) []string {
	claims := slices.DeleteFunc(slices.Clone(all), func(c claim) bool { return min(int(10*c.sure), 9) != tenth })
	if len(claims) == 0 {
		return []string{"-", "-", "0"}
	}
	return []string{
		fmt.Sprintf("%.3f", meanOf(claims, func(c claim) float64 { return c.sure })),
		fmt.Sprintf("%.3f", shareOf(claims, func(c claim) bool { return c.right })),
		fmt.Sprint(len(claims)),
	}
}
