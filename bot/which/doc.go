// Package which finds what a message is about: which shot, which coffee, whose words. It
// reads what a bar knows and writes nothing.
package which
