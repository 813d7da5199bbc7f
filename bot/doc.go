// Package bot turns messages into replies and keeps what they say.
//
// # From a message to a reply
//
//	queue.go    a queue for each bar: the only place where a message meets the network
//	bot.go      Handle: whose message, of which kind
//	shot.go     a shot: which coffee, which grind, what was said and what was not
//	words.go    taste words that come later, and what happened to the bar
//	mend.go     edits, deletions, undo and corrections in words
//	press.go    buttons
//	answer.go   advice asked for and put into a post
//	command.go  commands; setup.go, coffee.go, grinder.go, today.go, why.go
//	data.go     the advice as a program reads it
//	wording.go  every sentence the bot says
//
// Handle writes before it returns, so nothing is said that is not on the disk.
// Advice is computed before the write, outside any transaction: a bar's queue
// is the only one that changes its records.
package bot
