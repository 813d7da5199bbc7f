package bot

import "shothand/bot/turn"

// Types of package turn that whoever runs a bot meets.
type (
	// An Out is a post to send, or to put in place of an earlier one.
	Out = turn.Out
	// A Meter counts what a bot does.
	Meter = turn.Meter
	// A PostedShot is what a device is told of its shot as it stands in the book.
	PostedShot = turn.PostedShot
)
