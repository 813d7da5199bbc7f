package lookback_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/advisor/bar"
	"shothand/advisor/review"
	"shothand/bot"
	"shothand/bot/chart"
	"shothand/bot/chat"
	"shothand/bot/lookback"
	"shothand/bot/say/past"
	"shothand/store"
)

// fortnight types two weeks of two coffees and returns what looking back on them
// reads.
func fortnight(t *testing.T) lookback.Back {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "bar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	b, dice, n := bot.New(s, bot.Options{Open: true}), rand.New(rand.NewPCG(14, 2)), 0
	var at time.Time
	var coffees []bar.Coffee
	typed := func(text string) {
		n++
		at = at.Add(3 * time.Minute)
		b.Handle(chat.Message{ID: fmt.Sprint(n), Channel: "lane", From: chat.Person{ID: "mara", Name: "mara"}, Manager: true, At: at, Text: text})
	}
	at = time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)
	typed("/setup zone:UTC currency:EUR")
	for _, c := range []string{"harbour", "tide"} {
		typed("/grinder add name:g" + c + " finer:lower step:0.1")
		typed("/coffee add name:" + c + " grinder:g" + c + " dose:18 yield:36 time:25-31 price:24")
	}
	for day := range 14 {
		at = time.Date(2026, 3, 2+day, 6, 30, 0, 0, time.UTC)
		for _, c := range []string{"harbour", "tide"} {
			if dice.Float64() < 0.6 {
				typed(c + " 18 36 22, grind 5.2, sour")
			}
			if dice.Float64() < 0.3 {
				typed(c + " 18 36 23, grind 5.2, a bit sour")
			}
			typed(c + " 18 36 28, grind 5, balanced")
			if dice.Float64() < 0.8 {
				typed("/dialled coffee:" + c)
			}
			for range 3 {
				typed(fmt.Sprintf("%s 18 36 %.0f, grind 5, %s", c, 28+dice.NormFloat64(), []string{"balanced", "balanced", "bitter"}[dice.IntN(3)]))
			}
		}
	}
	records := lookback.Records{See: s.View, Now: at}
	err = s.View(func(tx *store.Tx) (err error) {
		id, _ := tx.BarOf("lane")
		if records.Bar, err = tx.Bar(id); err == nil {
			coffees, err = tx.Coffees(id)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	asked := past.LookBack{Span: review.Span{From: "2026-02-17", To: bar.DayOf(at)}}
	l, err := records.Of(asked, coffees)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Each picture shows the figures that the review says: those of what changes did
// to the last digit, the shots of mornings and days one by one.
func TestPicturesShowTheReview(t *testing.T) {
	l := fortnight(t)
	r := l.Review
	p, ok := l.EffectsPicture()
	rows, isRows := p.Picture.(chart.Rows)
	if !ok || !isRows || len(rows.Rows) == 0 {
		t.Fatalf("no picture of what changes did: %+v", r.Effects)
	}
	i := 0
	for _, e := range r.Effects {
		if e.Uses < review.Few {
			continue
		}
		row := rows.Rows[i]
		i++
		if row.X != e.Cups.Mid || row.Low != e.Cups.Low || row.High != e.Cups.High || !strings.HasPrefix(row.Name, l.Kind(e.Kind)) || !strings.HasSuffix(row.Name, l.Verdict(e.Verdict)) {
			t.Errorf("the picture shows %+v of %+v", row, e)
		}
	}
	if i != len(rows.Rows) {
		t.Errorf("%d rows of %d kinds", len(rows.Rows), i)
	}
	p, _ = l.CostPicture()
	shots := 0.0
	for _, m := range p.Picture.(chart.Cost).Mornings {
		shots += m.Shots
	}
	if shots != float64(r.Cost.Total.Shots) || r.Cost.Uncalled == 0 {
		t.Errorf("mornings show %.0f shots, cost %d, %d uncalled", shots, r.Cost.Total.Shots, r.Cost.Uncalled)
	}
	p, _ = l.CalibrationPicture()
	for i, row := range p.Picture.(chart.Rows).Rows {
		if bin := r.Record.Bins[i]; row.X != 100*bin.Share || row.Against != 100*bin.Level {
			t.Errorf("the picture shows %+v of %+v", row, bin)
		}
	}
	theTrouble(t, l)
	everyDay(t, l)
	everyCoffee(t, l)
}

// theTrouble holds the picture of trouble to what is said of it.
func theTrouble(t *testing.T, l lookback.Back) {
	t.Helper()
	p, ok := l.TroublePicture()
	if !ok {
		t.Fatal("no picture of trouble")
	}
	said := strings.ToLower(l.Text(false))
	for _, row := range p.Picture.(chart.Rows).Rows {
		off, _, _ := strings.Cut(row.Note, " cups off")
		if !strings.Contains(said, strings.ToLower(row.Name)+" "+off) {
			t.Errorf("the picture shows %s %s, which is not said", row.Name, row.Note)
		}
		var n, of float64
		if _, err := fmt.Sscanf(off, "%g of %g", &n, &of); err != nil || row.X != 100*(n/of) || !(row.Low < row.X && row.X < row.High) {
			t.Errorf("%s: %s is drawn at %v, %v to %v", row.Name, row.Note, row.X, row.Low, row.High)
		}
	}
}

// everyDay holds the pictures of days to the cups of the review.
func everyDay(t *testing.T, l lookback.Back) {
	t.Helper()
	want := map[bar.Day]int{}
	for _, c := range l.Book.Cups {
		if l.Span.Holds(c.Entry) && c.Shot.Time.From != bar.None {
			want[c.Entry.Day]++
		}
	}
	all := 0
	for day, n := range want {
		p, _ := l.DayPicture(day)
		shown := 0
		for _, c := range p.Picture.(chart.Day).Coffees {
			shown += len(c.Shots)
		}
		if all += shown; shown != n {
			t.Errorf("%s shows %d of %d shots", day, shown, n)
		}
	}
	if all != l.Review.Shots {
		t.Errorf("the days show %d shots, the review has %d", all, l.Review.Shots)
	}
}

// everyCoffee holds the pictures of coffees to the review's figures of them.
func everyCoffee(t *testing.T, l lookback.Back) {
	t.Helper()
	for _, c := range l.Book.Courses {
		p, ok := lookback.CurvePicture(l.Lang, c, l.Span)
		if !ok {
			t.Fatalf("no curve of %s", c.Coffee.Name)
		}
		cups := 0
		for _, one := range l.Review.Coffees {
			if one.Coffee == c.Coffee.ID {
				cups = one.Cups
			}
		}
		if n := len(p.Picture.(chart.Curve).Shots); n != cups {
			t.Errorf("%s's curve shows %d of %d shots", c.Coffee.Name, n, cups)
		}
		for _, w := range l.Review.Worth {
			under := p.Picture.(chart.Curve).Under
			if said := l.Number(math.Round(10*w.Band.Mid)/10) + " s"; w.Coffee.ID == c.Coffee.ID && review.HasShown(w.Band) && !strings.HasSuffix(under, said) {
				t.Errorf("%s's curve says %q, the review %s", c.Coffee.Name, under, said)
			}
		}
	}
}
