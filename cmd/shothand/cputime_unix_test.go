//go:build unix

package main

import (
	"syscall"
	"testing"
)

// cpuTime returns how long the cores have worked for this process.
func cpuTime(b *testing.B) duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return duration(u.Utime.Nano() + u.Stime.Nano())
}
