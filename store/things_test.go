package store

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor"
	"shothand/advisor/bar"
	"shothand/advisor/why"
)

// One account is one person, by the name last shown.
func TestPersonOf(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	update(t, s, func(tx *Tx) error {
		for _, p := range []struct{ account, name, want string }{
			{"1002", "jo", "jo"}, {"1002", "", "jo"}, {"1002", "jo!", "jo!"}, {"1003", "jo!", "jo!"},
		} {
			got, err := tx.PersonOf(c.bar, p.account, p.name)
			if err != nil || got.Name != p.want {
				t.Errorf("%v: %+v, %v", p, got, err)
			}
		}
		return nil
	})
	view(t, s, func(tx *Tx) error {
		got, err := tx.People(c.bar)
		want := []bar.Person{
			{ID: 1, Account: "1001", Name: "mara"}, {ID: 2, Account: "1002", Name: "jo!"}, {ID: 3, Account: "1003", Name: "jo!"},
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("people (-want +got):\n%s", diff)
		}
		// Known people are found without the right to write.
		_, err2 := tx.PersonOf(c.bar, "1001", "mara")
		if err2 != nil {
			t.Error(err2)
		}
		return err
	})
}

// Who wants to be mentioned stays so under a new name.
func TestPutPerson(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	update(t, s, func(tx *Tx) error {
		p, err := tx.PersonOf(c.bar, "1002", "jo")
		if err != nil {
			return err
		}
		p.Mention = true
		if err := tx.PutPerson(c.bar, p); err != nil {
			return err
		}
		got, err := tx.PersonOf(c.bar, "1002", "joanna")
		if want := (bar.Person{ID: p.ID, Account: "1002", Name: "joanna", Mention: true}); got != want {
			t.Errorf("got %+v, want %+v", got, want)
		}
		return err
	})
}

// A channel is one bar, and bars do not see each other.
func TestBarsAreApart(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	add(t, s, c.bar, entry("m1", morning(), shot(c.harbour, c.left)))
	var second bar.Bar
	update(t, s, func(tx *Tx) (err error) {
		second, err = tx.AddBar("quay", bar.Bar{Name: "Quay", Order: bar.DoseTimeYield, Zone: "Europe/Berlin"})
		return err
	})
	if err := s.Update(func(tx *Tx) error { _, err := tx.AddBar("quay", bar.Bar{}); return err }); err == nil {
		t.Error("a second bar on one channel")
	}
	view(t, s, func(tx *Tx) error {
		bars, err := tx.Bars()
		want := []bar.Bar{{ID: c.bar, Name: "Harbour Lane"}, second}
		if diff := cmp.Diff(want, bars); diff != "" {
			t.Errorf("bars (-want +got):\n%s", diff)
		}
		if id, ok := tx.BarOf("quay"); !ok || id != second.ID {
			t.Errorf("bar of quay: %d, %v", id, ok)
		}
		if channel, err := tx.ChannelOf(second.ID); channel != "quay" || err != nil {
			t.Errorf("channel: %q, %v", channel, err)
		}
		if _, ok := tx.BarOf("nowhere"); ok {
			t.Error("a bar nowhere")
		}
		coffees, err2 := tx.Coffees(second.ID)
		if len(coffees) != 0 || tx.Seen(second.ID, "m1") || err2 != nil {
			t.Error("the second bar knows the first one's records")
		}
		return err
	})
}

// A replaced coffee keeps its id; new ones never take an old one's.
func TestPutCoffee(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	update(t, s, func(tx *Tx) error {
		imported := bar.Coffee{ID: 9, Name: "Ebb"}
		changed := bar.Coffee{ID: c.tide, Name: "Tide", Recipe: bar.Recipe{Dose: 18, Yield: 40, Low: 27, High: 33}}
		next := bar.Coffee{Name: "Flow"}
		for _, c1 := range []*bar.Coffee{&imported, &changed, &next} {
			if err := tx.PutCoffee(c.bar, c1); err != nil {
				return err
			}
		}
		all, err := tx.Coffees(c.bar)
		if diff := cmp.Diff([]bar.Coffee{changed, imported, next}, []bar.Coffee{all[1], all[3], all[4]}); diff != "" {
			t.Errorf("coffees (-want +got):\n%s", diff)
		}
		if next.ID != 10 {
			t.Errorf("next id %d, want 10", next.ID)
		}
		return err
	})
}

