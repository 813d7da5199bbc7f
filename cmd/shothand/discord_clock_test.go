package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"shothand/bot/discord"
	"shothand/bot/discord/fake"
)

// Through both changes of the clocks, and with a machine whose own clock is put
// forward or back, each morning has one reminder and each evening one closing
// note, and each shot is recorded once and answered once.
func TestClockOnDiscord(t *testing.T) {
	t.Parallel()
	const spring, autumn = "2026-03-28", "2026-10-24" // the clocks change on the next morning
	for _, c := range []struct {
		name, from string
		// jumps are by how much the machine's clock is wrong from an instant on.
		jumps map[string]time.Duration
	}{
		{"spring", spring, nil},
		{"autumn", autumn, nil},
		{"a day ahead for two hours of the morning", "2026-03-02", map[string]time.Duration{"2026-03-03 07:00": 24 * time.Hour, "2026-03-03 09:00": 0}},
		{"a day ahead for a night", "2026-03-02", map[string]time.Duration{"2026-03-02 22:00": 24 * time.Hour, "2026-03-03 04:30": 0}},
		{"a day behind for a day", "2026-03-02", map[string]time.Duration{"2026-03-03 12:00": -24 * time.Hour, "2026-03-03 17:00": 0}},
		{"an hour back just after the reminder", "2026-03-02", map[string]time.Duration{"2026-03-03 07:31": -time.Hour}},
		{"an hour ahead just before the reminder", "2026-03-02", map[string]time.Duration{"2026-03-03 07:29": time.Hour, "2026-03-03 07:33": 0}},
		{"a year ahead for ten minutes", "2026-03-02", map[string]time.Duration{"2026-03-03 17:55": 366 * 24 * time.Hour, "2026-03-03 18:05": 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			playDays(t, c.from, c.jumps)
		})
	}
}

func playDays(t *testing.T, from string, jumps map[string]time.Duration) {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	first, err := time.ParseInLocation(time.DateOnly, from, zone)
	if err != nil {
		t.Fatal(err)
	}
	inBubble(t, first.Add(6*time.Hour), func(b *bubble) {
		db := filepath.Join(b.TempDir(), "bar.db")
		var wrong atomic.Int64
		for at, by := range jumps {
			when, err := time.ParseInLocation("2006-01-02 15:04", at, zone)
			if err != nil {
				b.Fatal(err)
			}
			time.AfterFunc(time.Until(when), func() { wrong.Store(int64(by)) })
		}
		r := b.joinWith(db, discord.Timings{}, func() time.Time { return time.Now().Add(time.Duration(wrong.Load())) })
		if _, err := b.Slash("dial-in", "mara", "setup", map[string]any{
			"zone": "Europe/Berlin", "opens": "08:00", "closes": "18:00", "remind": "07:30",
		}); err != nil {
			b.Fatal(err)
		}
		var said []string
		const days = 3
		for day := range days {
			for _, clock := range []string{"01:30", "02:30", "03:30", "09:00", "12:30", "17:30"} {
				at, err := time.ParseInLocation("2006-01-02 15:04", first.AddDate(0, 0, day).Format(time.DateOnly)+" "+clock, zone)
				if err != nil {
					b.Fatal(err)
				}
				if time.Until(at) <= 0 { // the first day begins later
					continue
				}
				time.Sleep(time.Until(at))
				id := b.Say("dial-in", "mara", fmt.Sprintf("18 36 %d grind 5.%d sour", 20+len(said)%9, len(said)%10), "")
				said = append(said, id)
				if clock == "02:30" { // in autumn it is 02:30 again
					time.Sleep(time.Hour)
					said = append(said, b.Say("dial-in", "mara", "18 36 25 grind 5.5 sour", ""))
				}
			}
		}
		time.Sleep(3 * time.Hour)
		r.stop()
		onceEach(b.T, b.Server, db, said, "dial-in")
		checkMornings(b.T, b.Server, first, days)
	})
}

// checkMornings checks that each day's card was posted once, and its closing
// note.
func checkMornings(t *testing.T, f *fake.Server, first time.Time, days int) {
	t.Helper()
	cards, closings := map[string]int{}, map[string]int{}
	threads := f.Threads("dial-in")
	for _, m := range f.Posts("dial-in") {
		if title, _, _ := strings.Cut(m.Content, "\n"); strings.HasPrefix(title, "Harbour Lane · ") || strings.HasPrefix(title, "dial-in · ") {
			cards[title]++
		}
	}
	reminders := map[string]int{}
	for _, thread := range threads {
		for _, m := range f.Posts(thread.ID) {
			if strings.HasPrefix(m.Content, "Closing.") {
				closings[thread.Name]++
			} else {
				reminders[thread.Name]++
			}
		}
	}
	t.Log("\n" + transcript(f, "dial-in"))
	for _, thread := range threads {
		t.Log(thread.Name + "\n" + transcript(f, thread.ID))
	}
	for day := range days {
		name := "dial-in · " + first.AddDate(0, 0, day).Format("Mon 2 January")
		if cards[name] != 1 || closings[name] != 1 || reminders[name] > 1 {
			t.Errorf("%s: %d cards, %d reminders in the thread, %d closing notes", name, cards[name], reminders[name], closings[name])
		}
	}
	for name, n := range cards {
		if n > 1 || closings[name] > 1 {
			t.Errorf("%s: %d cards, %d closing notes", name, n, closings[name])
		}
	}
}
