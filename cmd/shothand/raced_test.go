//go:build race

package main

// raced says that the race detector is on.
const raced = true
