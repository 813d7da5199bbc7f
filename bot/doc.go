// Package bot turns messages into replies and keeps what they say.
//
// # From a message to a reply
//
//	bot.go       Handle: whose message, of which kind
//	shot.go      a shot: which coffee, what was said and what was not; dial.go, where the grinder stood
//	words.go     taste words that come later, and that a coffee is dialled in
//	barewords.go "done", "what now"; typed.go, answers to questions that are typed
//	told.go      what happened to the bar
//	mend.go      edits, deletions, undo and corrections in words; restore.go, of settings
//	press.go     buttons
//	answer.go    advice asked for and put into a post; buttons.go puts buttons under it
//	command.go   commands; coffee.go, coffeepage.go, today.go, taught.go, export.go, forget.go
//	sent.go      what was sent; resume.go, what was not; repeated.go, what was told
//	desk.go      what is asked while somebody still types
//
// # What nobody asked for
//
//	tick.go   what is due, by package day
//	day.go    the card, the reminder and the closing note of a day
//	alert.go  a coffee that drifts; together.go, two that moved at once
//
// # Cup by cup, and looking back
//
//	layers.go    a tasting: begin, strike, stop, and its buttons
//	sips.go      what somebody says of the cups, kept back until all are in
//	account.go   what it has come to, by package tasting; pair.go compares two real shots
//	review.go    what worked; package lookback reads, draws and makes a page of it
//
// Package serve brings the messages, a queue for each bar, and sends what they cause.
// Tables and lines go out and in through package carry. Every sentence is in package say, which knows values and no records.
//
// Handle writes before it returns, so nothing is said that is not on the disk.
// Advice is computed before the write, outside any transaction: a bar's queue
// is the only one that changes its records.
package bot
