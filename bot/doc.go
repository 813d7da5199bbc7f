// Package bot turns messages into replies and keeps what they say.
//
// # From a message to a reply
//
//	bot.go       Handle: whose message, of which kind, and which package does what it asks for
//	command.go   commands; today.go, export.go, forget.go
//	press.go     buttons; typed.go, questions answered by typing; putback.go, "put it back"; barewords.go, "what now"
//	edited.go    edits; undo.go, deletions and /undo; didyoumean.go, a command as it was meant
//	sent.go      what was sent; resume.go, what was not; repeated.go, what was told
//	desk.go      what is asked while somebody still types
//
// # What nobody asked for
//
//	tick.go   what is due, by package day
//	day.go    the card, the reminder and the closing note of a day
//
// # Below it, each knowing only those under it
//
//	cups       a tasting cup by cup; package tasting has what it comes to
//	shots      shots, and all that is said of them later
//	device     what devices post
//	settings   what is set, and taken back
//	report     the page of a coffee, and what changes did
//	which      which shot is meant; figures, which of its numbers
//	resolve    what a shot left out, and what must be asked
//	answer     advice, written down and put into a post
//	turn       the message being handled
//	recent     what the bar knows
//
// Package serve brings the messages, a queue for each bar, and sends what they cause.
// Tables and lines go out and in through package carry. Every sentence is in package say, which knows values and no records.
//
// Handle writes before it returns, so nothing is said that is not on the disk.
// Advice is computed before the write, outside any transaction: a bar's queue
// is the only one that changes its records.
package bot
