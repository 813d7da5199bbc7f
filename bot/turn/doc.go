// Package turn is one message being handled: who wrote it, in which bar and when,
// the records that are read and written for it, and the posts that answer it. What
// a message means, and what is done then, is decided in the packages above.
package turn
