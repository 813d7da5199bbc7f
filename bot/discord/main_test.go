package discord

import (
	"flag"
	"testing"
)

// TestMain lets more tests run at once than there are processors: most of them
// wait nearly all of their time. With the race detector they run one by one: where
// discordgo writes its log to is one for the whole process, which each of them sets.
func TestMain(m *testing.M) {
	flag.Parse()
	parallel, many := flag.Lookup("test.parallel"), "8"
	if raced {
		many = "1"
	}
	if parallel.Value.String() == parallel.DefValue {
		if err := parallel.Value.Set(many); err != nil {
			panic(err)
		}
	}
	m.Run()
}
