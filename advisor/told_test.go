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
// which somebody asks why. That it is given as the reason is held where reasons are
// said.
func TestEveryRuleHasAConversation(t *testing.T) {
	called := map[why.Reason]string{why.Stale: "soapy-and-papery", why.HopperLow: "event-hopper", why.Decide: "dial-in"}
	for _, r := range rules() {
		text, err := os.ReadFile(filepath.Join("..", "testdata", "conversations", cmp.Or(called[r.reason], r.reason.String())+".txtar"))
		if err != nil {
			t.Errorf("%s: %v", r.reason, err)
			continue
		}
		if !strings.Contains(string(text), "why\n") {
			t.Errorf("%s: nobody asks why in its conversation", r.reason)
		}
	}
}
