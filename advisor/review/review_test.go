package review

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat/distuv"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// at returns a minute of a day in March.
func at(day, minute int) time.Time {
	return time.Date(2026, 3, day, 6, 30+minute, 0, 0, time.UTC)
}

// taken returns a step as the advisor gives it: a shot of a second's time after
// one at the same setting.
func taken(id bar.EntryID, who bar.PersonID, when time.Time, seconds float64, more ...func(*advisor.TrailShot)) advisor.TrailShot {
	shot := bar.Shot{
		Coffee: 1, Grinder: 1,
		Grind: bar.Value[bar.Dial]{X: 5, From: bar.Said},
		Dose:  bar.Value[bar.Grams]{X: 18, From: bar.Said},
		Yield: bar.Value[bar.Grams]{X: 36, From: bar.Said},
		Time:  bar.Value[bar.Seconds]{X: bar.Seconds(seconds), From: bar.Said},
	}
	s := advisor.TrailShot{
		Entry: bar.Entry{ID: id, Person: who, At: when, Day: bar.DayOf(when)}, Shot: shot, Grind: -50, Yield: 36,
		Foretold: advisor.Band{Mid: 28, Low: 25, High: 31}, Stayed: advisor.Band{Mid: 28, Low: 25, High: 31},
	}
	for _, change := range more {
		change(&s)
	}
	s.Entry.What = s.Shot
	return s
}

func liked(s *advisor.TrailShot) {
	s.Read = taste.Reading{Tasted: true, Praise: 1, Even: 0.9, ExtractionSD: 0.5, StrengthSD: 0.5}
}

func sour(s *advisor.TrailShot) {
	s.Read = taste.Reading{Tasted: true, Under: true, Even: 0.9, Extraction: -1.5, ExtractionSD: 0.6, StrengthSD: 0.9}
}

func moved(dial float64) func(*advisor.TrailShot) {
	return func(s *advisor.TrailShot) {
		s.Shot.Grind.X, s.Grind, s.Moved = bar.Dial(dial), -dial*10, true
		s.Foretold = advisor.Band{Mid: 31, Low: 28, High: 34}
	}
}

func harbour(steps ...advisor.TrailShot) Course {
	return Course{
		Coffee:  bar.Coffee{ID: 1, Name: "Harbour", Grinder: 1, Recipe: bar.Recipe{Dose: 18, Yield: 36, Low: 25, High: 31}},
		Grinder: bar.Grinder{ID: 1, Name: "left", Step: 0.1, Finer: bar.Lower},
		Trail:   advisor.Trail{Steps: steps},
	}
}

// bookOf returns what a review of a course is made of.
func bookOf(c Course, calls ...bar.Entry) Book {
	b := Book{Coffees: []bar.Coffee{c.Coffee}, Calls: calls, Courses: []Course{c}}
	for _, s := range c.Trail.Steps {
		cup := Cup{Entry: s.Entry, Shot: s.Shot, Read: s.Read}
		cup.Right, cup.Judged = rightness(c.Coffee, s.Shot, s.Read)
		cup.Blamed = blamed(c.Coffee, s.Shot, s.Read)
		b.Cups = append(b.Cups, cup)
	}
	return b
}

func march() Span { return Span{From: "2026-03-01", To: "2026-03-31"} }

// An advice was followed if the shot after it was pulled at least half of the
// way, and nothing was moved where nothing should be.
func TestFollowed(t *testing.T) {
	c := harbour()
	for _, test := range []struct {
		name string
		said Said
		next func(*advisor.TrailShot)
		want bool
	}{
		{"done", Said{Lever: bar.Grind, From: 5, To: 4.8, Unit: advisor.DialUnit}, moved(4.8), true},
		{"half", Said{Lever: bar.Grind, From: 5, To: 4.8, Unit: advisor.DialUnit}, moved(4.9), true},
		{"left", Said{Lever: bar.Grind, From: 5, To: 4.8, Unit: advisor.DialUnit}, moved(5), false},
		{"the other way", Said{Lever: bar.Grind, From: 5, To: 4.8, Unit: advisor.DialUnit}, moved(5.2), false},
		{"far beyond", Said{Lever: bar.Grind, From: 5, To: 4.8, Unit: advisor.DialUnit}, moved(4.5), false},
		{"in steps", Said{Lever: bar.Grind, To: 2, Unit: advisor.StepUnit}, moved(4.8), true},
		{"repeat", Said{Lever: bar.Repeat}, func(*advisor.TrailShot) {}, true},
		{"repeat, moved", Said{Lever: bar.Repeat}, moved(4.9), false},
		{"yield", Said{Lever: bar.Yield, From: 36, To: 40, Unit: advisor.GramUnit}, func(s *advisor.TrailShot) { s.Shot.Yield.X = 39.2 }, true},
		{"yield left", Said{Lever: bar.Yield, From: 36, To: 40, Unit: advisor.GramUnit}, func(*advisor.TrailShot) {}, false},
		{"water, said to be done", Said{Lever: bar.Temperature, From: 92, To: 94, Unit: advisor.CelsiusUnit, Done: true}, func(*advisor.TrailShot) {}, true},
	} {
		p := pair{test.said, taken(1, 1, at(2, 0), 24), taken(2, 1, at(2, 3), 28, test.next)}
		if got := c.followed(p); got != test.want {
			t.Errorf("%s: followed %v", test.name, got)
		}
	}
}

