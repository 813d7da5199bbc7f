package health

import (
	"sync"
	"time"

	"shothand/store/file"
)

// A LastBackup is what is known of the newest backup.
type LastBackup struct {
	mu  sync.Mutex
	at  time.Time // zero: there is none
	how string    // BackupSound, BackupUnread or BackupFailed
}

// What is known of a backup.
const (
	BackupSound  = "sound"
	BackupUnread = "not read since the bot started"
	BackupFailed = "the last try made none; the log says why" // and names files, which is not for here
)

// Found notes the newest backup there is already.
func (l *LastBackup) Found(dir string) error {
	newest, err := file.LastBackup(dir, time.Now())
	if err == nil && !newest.At.IsZero() {
		l.Set(newest.At, BackupUnread)
	}
	return err
}

// Set notes a backup; at is zero for one that failed.
func (l *LastBackup) Set(at time.Time, how string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.how = how; !at.IsZero() {
		l.at = at
	}
}

func (l *LastBackup) get() (at time.Time, how string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.at, l.how
}
