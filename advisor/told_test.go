package advisor

import (
	"cmp"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every rule has a conversation, of its name but where another is told here, in
// which somebody asks why and the rule is given as the reason.
func TestEveryRuleHasAConversation(t *testing.T) {
	silent := map[string]bool{"decide": true} // it gives the reasons of its choice, not its name
	called := map[string]string{"stale": "soapy-and-papery", "hopper-low": "event-hopper", "decide": "dial-in"}
	for _, r := range rules() {
		text, err := os.ReadFile(filepath.Join("..", "testdata", "conversations", cmp.Or(called[r.name], r.name)+".txtar"))
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		if reason := "• " + strings.ReplaceAll(r.name, "-", " ") + " — "; !strings.Contains(string(text), reason) && !silent[r.name] {
			t.Errorf("%s: its conversation does not say %q", r.name, reason)
		}
	}
}
