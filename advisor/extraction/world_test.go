package extraction

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"testing"
	"text/tabwriter"
)

var update = flag.Bool("update", false, "rewrite testdata/world.golden")

// A claim is something published that the model also says something of.
type claim struct {
	source    string
	what      string
	low, high float64 // as published; the same where it is one number
	noise     float64 // what the publication scatters by or is printed to
	model     float64
	tolerance float64 // the miss that we know of, rounded up: more is a fault
	note      string  // why they part, if they do
}

// miss returns how far the model is from what was published.
func (c claim) miss() float64 {
	switch {
	case c.model < c.low:
		return c.model - c.low
	case c.model > c.high:
		return c.model - c.high
	}
	return 0
}

// published prints the number or the band.
func (c claim) published() string {
	if c.low == c.high {
		return fmt.Sprintf("%.2f", c.low)
	}
	if math.IsInf(c.high, 1) {
		return fmt.Sprintf("> %.2f", c.low)
	}
	return fmt.Sprintf("%.2f to %.2f", c.low, c.high)
}

// verdict says whether model and publication agree within the latter's noise.
func (c claim) verdict() string {
	if math.Abs(c.miss()) <= c.noise {
		return "agrees"
	}
	if c.note == "" {
		return "PARTS"
	}
	return "PARTS: " + c.note
}

// point is a claim of one number.
func point(source, what string, published, noise, model, tolerance float64) claim {
	return claim{source: source, what: what, low: published, high: published, noise: noise, model: model, tolerance: tolerance}
}

// because adds why model and publication part.
func (c claim) because(note string) claim { c.note = note; return c }

// The model against everything published that it can be asked, in one table.
// A miss may not grow beyond what is recorded here.
func TestAgainstTheWorld(t *testing.T) {
	claims := worldClaims(t)
	for _, c := range claims {
		if !(math.Abs(c.miss()) <= c.tolerance) {
			t.Errorf("%s, %s: published %s, model %.3f; the miss of %.3f exceeds the %.3f on record",
				c.source, c.what, c.published(), c.model, c.miss(), c.tolerance)
		}
	}
	got := worldTable(t, claims)
	const file = "testdata/world.golden"
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs (rewrite with -update):\n%s", file, got)
	}
}

// worldTable prints claims as they are kept.
func worldTable(t *testing.T, claims []claim) []byte {
	t.Helper()
	var b bytes.Buffer
	fmt.Fprintln(&b, "# The extraction model against published numbers. noise: what the publication")
	fmt.Fprintln(&b, "# scatters by or is printed to; limit: the largest miss that the test lets pass.")
	fmt.Fprintln(&b, "# Fitted: the first three rows, exactly. Chosen with sight of the rest: the")
	fmt.Fprintln(&b, "# constants that Default says are.")
	var cells bytes.Buffer
	fmt.Fprintln(&cells, "source\twhat\tpublished\tnoise\tmodel\tmiss\tlimit\tverdict")
	parts := 0
	for _, c := range claims {
		if c.verdict() != "agrees" {
			parts++
		}
		fmt.Fprintf(&cells, "%s\t%s\t%s\t%.2f\t%.2f\t%+.2f\t%.2f\t%s\n",
			c.source, c.what, c.published(), c.noise, c.model, math.Round(100*c.miss())/100+0, c.tolerance, c.verdict())
	}
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	if _, err := cells.WriteTo(w); err != nil {
		t.Fatal(err)
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&b, "# %d of %d part.\n", parts, len(claims))
	return b.Bytes()
}

// worldClaims returns all claims, each beside its source.
func worldClaims(t *testing.T) []claim {
	t.Helper()
	var all []claim
	for _, claims := range [][]claim{
		claimsOfCups(t), claimsOfCuts(t), claimsOfLevers(t), claimsOfTime(t),
		claimsOfFit(t), claimsOfDose(t), claimsOfFront(t), claimsOfCaffeine(t),
	} {
		all = append(all, claims...)
	}
	return all
}
