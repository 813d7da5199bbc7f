// Package recent is what a bar knows when a message comes in: its coffees, its
// grinders, its people, and what the book has of the last two days. A Book is a
// value that was read; nothing here reads or writes the records.
package recent
