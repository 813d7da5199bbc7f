package discord

import (
	"strconv"
	"strings"
	"time"
)

// interactionMark begins the id of a command or a press.
const interactionMark = "i"

// epoch is when the platform's ids begin to count, in ms. From the platform's
// documentation of its ids.
const epoch = 1420070400000

// idOf names a message, by its thread if it stands in one.
func idOf(thread, message string) string {
	if thread == "" {
		return message
	}
	return thread + "/" + message
}

// cutID takes an id apart. Of an interaction, message is the snowflake of it.
func cutID(id string) (thread, message string, isMessage bool) {
	if rest, ok := strings.CutPrefix(id, interactionMark); ok {
		return "", rest, false
	}
	thread, message, ok := strings.Cut(id, "/")
	if !ok {
		thread, message = "", id
	}
	return thread, message, number(message) > 0 && (thread == "" || number(thread) > 0)
}

// number is a snowflake, or another number that the platform writes as text, 0
// for what is none.
func number(id string) uint64 {
	n, err := strconv.ParseUint(id, 10, 64)
	if err != nil {
		return 0
	}
	return n
}

// moment returns the number of the first snowflake of an instant.
func moment(at time.Time) uint64 {
	ms := at.UnixMilli() - epoch
	if ms < 0 {
		return 0
	}
	return uint64(ms) << 22
}

// timeOf returns when a snowflake was made.
func timeOf(id string) time.Time {
	return time.UnixMilli(int64(number(id)>>22) + epoch)
}
