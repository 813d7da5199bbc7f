// Package shots records shots and what is said of them: taste words, events, where
// the dial was put, corrections and edits.
package shots
