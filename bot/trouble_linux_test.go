package bot

import (
	"os/signal"
	"strings"
	"syscall"
	"testing"
)

// A disk that takes nothing more: it is said that the shot was not recorded, it
// is not, and once there is room the same message is recorded as if new.
func TestStoreInTrouble(t *testing.T) {
	b := newTester(t)
	b.say("", "18 36 28 grind 5 balanced")
	whole := fullDisk(t)
	refused := b.say("", "18 36 22 sour")
	tapped := b.say("", "/dialled")
	whole()
	if refused != notSavedText || tapped != notSavedText {
		t.Errorf("on a full disk: %q, %q", refused, tapped)
	}
	if today := b.say("", "/today"); !strings.Contains(today, "28 s") || strings.Contains(today, "22 s") {
		t.Errorf("recorded all the same: %q", today)
	}
	if again := b.say("", "18 36 22 sour"); !strings.Contains(again, "second shot") {
		t.Errorf("once there is room: %q", again)
	}
}

// fullDisk lets no file grow or change until the function it returns is called.
func fullDisk(t *testing.T) (whole func()) {
	t.Helper()
	var was syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was); err != nil {
		t.Fatal(err)
	}
	signal.Ignore(syscall.SIGXFSZ)
	set := func(limit syscall.Rlimit) {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			t.Error(err)
		}
	}
	set(syscall.Rlimit{Cur: 0, Max: was.Max})
	return func() { set(was) }
}
