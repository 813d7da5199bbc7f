package bot

import (
	"os"
	"os/exec"
	"os/signal"
	"strings"
	"syscall"
	"testing"

	"shothand/bot/say"
)

// A disk that takes nothing more: it is said that the shot was not recorded, it
// is not, and once there is room the same message is recorded as if new. This
// is played in a process of its own, for a full disk is full for all of it.
func TestStoreInTrouble(t *testing.T) {
	const alone = "SHOTHAND_TEST_ALONE"
	if os.Getenv(alone) == "" {
		cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^TestStoreInTrouble$", "-test.v")
		cmd.Env = append(os.Environ(), alone+"=1")
		if out, err := cmd.CombinedOutput(); err != nil || !strings.Contains(string(out), "--- PASS: TestStoreInTrouble") {
			t.Errorf("%v\n%s", err, out)
		}
		return
	}
	b := newTester(t)
	b.say("18 36 28 grind 5 balanced")
	room := fillDisk(t)
	refused := b.say("18 36 22 sour")
	tapped := b.say("/dialled")
	room()
	if refused != string(say.NotSaved) || tapped != string(say.NotSaved) {
		t.Errorf("on a full disk: %q, %q", refused, tapped)
	}
	if today := b.say("/today"); !strings.Contains(today, "28 s") || strings.Contains(today, "22 s") {
		t.Errorf("recorded all the same: %q", today)
	}
	if again := b.say("18 36 22 sour"); !strings.Contains(again, "second shot") {
		t.Errorf("once there is room: %q", again)
	}
}

// fillDisk lets this process write to no file until the function it returns is
// called.
func fillDisk(t *testing.T) (room func()) {
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
