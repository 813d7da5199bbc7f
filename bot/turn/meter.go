package turn

import (
	"time"
)

// A Meter counts what a bot does, for whoever watches the program. Its methods
// are called from several goroutines.
type Meter interface {
	// Recorded counts a shot that went into the book.
	Recorded()
	// Sent counts a reply that the chat took.
	Sent()
	// Advised notes how long an advice took.
	Advised(time.Duration)
}
