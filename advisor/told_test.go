package advisor

import (
	"cmp"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every rule has a conversation of its name, in which somebody asks why and the
// rule is given as the reason.
func TestEveryRuleHasAConversation(t *testing.T) {
	silent := map[string]bool{"best-move": true} // the rest of what is weighed: it gives no reason of its own
	called := map[string]string{"fault": "raw"}  // or stale, or roast: it gives the kind
	for _, r := range rules() {
		text, err := os.ReadFile(filepath.Join("..", "testdata", "conversations", r.name+".txtar"))
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		if reason := "• " + strings.ReplaceAll(cmp.Or(called[r.name], r.name), "-", " ") + " — "; !strings.Contains(string(text), reason) && !silent[r.name] {
			t.Errorf("%s: its conversation does not say %q", r.name, reason)
		}
	}
}
