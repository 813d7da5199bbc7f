package main

import "golang.org/x/sys/unix"

// What reads and sets how a terminal behaves.
const (
	getTermios = unix.TCGETS
	putTermios = unix.TCSETS
)
