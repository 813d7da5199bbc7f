package main

import "testing"

// cpuTime is not told there.
func cpuTime(*testing.B) duration { return 0 }