// The advisor's record: what was followed, what came as foretold, and keeps
// that the shots after them spoke against.
func TestRecord(t *testing.T) {
	c := harbour(
		taken(1, 1, at(2, 0), 24),
		taken(2, 1, at(2, 3), 28, moved(4.8)),
		taken(3, 1, at(2, 6), 35), // beyond what was foretold, and out
		taken(4, 1, at(2, 9), 35),
		taken(5, 1, at(3, 0), 28), // of another day
		taken(6, 1, at(3, 3), 35),
		taken(7, 1, at(3, 6), 28), // takes back what 6 said against the keep
	)
	c.Said = []Said{
		{Shot: 1, Lever: bar.Grind, From: 5, To: 4.8, Unit: advisor.DialUnit},
		{Shot: 2, Lever: bar.Keep},
		{Shot: 3, Lever: bar.Grind, From: 4.8, To: 4.6, Unit: advisor.DialUnit}, // not done
		{Shot: 4, Lever: bar.Repeat}, // no shot within 12 hours
		{Shot: 5, Lever: bar.Keep},
	}
	r := Of(march(), bookOf(c)).Record
	if share, level, shots := r.Held(); level != 0.8 || shots != 7 || !(math.Abs(share-2.0/7) < 1e-9) {
		t.Errorf("%v of %d held where %v should", share, shots, level)
	}
	r.Bins = nil
	want := Record{Said: 4, Followed: 3, Keeps: 2, Wrong: 1}
	if diff := cmp.Diff(want, r); diff != "" {
		t.Error(diff)
	}
}

// A morning ends with the call; days without one are not counted.
func TestMornings(t *testing.T) {
	c := harbour(
		taken(1, 1, at(2, 0), 20), taken(2, 1, at(2, 4), 28), taken(3, 2, at(2, 90), 29),
		taken(4, 2, at(3, 0), 22), taken(5, 2, at(3, 3), 24),
		taken(6, 1, at(4, 0), 28),
	)
	call := func(when time.Time, who bar.PersonID) bar.Entry {
		return bar.Entry{Person: who, At: when, Day: bar.DayOf(when), What: bar.Dialled{Coffee: 1}}
	}
	calls := []bar.Entry{call(at(2, 5), 1), call(at(2, 91), 2), call(at(4, 1), 1)}
	r := Of(march(), bookOf(c, calls...))
	want := []Morning{
		{Day: "2026-03-02", Coffee: 1, Shots: 2, Grams: 36, Minutes: 5},
		{Day: "2026-03-04", Coffee: 1, Shots: 1, Grams: 18, Minutes: 1},
	}
	if diff := cmp.Diff(want, r.Mornings); diff != "" {
		t.Error(diff)
	}
	total := Bill{Mornings: 2, Shots: 3, Grams: 54, Minutes: 6, Unpriced: 54}
	if r.Cost.Total != total || r.Cost.Uncalled != 1 || r.Cost.Trend != NoTrend || r.Days != 3 || r.Shots != 6 {
		t.Errorf("cost %+v of %d shots on %d days", r.Cost, r.Shots, r.Days)
	}
}

