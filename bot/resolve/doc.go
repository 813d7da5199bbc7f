// Package resolve finds out what a message about a shot means and what it leaves
// out: where the dial stood, which advice was done, which number is far off; and
// keeps a message while it asks.
package resolve
