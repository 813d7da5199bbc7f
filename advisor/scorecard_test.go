package advisor_test

import (
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/simbar"
)

var (
	update = flag.Bool("update", false, "rewrite the tables in testdata/advisor")
	full   = flag.Bool("full", false, "2,000 bars a row instead of 50, which takes an hour")
)

const (
	golden     = "../testdata/advisor/scorecard.golden"
	goldenFull = "../testdata/advisor/scorecard-full.golden"
)

// TestScorecard plays the advisor and its rivals on simulated bars and holds
// the table to the one in the tree. It fails where a figure is missed that the
// table does not list as short. The list is kept by hand: -update leaves it.
//
//	go test ./advisor -run Scorecard$ -update                    50 bars a row
//	go test ./advisor -run Scorecard$ -full -update -timeout 0    2,000 bars a row
func TestScorecard(t *testing.T) {
	if raced || testing.Short() {
		t.Skip("takes minutes")
	}
	bars, file := 50, golden
	if *full {
		bars, file = 2000, goldenFull
	}
	old, err := os.ReadFile(file)
	if err != nil && !*update {
		t.Fatal(err)
	}
	table, shorts, _ := strings.Cut(string(old), shortsHead)
	c := newCard(bars)
	checkShorts(t, c.figures(), shorts)
	got := c.render(modelHash(t))
	if *update {
		if err := os.WriteFile(file, []byte(got+shortsHead+shorts), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("other machines round differently")
	}
	if diff := cmp.Diff(unhashed(table), unhashed(got)); diff != "" {
		t.Errorf("%s differs (-want +got); if that is meant, run with -update:\n%s", file, diff)
	}
}

// TestFullScorecard looks at the full table as it stands: a figure that it shows
// as short has to be in its list. It says so where the model has changed since;
// making the table takes too long to ask for it at every change.
func TestFullScorecard(t *testing.T) {
	text, err := os.ReadFile(goldenFull)
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("not made yet: go test ./advisor -run Scorecard$ -full -update -timeout 0")
	}
	if err != nil {
		t.Fatal(err)
	}
	table, shorts, _ := strings.Cut(string(text), shortsHead)
	if !strings.HasPrefix(table, hashHead+modelHash(t)+"\n") {
		t.Logf("%s is stale: the model has changed since", goldenFull)
	}
	listed := listedShorts(shorts)
	for line := range strings.Lines(table) {
		what, rest, _ := strings.Cut(strings.TrimSpace(line), "  ")
		if strings.HasSuffix(rest, " "+short) && !listed[what] {
			t.Errorf("short, and not listed: %s", what)
		}
	}
}

// shortsHead begins the list of figures that are known to be short, one a line:
// the figure, a bar, and why.
const shortsHead = "\n# Known to be short\n"

// checkShorts fails for figures that are short and not in the list.
func checkShorts(t *testing.T, figures []figure, list string) {
	t.Helper()
	listed := listedShorts(list)
	for _, f := range figures {
		switch {
		case f.isShort() && !listed[f.what]:
			t.Errorf("short, and not listed: %s: %s, to reach "+f.format, f.what, f.is(), f.reach)
		case !f.isShort() && listed[f.what]:
			t.Logf("listed as short, but is not: %s", f.what)
		}
	}
}

// listedShorts returns the figures that a list names.
func listedShorts(list string) map[string]bool {
	listed := map[string]bool{}
	for line := range strings.Lines(list) {
		what, _, _ := strings.Cut(line, "|")
		listed[strings.TrimSpace(what)] = true
	}
	return listed
}

// A line is how one player did in one row.
type line struct {
	row  simbar.Row
	name string
	simbar.Summary
	firstMoves float64 // share of first moves of the grind that choke
	results    []simbar.Result
	claims     []claim
}

// A card is all that was measured.
type card struct {
	bars        int
	lines       []*line
	ablated     []*line
	claims      map[string][]claim // by what was played
	base, noisy *calibration
}

// newCard plays everything.
func newCard(bars int) *card {
	c := &card{bars: bars, claims: map[string][]claim{}}
	for _, row := range slices.Concat(simbar.FamilyRows(), simbar.BarRows()) {
		for _, e := range entrants(row.Family()) {
			s := play(row, bars, e)
			c.lines = append(c.lines, s.line(row, e.name))
			group := e.name
			if !row.Family() {
				group = "bars"
			}
			c.claims[group] = append(c.claims[group], s.claims...)
		}
	}
	for _, a := range ablations() {
		for _, row := range a.rows {
			s := play(row, bars, entrant{says: simbar.OfShot, make: without(a.part)})
			c.ablated = append(c.ablated, s.line(row, a.name))
		}
	}
	c.base = calibrate(baseRows(), bars)
	c.noisy = calibrate([]simbar.Row{simbar.Noisy}, bars)
	return c
}

// line sums s up.
func (s season) line(row simbar.Row, name string) *line {
	moved := slices.DeleteFunc(slices.Clone(s.results), func(r simbar.Result) bool { return !r.Moved })
	l := &line{row: row, name: name, Summary: simbar.Summarise(s.results), results: s.results, claims: s.claims}
	if len(moved) > 0 {
		l.firstMoves = shareOf(moved, func(r simbar.Result) bool { return r.FirstMoveChoked })
	}
	return l
}

// at returns the line of a player in a row.
func (c *card) at(row simbar.Row, name string) *line {
	for _, l := range c.lines {
		if l.row == row && l.name == name {
			return l
		}
	}
	panic(fmt.Sprintf("%s has not played %q", name, row))
}

// hashHead begins the first line of a table.
const hashHead = "# Model "

// unhashed returns a table without its first line.
func unhashed(table string) string {
	_, rest, _ := strings.Cut(table, "\n")
	return rest
}

// modelHash returns a hash of all that decides what a table says.
func modelHash(t *testing.T) string {
	t.Helper()
	var files []string
	for _, pattern := range []string{"*.go", "bar/*.go", "ageing/*.go", "extraction/*.go", "flow/*.go", "history/*.go", "taste/*.go", "taste/lexicon.txt", "simbar/*.go"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	slices.Sort(files)
	sum := sha256.New()
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		sum.Write(fmt.Appendf(nil, "%s %d\n%s", name, len(text), text))
	}
	return fmt.Sprintf("%x", sum.Sum(nil)[:8])
}