// Mornings take fewer shots than before where that is beyond chance, and nothing is
// said of too few. It is one computation, so it cannot contradict the two means.
func TestMorningsBesideTheSpanBefore(t *testing.T) {
	mornings := func(shots ...int) (list []Morning) {
		for _, n := range shots {
			list = append(list, Morning{Shots: n})
		}
		return list
	}
	many, few := mornings(4, 5, 4, 3, 5, 4, 6), mornings(2, 1, 2, 3, 2, 2)
	for _, test := range []struct {
		name        string
		now, before []Morning
		want        Trend
	}{
		{"fewer", few, many, Fewer},
		{"more", many, few, More},
		{"alike", mornings(2, 3, 2, 1, 2, 3), few, Alike},
		{"too few before", few, many[:4], NoTrend},
		{"none before", few, nil, NoTrend},
	} {
		if got := compared(test.now, test.before); got != test.want {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

// Liked best is where most cups were liked, not where one was.
func TestBest(t *testing.T) {
	var steps []advisor.TrailShot
	add := func(n int, seconds float64, how func(*advisor.TrailShot)) {
		for range n {
			id := bar.EntryID(len(steps) + 1)
			steps = append(steps, taken(id, 1, at(2, int(id)), seconds, how))
		}
	}
	add(1, 33.5, liked)
	add(6, 28, liked)
	add(2, 28.9, sour)
	add(7, 22, sour)
	course := harbour(steps...)
	own, cups := course.Coffee, bookOf(course).Cups
	got, _ := BestOf(own, cups)
	want := Best{
		Coffee: 1, Low: 27, High: 30, Yield: 36, Dial: 5, HasDial: true,
		Liked: 6, Cups: 8, OtherLiked: 1, OtherCups: 8,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if got, ok := BestOf(own, cups[:4]); ok {
		t.Errorf("of four cups: %+v", got)
	}
}

// Of places that are as good, for all that the cups show, the recipe's is named: a
// recipe that was moved and is liked is not spoken against by the one before.
func TestBestIsTheRecipes(t *testing.T) {
	place := func(yield float64, liked, of int) placed {
		share := distuv.Beta{Alpha: 2 + float64(liked), Beta: 2 + float64(of-liked)}
		return placed{Best{Yield: yield, Liked: liked, Cups: of}, share.Mean(), share.Quantile(0.1)}
	}
	for _, c := range []struct {
		list   []placed
		recipe float64
		want   float64
	}{
		{[]placed{place(36, 24, 25), place(32, 22, 24)}, 32, 32},
		{[]placed{place(36, 24, 25), place(32, 22, 24)}, 36, 36},
		{[]placed{place(36, 24, 25), place(32, 22, 24)}, 28, 36},
		{[]placed{place(36, 24, 25), place(32, 12, 24)}, 32, 36},
		{[]placed{place(32, 5, 8), place(32, 14, 14), place(36, 24, 25)}, 32, 32},
	} {
		if got := bestOf(c.list, c.recipe); got.Yield != c.want || got.Yield == 32 && got.Liked < 14 {
			t.Errorf("%+v with a recipe of %v: %+v", c.list, c.recipe, got)
		}
	}
}

// A review of a person holds nothing of the others.
func TestOwnOnly(t *testing.T) {
	c := harbour(taken(1, 1, at(2, 0), 24), taken(2, 2, at(2, 3), 28, moved(4.8)), taken(3, 1, at(2, 6), 29), taken(4, 2, at(2, 9), 27))
	c.Said = []Said{{Shot: 1, Lever: bar.Grind, From: 5, To: 4.8, Unit: advisor.DialUnit}, {Shot: 2, Lever: bar.Repeat}}
	span := march()
	span.Person = 1
	r := Of(span, bookOf(c, bar.Entry{Person: 2, At: at(2, 10), Day: "2026-03-02", What: bar.Dialled{Coffee: 1}}))
	if r.Shots != 2 || len(r.Effects) != 0 || r.Record.Said != 1 || len(r.Mornings) != 0 {
		t.Errorf("%d shots, %d effects, %d advices, %d mornings", r.Shots, len(r.Effects), r.Record.Said, len(r.Mornings))
	}
}

// Of shots after one well out, some get nearer by themselves, and both are
// counted.
func TestRegress(t *testing.T) {
	c := harbour(
		taken(1, 1, at(2, 0), 20), taken(2, 1, at(2, 3), 27, moved(4.8)),
		taken(3, 1, at(2, 6), 35, moved(4.7)), taken(4, 1, at(2, 9), 30), taken(5, 1, at(2, 12), 21), taken(6, 1, at(2, 15), 20),
	)
	got := Of(march(), bookOf(c)).Regress
	if want := (Regress{Changed: 1, Nearer: 1, Unchanged: 2, NearerAnyway: 1}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// How far single shots lie apart: sd 5 % of 28 s is 1.4 s.
func TestScatter(t *testing.T) {
	var control []witness
	for i := range 400 {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/400-1)
		control = append(control, witness{log: 0.05 * z, mid: 28, weight: 1})
	}
	if e := scatter(control); !(math.Abs(e.Mid-1.4) < 0.01 && e.Low < 1.4 && 1.4 < e.High && e.High-e.Low < 0.2) {
		t.Errorf("%+v", e)
	}
	if e := scatter(control[:3]); e.Mid != 0 {
		t.Errorf("of three: %+v", e)
	}
}

// A coffee of more shots than the advisor replays at once is gone through in
// parts, each shot once and in order.
func TestTrailOfMany(t *testing.T) {
	h := bar.History{Coffees: []bar.Coffee{harbour().Coffee}, Grinders: []bar.Grinder{harbour().Grinder}}
	for i := range 450 {
		s := taken(bar.EntryID(i+1), 1, at(2+i/40, 3*(i%40)), 27+float64(i%3))
		h.Entries = append(h.Entries, s.Entry)
	}
	trail, ok := TrailOf(h, 1, "2026-03-01", at(20, 0))
	if !ok || len(trail.Steps) != 450 {
		t.Fatalf("%d steps of 450", len(trail.Steps))
	}
	for i, s := range trail.Steps {
		if s.Entry.ID != bar.EntryID(i+1) || i > 0 && !(s.Foretold.Mid > 20) {
			t.Fatalf("step %d is shot %d, expected %v", i, s.Entry.ID, s.Foretold)
		}
	}
	if trail, _ := TrailOf(h, 1, "2026-03-12", at(20, 0)); len(trail.Steps) >= 450 || len(trail.Steps) < 50 {
		t.Errorf("%d steps since the last days", len(trail.Steps))
	}
}