// The last advice on a coffee is the last by time, as it was put last.
func TestAdvice(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	said := func(e bar.EntryID, minute int) Said {
		return Said{
			Entry: e, Coffee: c.harbour, Grinder: c.left, Person: c.mara, Model: "1",
			At:    morning().Add(time.Duration(minute) * time.Minute),
			Lever: bar.Grind, From: 5.2, To: 4.9, Unit: advisor.DialUnit, Purge: true,
			Expect: advisor.Expect{Time: 27.5, Low: 25, High: 30.1, Level: 0.8},
			Sure:   0.62, State: advisor.Drifting,
			Reasons: []why.Reason{why.UnderExtracted},
		}
	}
	newest := said(1, 5)
	update(t, s, func(tx *Tx) error {
		for _, a := range []Said{said(2, 3), said(1, 1), newest} {
			if err := tx.PutAdvice(c.bar, a); err != nil {
				return err
			}
		}
		newest.Followed = true
		return tx.PutAdvice(c.bar, newest)
	})
	view(t, s, func(tx *Tx) error {
		got, found, err := tx.LastAdvice(c.bar, c.harbour)
		if diff := cmp.Diff(newest, got); diff != "" || !found {
			t.Errorf("last advice (-want +got):\n%s", diff)
		}
		if _, found, err := tx.LastAdvice(c.bar, c.tide); found || err != nil {
			t.Errorf("advice on tide: %v, %v", found, err)
		}
		if got, found, err := tx.AdviceOf(c.bar, 2); !found || err != nil || !got.At.Equal(said(2, 3).At) {
			t.Errorf("advice on entry 2: %+v, %v, %v", got, found, err)
		}
		return err
	})
}

// A live reply is found as such, whatever its answers say.
func TestLiveReplies(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	taps := []Tap{{Label: `"live":true`, State: `{"live":true}`}}
	live := Reply{Cause: "m1", Kind: "advice", Live: true, At: morning(), Taps: taps}
	over := Reply{Cause: "m2", Kind: "advice", At: morning(), Taps: taps}
	update(t, s, func(tx *Tx) error { return errors.Join(tx.PutReply(c.bar, live), tx.PutReply(c.bar, over)) })
	view(t, s, func(tx *Tx) error {
		for cause, want := range map[string]Reply{"m1": live, "m2": {}, "m3": {}} {
			got, found, err := tx.LiveReply(c.bar, cause)
			if diff := cmp.Diff(want, got); diff != "" || found != want.Live || err != nil {
				t.Errorf("%s: %v, %v (-want +got):\n%s", cause, found, err, diff)
			}
		}
		return nil
	})
}

// A reply is pending until it is sent, and then is found by its post.
func TestReplies(t *testing.T) {
	s := openTest(t)
	c := harbourLane(t, s)
	later := Reply{Cause: "m1", Entry: 1, Kind: "advice", At: morning().Add(time.Minute)}
	sooner := Reply{Cause: "m2", Kind: "question", At: morning()}
	update(t, s, func(tx *Tx) error {
		if err := tx.PutReply(c.bar, later); err != nil {
			return err
		}
		return tx.PutReply(c.bar, sooner)
	})
	pending := func(want ...Reply) {
		t.Helper()
		view(t, s, func(tx *Tx) error {
			got, err := tx.PendingReplies(c.bar)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("pending (-want +got):\n%s", diff)
			}
			return err
		})
	}
	pending(sooner, later)
	sooner.State, sooner.Post = Sent, "p1"
	update(t, s, func(tx *Tx) error { return tx.PutReply(c.bar, sooner) })
	pending(later)
	view(t, s, func(tx *Tx) error {
		got, found, err := tx.ReplyByPost(c.bar, "p1")
		if diff := cmp.Diff(sooner, got); diff != "" || !found {
			t.Errorf("by post (-want +got):\n%s", diff)
		}
		if _, found, err := tx.ReplyByPost(c.bar, "p2"); found || err != nil {
			t.Errorf("by a post of somebody else: %v, %v", found, err)
		}
		return err
	})
}
