package advisor

import (
	"cmp"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shothand/advisor/why"
)

// Every rule has a conversation, of its name but where another is told here, in
// which somebody asks why and the rule is given as the reason.
func TestEveryRuleHasAConversation(t *testing.T) {
	silent := map[why.Reason]bool{why.Decide: true} // it gives the reasons of its choice, not its name
	called := map[why.Reason]string{why.Stale: "soapy-and-papery", why.HopperLow: "event-hopper", why.Decide: "dial-in"}
	for _, r := range rules() {
		text, err := os.ReadFile(filepath.Join("..", "testdata", "conversations", cmp.Or(called[r.reason], r.reason.String())+".txtar"))
		if err != nil {
			t.Errorf("%s: %v", r.reason, err)
			continue
		}
		if reason := "• " + strings.ReplaceAll(r.reason.String(), "-", " ") + " — "; !strings.Contains(string(text), reason) && !silent[r.reason] {
			t.Errorf("%s: its conversation does not say %q", r.reason, reason)
		}
	}
}
