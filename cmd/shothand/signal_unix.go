//go:build unix

package main

import (
	"os"
	"os/signal"
	"syscall"
)

// notifyBackup has asked told when somebody asks the process for a backup.
func notifyBackup(asked chan<- os.Signal) { signal.Notify(asked, syscall.SIGUSR1) }
