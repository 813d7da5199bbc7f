package markup

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestPlain(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"Finer: 5.2 → 4.9, and purge.", "Finer: 5.2 → 4.9, and purge."},
		{"**bold** _x_ ~~y~~ `z` ||s||", `\*\*bold\*\* \_x\_ \~\~y\~\~ \` + "`z" + `\` + "`" + ` \|\|s\|\|`},
		{"@everyone <@12> <#3> <:a:4>", `\@everyone \<\@12\> \<#3\> \<\:a:4\>`},
		{"# title\n- item\n> quote\n+ 1", "\\# title\n\\- item\n\\> quote\n\\+ 1"},
		{"25-31 s, 18 - 36", "25-31 s, 18 - 36"},
		{"https://a.example", `https\://a.example`},
		{"[a](b)", `\[a\](b)`},
		{"evil\u202Eruobrah\u200B name", "evilruobrah name"},
		{"h" + strings.Repeat("\u0301", 20), "h" + strings.Repeat("\u0301", maxMarks)},
		{"\u3164\u2800 x", "x"},
		{"/coffee edit name:house time:25-31", "/coffee edit name:house time:25-31"},
	} {
		if got := Plain(test.text); got != test.want {
			t.Errorf("Plain(%q) = %q, want %q", test.text, got, test.want)
		}
	}
}

// Pieces are within the limit and joined they are the text.
func FuzzSplit(f *testing.F) {
	f.Add("a\nb c", 3)
	f.Add(`\\\\\\\\`, 3)
	f.Add("🙂🙂🙂", 2)
	f.Fuzz(func(t *testing.T, text string, n int) {
		if n < 2 || n > 5000 || len(text) > 20_000 || !utf8.ValidString(text) {
			t.Skip()
		}
		ends := map[int]bool{0: true} // where in the text the pieces so far may end
		for i, piece := range Split(text, n) {
			if Length(piece) > n {
				t.Fatalf("piece %q is longer than %d", piece, n)
			}
			if !utf8.ValidString(piece) {
				t.Fatalf("piece %q cuts a character", piece)
			}
			next := map[int]bool{}
			for at := range ends {
				if strings.HasPrefix(text[at:], piece) {
					next[at+len(piece)] = true
				}
				if i > 0 && at < len(text) && strings.ContainsAny(text[at:at+1], "\n ") && strings.HasPrefix(text[at+1:], piece) {
					next[at+1+len(piece)] = true // the break it was cut at is gone
				}
			}
			if ends = next; len(ends) == 0 {
				t.Fatalf("piece %d of %q, %q, does not follow", i, text, piece)
			}
		}
		if !ends[len(text)] {
			t.Fatalf("something of %q is left over", text)
		}
	})
}

// An escaped text shows nothing of the platform's formats, and its escapes
// taken away it is the text.
func TestPlainIsReversible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := Visible(rapid.String().Draw(t, "text"))
		got := Plain(text)
		var b strings.Builder
		for i := 0; i < len(got); i++ {
			if got[i] == '\\' && i+1 < len(got) {
				i++
			}
			b.WriteByte(got[i])
		}
		if b.String() != text {
			t.Errorf("Plain(%q) = %q, which reads %q", text, got, b.String())
		}
	})
}
