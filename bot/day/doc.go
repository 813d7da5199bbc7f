// Package day says when a bar is told something by itself: on which days and at what
// time the reminder and the closing note come, what has come due, and when it is
// closed. Clocks are read in the bar's zone. What is told then is the bot's.
package day
