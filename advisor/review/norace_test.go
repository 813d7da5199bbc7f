//go:build !race

package review_test

// raced says that the race detector is on: the simulations take too long then.
const raced = false
