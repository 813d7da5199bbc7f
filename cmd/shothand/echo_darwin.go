package main

import "golang.org/x/sys/unix"

// What reads and sets how a terminal behaves.
const (
	getTermios = unix.TIOCGETA
	putTermios = unix.TIOCSETA
)
