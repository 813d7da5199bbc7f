package bot

import (
	"bufio"
	"os"
	"strings"
	"testing"
)

// A number of the last shot is put right however that is said: each way of
// testdata/righting.txt, with what people put before and behind it. It is changed or asked
// about; no other shot comes of it, nothing else is changed, and it is never met with silence.
func TestRighting(t *testing.T) {
	file, err := os.Open("../testdata/righting.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	becomes := map[string]string{
		"27 s":   "was Harbour 18 36 27 @5.2 sweet balanced",
		"35 g":   "was Harbour 18 35 28 @5.2 sweet balanced",
		"17.5 g": "was Harbour 17.5 36 28 @5.2 sweet balanced",
		"5.3":    "was Harbour 18 36 28 @5.3 sweet balanced",
	}
	bar := messagesBar(t)
	var before, behind []string
	n, right, asked := 0, 0, 0
	for lines := bufio.NewScanner(file); lines.Scan(); {
		label, text, ok := strings.Cut(lines.Text(), ": ")
		want := becomes[label]
		switch {
		case !ok || strings.HasPrefix(label, "#"):
			continue
		case label == "before":
			before = strings.Split(text, " | ")
			continue
		case label == "behind":
			behind = strings.Split(text, " | ")
			continue
		case want == "":
			t.Errorf("%q is no number of a shot", label)
			continue
		}
		text, short := strings.CutPrefix(text, "! ")
		for _, typed := range []string{text, before[n%len(before)] + " " + text, text + " " + behind[n%len(behind)], before[n/2%len(before)] + " " + text + " " + behind[n/3%len(behind)]} {
			got := bar.become(t, typed)
			switch n++; {
			case got == want:
				right++
			case got == "asked":
				asked++
			case !short:
				t.Errorf("%q becomes\n  %s, not\n  %s", typed, got, want)
			}
		}
	}
	t.Logf("%d of %d put right, %d asked about", right, n, asked)
}
