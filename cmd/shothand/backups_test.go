package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/store/file"
)

// call runs the program and returns what it wrote.
func call(t *testing.T, in string, args ...string) (string, error) {
	t.Helper()
	var out bytes.Buffer
	err := run(t.Context(), args, func(string) string { return "" }, strings.NewReader(in), &out, &out)
	return out.String(), err
}

// A lost file is put back from its backup; what is left of it is kept, and
// forget tells of it.
func TestRestoreFromBackup(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	if _, err := call(t, at(0, "@mara 18 36 24 grind 5.2 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err)
	}
	said, err := call(t, "", "backup", "-db", db)
	if err != nil {
		t.Fatal(err)
	}
	backup := strings.TrimPrefix(strings.Split(said, ",")[0], "Wrote ")
	today, err := call(t, at(1, "/today\n"), "console", "-db", backup)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(db, 4096); err != nil {
		t.Fatal(err)
	}
	if _, err := call(t, "", "check", "-db", db); !errors.Is(err, file.ErrCorrupt) {
		t.Errorf("a file cut short: %v", err)
	}
	if _, err := call(t, "", "restore", "-db", db); err == nil || err.Error() != restoreWhatText {
		t.Errorf("without a backup: %v", err)
	}
	if _, err := call(t, "", "restore", "-yes", "-db", db, db); err == nil {
		t.Error("a damaged file was restored from itself")
	}
	if said, err := call(t, "", "restore", "-yes", "-db", db, backup); err != nil || !strings.Contains(said, "before is "+db+".replaced-") {
		t.Fatalf("restore: %q, %v", said, err)
	}
	if said, err := call(t, "", "check", "-db", db); err != nil || said != db+" is whole.\n" {
		t.Errorf("check: %q, %v", said, err)
	}
	l := open(t, db)
	l.say(at(1, "/today"))
	if _, err := call(t, "", "restore", "-yes", "-db", db, backup); !errors.Is(err, file.ErrLocked) {
		t.Errorf("restored while a bot has the file: %v", err)
	}
	l.close()
	if got, err := call(t, at(1, "/today\n"), "console", "-db", db); err != nil || got != today {
		t.Errorf("restored: %v\n%s\nwant\n%s", err, got, today)
	}
	if said, err := call(t, "", "forget", "-yes", "-db", db, "-person", "mara"); err != nil || !strings.Contains(said, "1 backup in "+db+".replaced-*") {
		t.Errorf("forget: %q, %v", said, err)
	}
}

// An operator forgets by name or by account, and the bytes are gone.
func TestOperatorForgets(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	lines := at(0, "@mara #one 18 36 24 sour\n") + at(1, "@jo #one 18 36 28 ask mara\n") + at(2, "@Mara #two 18 36 24 sour\n")
	if _, err := call(t, lines, "console", "-db", db); err != nil {
		t.Fatal(err)
	}
	if said, err := call(t, "", "forget", "-yes", "-db", db, "-person", "sam"); err != nil || !strings.HasPrefix(said, "Nobody") {
		t.Errorf("sam: %q, %v", said, err)
	}
	if said, err := call(t, "", "forget", "-yes", "-db", db, "-person", "marra"); err != nil || !strings.HasSuffix(said, "nothing was changed. Did you mean mara?\n") {
		t.Errorf("a slip: %q, %v", said, err)
	}
	if said, err := call(t, "", "forget", "-yes", "-db", db, "-person", "MARA"); err != nil || !strings.HasPrefix(said, "Forgotten in 2 bars") {
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

// Through a link the bytes are gone from the file itself. What cut-short copies
// held is gone as well, and the backups of both names are told of.
func TestOperatorForgetsThroughALink(t *testing.T) {
	dir := t.TempDir()
	db, link := filepath.Join(dir, "bar.db"), filepath.Join(dir, "link.db")
	if _, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("bar.db", link); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{db, link} {
		if said, err := call(t, "", "backup", "-db", name); err != nil {
			t.Fatal(err, said)
		}
	}
	left := []string{db + ".compact", filepath.Join(backupDir(db), ".20260301T063000Z.db.123"), filepath.Join(backupDir(link), ".20260301T063000Z.db.77")}
	for _, name := range left {
		if err := os.WriteFile(name, []byte("mara"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	said, err := call(t, "", "forget", "-yes", "-db", link, "-person", "mara")
	if err != nil {
		t.Fatal(err, said)
	}
	for _, part := range []string{
		"Forgotten in 1 bar", "3 partial files", "1 backup in " + backupDir(db) + ":", "1 backup in " + backupDir(link) + ":",
	} {
		if !strings.Contains(said, part) {
			t.Errorf("%q does not say %q", said, part)
		}
	}
	b, err := os.ReadFile(db)
	if err != nil || bytes.Contains(bytes.ToLower(b), []byte("mara")) {
		t.Errorf("mara is still in the file, %v", err)
	}
	for _, name := range left {
		if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if target, err := os.Readlink(link); err != nil || target != "bar.db" {
		t.Errorf("the link is %q, %v", target, err)
	}
}

// Of how much a backup is kept is three numbers.
func TestKeepFlag(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	if _, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-keep", "1,0,2", "-db", db); err != nil {
		t.Fatal(err)
	}
	for _, said := range []string{"14", "7,4", "7,4,x", "-1,4,6", "7,4,6,1", ""} {
		if out, err := call(t, "", "backup", "-db", db, "-keep", said); err == nil || !strings.Contains(err.Error(), keepText) {
			t.Errorf("-keep %s: %v %s", said, err, out)
		}
	}
	if keep, err := parseKeep("10, 5,0"); err != nil || keep != (file.Keep{Days: 10, Weeks: 5}) {
		t.Errorf("%+v, %v", keep, err)
	}
}

// A backup dated in the future puts off none.
func TestBackupDueWhenTheClockWasWrong(t *testing.T) {
	dir := t.TempDir()
	write := func(at time.Time) {
		if err := os.WriteFile(filepath.Join(dir, at.UTC().Format("20060102T150405Z")+".db"), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write(time.Now().AddDate(1, 0, 0))
	if due := untilBackup(dir); due != 0 {
		t.Errorf("due in %v", due)
	}
	write(time.Now().Add(-time.Hour))
	if due := untilBackup(dir); due < 22*time.Hour || due > 23*time.Hour {
		t.Errorf("due in %v", due)
	}
}

// A command that works on a file makes none.
func TestKeepingNeedsAFile(t *testing.T) {
	db := filepath.Join(t.TempDir(), "none.db")
	for _, command := range []string{"backup", "check", "compact"} {
		if _, err := call(t, "", command, "-db", db); !errors.Is(err, file.ErrAccess) {
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

// A command that takes nothing says so.
func TestWhatTakesNothing(t *testing.T) {
	for _, command := range []string{"version", "help"} {
		if said, err := call(t, "", command); err != nil || said == "" {
			t.Errorf("%s: %q, %v", command, said, err)
		}
		if said, err := call(t, "", command, "me"); err == nil || said != "" || !strings.Contains(err.Error(), "“me”") {
			t.Errorf("%s me: %q, %v", command, said, err)
		}
	}
}
