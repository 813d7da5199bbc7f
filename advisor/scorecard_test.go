package advisor_test

import (
	"fmt"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"shothand/advisor/simbar"
)

// runs plays n worlds of a row on all cores.
func runs(row simbar.Row, n int, player func(*simbar.World) simbar.Player) []simbar.Result {
	results := make([]simbar.Result, n)
	var workers sync.WaitGroup
	for k := range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := k; i < n; i += runtime.GOMAXPROCS(0) {
				w := simbar.New(row, i)
				if v := os.Getenv("SAYS"); v != "" {
					k, _ := strconv.Atoi(v)
					w.Say(simbar.Says(k))
				}
				results[i] = simbar.Play(w, player(w))
			}
		})
	}
	workers.Wait()
	return results
}

func TestExplore(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("BARS"))
	if n == 0 {
		t.Skip()
	}
	only := os.Getenv("ROW")
	for _, row := range append(simbar.FamilyRows(), simbar.BarRows()...) {
		if only != "" && !strings.Contains(only, string(row)+";") {
			continue
		}
		all := runs(row, n, func(*simbar.World) simbar.Player { return &advised{} })
		if os.Getenv("WHY") != "" {
			count := map[string]int{}
			for i := range n {
				w := simbar.New(row, i)
				p := &advised{}
				if r := simbar.Play(w, p); r.Kept {
					if len(p.last.Reasons) > 0 {
						last := w.Shots()[len(w.Shots())-1]
						e, st := w.TrueReading(last.Set)
						why := "risk"
						if e > 1 || e < -1 {
							why = "extraction"
						} else if st > 1 || st < -1 {
							why = "strength"
						}
						if r.KeptRight {
							why = ""
						}
						count[fmt.Sprint(p.last.Reasons[0].Name, " ", r.KeptRight, " ", why)]++
					}
				} else {
					count["never"]++
				}
			}
			fmt.Println(count)
		}
		if os.Getenv("WORST") != "" {
			for i, r := range all {
				if r.Kept && !r.KeptRight {
					fmt.Print(i, " ")
				}
			}
			fmt.Println()
		}
		s := simbar.Summarise(all)
		var good, after, kn float64
		for _, r := range all {
			if r.FirstGood > 0 && r.Kept && r.KeptRight {
				good += float64(r.FirstGood)
				after += float64(r.FirstKeep - r.FirstGood)
				kn++
			}
		}
		fmt.Printf("good at %.1f, kept %.1f later ", good/kn, after/kn)
		fmt.Printf("%-28s advisor %2.0f / %5.2f / %2.0f  wrong %.3f never %.3f within3 %.2f cost %5.2f first-choke %.3f chokes %.3f", row, s.Median, s.Mean, s.P90, s.Wrong, s.Never, s.Within3, s.Cost, s.FirstMoveChoked, s.Chokes)
		if os.Getenv("RIVALS") == "" {
			fmt.Println()
			continue
		}
		if row.Family() {
			g := simbar.Summarise(runs(row, n, func(*simbar.World) simbar.Player { return simbar.GradedInARow(3) }))
			fmt.Printf(" | graded3 %5.2f wrong %.3f", g.Mean, g.Wrong)
		} else {
			for name, p := range map[string]func() simbar.Player{"one": simbar.OneNotch, "graded": simbar.Graded, "prop": simbar.Proportional, "secant": simbar.Secant, "habit": simbar.Habit} {
				g := simbar.Summarise(runs(row, n, func(*simbar.World) simbar.Player { return p() }))
				fmt.Printf(" | %s %5.2f %.3f", name, g.Cost, g.Wrong)
			}
			o := simbar.Summarise(runs(row, n, func(w *simbar.World) simbar.Player { return simbar.Oracle(w) }))
			fmt.Printf(" | oracle %.2f", o.Cost)
		}
		fmt.Println()
	}
}

func TestReliability(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("BARS"))
	if n == 0 {
		t.Skip()
	}
	var right, all [2][10]float64
	for _, row := range append(simbar.FamilyRows(), simbar.BarRows()...) {
		k := 0
		if !row.Family() {
			k = 1
		}
		for i := range n {
			w := simbar.New(row, i)
			p := &advised{}
			simbar.PlayOn(w, &watched{advised: p, see: func(s simbar.Shot) {
				b := min(int(p.last.Sure*10), 9)
				all[k][b]++
				if w.Right(s.Set) {
					right[k][b]++
				}
			}}, 12)
		}
	}
	for k := range 2 {
		for b := range 10 {
			fmt.Printf("%d sure %.1f: right %.3f of %.0f\n", k, float64(b)/10+0.05, right[k][b]/all[k][b], all[k][b])
		}
	}
}

type watched struct {
	*advised
	see func(simbar.Shot)
}

func (w *watched) Next(shots []simbar.Shot) simbar.Move {
	m := w.advised.Next(shots)
	if !m.Ask {
		w.see(shots[len(shots)-1])
	}
	return m
}

type tracer struct {
	advised
	w *simbar.World
}

func (p *tracer) Next(shots []simbar.Shot) simbar.Move {
	m := p.advised.Next(shots)
	s := shots[len(shots)-1]
	e, st := p.w.TrueReading(s.Set)
	a := p.last
	fmt.Printf("  %2d at %6.2f d%.1f y%.1f t%.1f ch%v sp%v %v | true %.1f s read %+.1f %+.1f right %v | lever %d %g→%g sure %.2f exp %.1f(%.1f-%.1f) %v ask %v keep %v\n", len(shots), s.Grind, s.Dose, s.Yield, s.Time, s.Choked, s.Spurted, s.Tastings, p.w.SteadyTime(s.Set), e, st, p.w.Right(s.Set), a.Lever, a.From, a.To, a.Sure, a.Expect.Time, a.Expect.Low, a.Expect.High, a.Reasons, m.Ask, m.Keep)
	return m
}

func TestTrace(t *testing.T) {
	row, index := os.Getenv("ROW"), os.Getenv("INDEX")
	if row == "" || index == "" {
		t.Skip()
	}
	i, _ := strconv.Atoi(index)
	w := simbar.New(simbar.Row(row), i)
	fmt.Printf("%s %d: %+v\n", row, i, w.Table())
	fmt.Printf("%+v\n", simbar.Play(w, &tracer{w: w}))
}

func TestWhere(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("BARS"))
	row := os.Getenv("ROW")
	if n == 0 || row == "" {
		t.Skip()
	}
	count := map[string]int{}
	for i := range n {
		w := simbar.New(simbar.Row(row), i)
		p := &advised{}
		simbar.Play(w, &watched{advised: p, see: func(s simbar.Shot) {
			l := p.last
			name := ""
			if len(l.Reasons) > 0 {
				name = l.Reasons[0].Name
			}
			liked := l.Read.Praise > 0
			count[fmt.Sprintf("right=%v praised=%v tasted=%v lever=%d %s", w.Right(s.Set), liked, l.Read.Tasted, l.Lever, name)]++
		}})
	}
	type kv struct {
		k string
		v int
	}
	var list []kv
	for k, v := range count {
		list = append(list, kv{k, v})
	}
	slices.SortFunc(list, func(a, b kv) int { return b.v - a.v })
	for _, x := range list[:min(len(list), 45)] {
		fmt.Printf("%.3f %s\n", float64(x.v)/float64(n), x.k)
	}
}
