package main

import (
	"bufio"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// hostile are lines that ought to do no harm on a terminal or in a pipe.
func hostile() []string {
	return []string{
		"/coffee add name:\"**Harbour** @everyone <@1001> `x`\"", "/coffee add name:\"\x1b[2J\x1b]0;owned\x07Tide\"", "/coffee add name:\"\u202eruobraH\"",
		"/coffee add name:\"Har\u200bbour\u2066\"", `/coffee add name:"Robert\"); DROP TABLE shots; --"`, "/coffee add name:\"$(rm -rf ~)`id`;reboot\"",
		"/coffee add name:\"" + strings.Repeat("x", 10_000) + "\"", "/coffee add name:" + strings.Repeat("\U0001f600", 10_000), "/coffee add name:\"a\rb\vc\fd\u2028e\"",
		"/setup name:\"\x1b[31mred\u202e\"", "/setup zone:\"../../../etc/passwd\x1b[2J\"", "/\x1b[2J", "/help topic:\"\x1b[2J\u202e\"", "/coffee show name:\"\x1b[2J\u202e\"",
		"18 36 24 sour \x1b[2J \u202eruos", "18 36 24 \u0085\u009b2Jsour", "18 36 24 grind \x1b[2J", "\xff\xfe 18 36 24 \xff", "\x00", strings.Repeat("18 36 24 sour ", 1_000),
		"/press 1 \x1b[2J\u202e", "/press \x1b[2J", "/edit 99999999999999999999 18 36 24", "/delete -1", "/reply 0 \x1b[2J", "id:\x1b[2J 18 36 24", "id:" + strings.Repeat("y", 40_000) + " 18 36 24 sour",
		"@\x1b[2J 18 36 24 sour", "@" + strings.Repeat("z", 40_000) + " 18 36 24 sour", "#\u202ebar 18 36 24 sour", "#../../x 18 36 24 sour", "9999-99-99T99:99:99Z \x1b[2J 18 36 24",
		"0001-01-01T00:00:00Z 18 36 24 sour", "9999-12-31T23:59:59Z 18 36 24 sour", "/today", "/why more:yes", "/coffee list", "/export format:jsonl",
	}
}

// Whatever is piped in, each line has one answer, no answer can move the
// cursor or turn the reading direction, and the file is whole at the end.
func TestHostileLines(t *testing.T) {
	for _, args := range [][]string{{"console"}, {"console", "-json"}, {"console", "-json", "-managers", "sam"}} {
		db := filepath.Join(t.TempDir(), "bar.db")
		out, err := call(t, strings.Join(hostile(), "\n")+"\n", append(args, "-db", db)...)
		if err != nil {
			t.Fatalf("%v: %v", args, err)
		}
		lines := bufio.NewScanner(strings.NewReader(out))
		lines.Buffer(nil, 16<<20)
		objects := 0
		for lines.Scan() {
			line := lines.Text()
			if len(args) > 1 && strings.HasPrefix(line, "{") {
				objects++
				var o object
				if err := json.Unmarshal([]byte(line), &o); err != nil {
					t.Fatalf("%v in %.300s", err, line)
				}
				for _, r := range o.Replies {
					checkShown(t, r.Text)
				}
				continue
			}
			checkShown(t, line)
		}
		if len(args) > 1 && objects != len(hostile()) {
			t.Errorf("%d objects for %d lines", objects, len(hostile()))
		}
		if said, err := call(t, "", "check", "-db", db); err != nil {
			t.Errorf("%v: %s %v", args, said, err)
		}
	}
}

func checkShown(t *testing.T, text string) {
	t.Helper()
	if !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool {
		return unicode.IsControl(r) && r != '\n' || unicode.In(r, unicode.Bidi_Control)
	}) {
		t.Errorf("shown as it came: %.300q", text)
	}
}
