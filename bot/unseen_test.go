package bot

import (
	"bufio"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What three people typed who had seen neither code nor tables: testdata/unseen, a file a
// subject, each line a message and what it meant. The bar is that of messages.tsv. How many
// become what they should is held where it stands; when each was first read, before
// anything was mended for it, is in testdata/VERIFIED.md.
func TestUnseen(t *testing.T) {
	for _, of := range []struct {
		file  string
		right int // at least
	}{
		{"corrections", 449},
		{"moves", 379},
		{"shots", 372},
		{"deletes", 165},
		{"talk", 616},
	} {
		file, err := os.Open(filepath.Join("../testdata/unseen", of.file+".tsv"))
		if err != nil {
			t.Fatal(err)
		}
		bar := messagesBar(t)
		all, right, silent := 0, 0, 0
		for lines := bufio.NewScanner(file); lines.Scan(); {
			typed, want, ok := strings.Cut(lines.Text(), "\t")
			if !ok {
				continue
			}
			all++
			switch got := bar.become(t, typed); got {
			case want:
				right++
			case "silent":
				silent++
				t.Logf("silent: %q", typed)
			default:
				t.Logf("%q becomes\n  %s, not\n  %s", typed, got, want)
			}
		}
		_ = file.Close()
		if t.Logf("%s: %d of %d as meant, %d met with silence", of.file, right, all, silent); right < of.right {
			t.Errorf("%s: %d right, were %d", of.file, right, of.right)
		}
	}
}
