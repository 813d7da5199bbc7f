package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"shothand/store"
)

// call runs the program and returns what it wrote.
func call(t *testing.T, in string, args ...string) (string, error) {
	t.Helper()
	var out bytes.Buffer
	err := run(t.Context(), args, func(string) string { return "" }, strings.NewReader(in), &out, &out)
	return out.String(), err
}

// A lost file is put back from its backup: copy it to the file's place.
func TestRestoreFromBackup(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	if _, err := call(t, at(0, "@mara 18 36 24 grind 5.2 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err)
	}
	said, err := call(t, "", "backup", "-db", db)
	if err != nil {
		t.Fatal(err)
	}
	backup := strings.TrimSpace(said)
	today, err := call(t, at(1, "/today\n"), "console", "-db", backup)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(db, 4096); err != nil {
		t.Fatal(err)
	}
	if _, err := call(t, "", "check", "-db", db); !errors.Is(err, store.ErrCorrupt) {
		t.Errorf("a file cut short: %v", err)
	}
	b, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(db, b, 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := call(t, "", "check", "-db", db); err != nil || said != db+" is whole.\n" {
		t.Errorf("check: %q, %v", said, err)
	}
	if got, err := call(t, at(1, "/today\n"), "console", "-db", db); err != nil || got != today {
		t.Errorf("restored: %v\n%s\nwant\n%s", err, got, today)
	}
}

// An operator forgets by name or by account, and the bytes are gone.
func TestOperatorForgets(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	lines := at(0, "@mara #one 18 36 24 sour\n") + at(1, "@jo #one 18 36 28 ask mara\n") + at(2, "@Mara #two 18 36 24 sour\n")
	if _, err := call(t, lines, "console", "-db", db); err != nil {
		t.Fatal(err)
	}
	if said, err := call(t, "", "forget", "-db", db, "-person", "sam"); err != nil || !strings.HasPrefix(said, "Nobody") {
		t.Errorf("sam: %q, %v", said, err)
	}
	if said, err := call(t, "", "forget", "-db", db, "-person", "MARA"); err != nil || !strings.HasPrefix(said, "Forgotten in 2 bars") {
		t.Errorf("mara: %q, %v", said, err)
	}
	b, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(bytes.ToLower(b), []byte("mara")) {
		t.Error("mara is still in the file")
	}
	if said, err := call(t, "", "check", "-db", db); err != nil {
		t.Errorf("%q, %v", said, err)
	}
	if _, err := call(t, "", "compact", "-db", db); err != nil {
		t.Error(err)
	}
	today, err := call(t, at(3, "#one /today\n"), "console", "-db", db)
	if err != nil || !strings.Contains(today, "28 s") {
		t.Errorf("today: %v\n%s", err, today)
	}
}

// A command that works on a file makes none.
func TestKeepingNeedsAFile(t *testing.T) {
	db := filepath.Join(t.TempDir(), "none.db")
	for _, command := range []string{"backup", "check", "compact"} {
		if _, err := call(t, "", command, "-db", db); !errors.Is(err, store.ErrAccess) {
			t.Errorf("%s: %v", command, err)
		}
	}
	if _, err := os.Stat(db); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file was made: %v", err)
	}
	if _, err := call(t, "", "forget", "-db", db); err == nil {
		t.Error("forget without a name")
	}
}

// A running bot backs up when it is asked to.
func TestBackupOnSignal(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	l := open(t, db)
	l.say(at(0, "@mara 18 36 24 sour"))
	if err := syscall.Kill(os.Getpid(), syscall.SIGUSR1); err != nil {
		t.Fatal(err)
	}
	var backups []store.BackupFile
	for start := time.Now(); len(backups) == 0 && time.Since(start) < 5*time.Second; time.Sleep(10 * time.Millisecond) {
		var err error
		if backups, err = store.Backups(db + ".backups"); err != nil {
			t.Fatal(err)
		}
	}
	l.close()
	if len(backups) == 0 {
		t.Fatal("no backup in five seconds")
	}
	if err := store.Check(backups[0].Path); err != nil {
		t.Error(err)
	}
}
