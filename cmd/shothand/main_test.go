package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
)

// TestMain is the program itself where it is called by its name, so that tests
// which need it as a process of its own need not build it. They mostly wait:
// more of them run at once than there are processors, but for the race detector,
// which keeps the processors busy.
func TestMain(m *testing.M) {
	if filepath.Base(os.Args[0]) == "shothand" {
		main()
		return
	}
	flag.Parse()
	parallel := flag.Lookup("test.parallel")
	if !raced && parallel.Value.String() == parallel.DefValue {
		if err := parallel.Value.Set("6"); err != nil {
			panic(err)
		}
	}
	m.Run()
}

// build returns where the program is. The race detector sees nothing of what
// goes on in it: in that run, tests that need it are left out.
func build(t testing.TB) string {
	t.Helper()
	if raced {
		t.Skip("another process, of which the race detector sees nothing")
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "shothand")
	if err := os.Link(self, program); err == nil { // so that whoever may come here may run it
		return program
	}
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	return program
}
