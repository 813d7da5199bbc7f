package say

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shothand/advisor/why"
)

// A rule with a conversation of its name is given there as the reason when somebody
// asks why.
func TestRulesAreGivenAsReasons(t *testing.T) {
	called := map[why.Reason]string{why.Stale: "soapy-and-papery", why.HopperLow: "event-hopper"}
	held := 0
	for r := range why.Decide { // those of rules stand first
		name, ok := called[r]
		if !ok {
			name = r.String()
		}
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "conversations", name+".txtar"))
		if err != nil || !strings.Contains(string(text), "why\n") {
			continue
		}
		held++
		if line := "• " + Upper((Lang{}).reasonName(r)) + " (" + (Lang{}).evidenceText(r) + ")"; !strings.Contains(string(text), line) {
			t.Errorf("%s: its conversation does not say %q", r, line)
		}
	}
	if held < 16 {
		t.Errorf("only %d reasons have a conversation", held)
	}
}
