//go:build !race

package discord

import (
	"flag"
	"testing"
)

// TestMain lets more tests run at once than there are processors: most of them
// wait nearly all of their time. With the race detector, which makes each take the
// processor for longer than some of them would wait, there are as many as usual.
func TestMain(m *testing.M) {
	flag.Parse()
	parallel := flag.Lookup("test.parallel")
	if parallel.Value.String() == parallel.DefValue {
		if err := parallel.Value.Set("8"); err != nil {
			panic(err)
		}
	}
	m.Run()
}
