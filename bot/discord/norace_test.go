//go:build !race

package discord

// raced says that the race detector is on.
const raced = false
