//go:build unix

package main

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"shothand/store"
	"shothand/store/file"
)

// A running bot backs up when it is asked to.
func TestBackupOnSignal(t *testing.T) {
	db := filepath.Join(t.TempDir(), "bar.db")
	l := open(t, db)
	l.say(at(0, "@mara 18 36 24 sour"))
	if err := syscall.Kill(os.Getpid(), syscall.SIGUSR1); err != nil {
		t.Fatal(err)
	}
	var backups []file.BackupFile
	for start := time.Now(); len(backups) == 0 && time.Since(start) < 5*time.Second; time.Sleep(10 * time.Millisecond) {
		var err error
		if backups, err = file.Backups(db + ".backups"); err != nil {
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
