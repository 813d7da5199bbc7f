//go:build !race

package advisor_test

// raced says that the race detector is on: the tables take too long then.
const raced = false
