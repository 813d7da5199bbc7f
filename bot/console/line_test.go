package console

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

func TestParseLine(t *testing.T) {
	at := time.Date(2026, 3, 2, 6, 33, 0, 0, time.UTC)
	for _, test := range []struct {
		in   string
		want line
	}{
		{"", line{}},
		{" \t ", line{}},
		{"18.1 36.4 24 sour thin", line{text: "18.1 36.4 24 sour thin"}},
		{"  18  36\t24 ", line{text: "18  36\t24"}},
		{"2026-03-02T06:33:00Z", line{at: at}},
		{"2026-03-02t06:33:00z x", line{at: at, text: "x"}},
		{"2026-03-02T07:33:00+01:00 x", line{at: at, text: "x"}},
		{"2026-03-02T06:33:00.25Z x", line{at: at.Add(250 * time.Millisecond), text: "x"}},
		{"2026-03-02T06:33:00Z @mara #Tide id:a.1 18 36 24", line{at: at, name: "mara", bar: "tide", id: "a.1", text: "18 36 24"}},
		{"#tide @Mara x", line{name: "Mara", bar: "tide", text: "x"}},
		{"@mara @jo x", line{name: "mara", text: "@jo x"}},
		{"@mara: x", line{name: "mara", text: "x"}},
		{"@jo", line{name: "jo"}},
		{"@ x", line{text: "@ x"}},
		{"@\x1b[2J x", line{text: "@\x1b[2J x"}},
		{"# x", line{text: "# x"}},
		{"id: x", line{text: "id: x"}},
		{"x @mara #tide id:a", line{text: "x @mara #tide id:a"}},
		{"@mara 2026-03-02T06:33:00Z x", line{name: "mara", text: "2026-03-02T06:33:00Z x"}},
		{"2026-03-02T25:00:00Z x", line{badTime: "2026-03-02T25:00:00Z"}},
		{"2026-03-02Today x", line{badTime: "2026-03-02Today"}},
		{"2026-03-02 beans come", line{text: "2026-03-02 beans come"}},
		{"18-36-21", line{text: "18-36-21"}},
		{"@jo /edit 3 18 36 25", line{name: "jo", verb: edit, text: "3 18 36 25"}},
		{"/Delete 3", line{verb: remove, text: "3"}},
		{"/press 3 did it", line{verb: press, text: "3 did it"}},
		{"/reply 3 a bit dry", line{verb: reply, text: "3 a bit dry"}},
		{"/reply", line{verb: reply}},
		{"/editor 3", line{text: "/editor 3"}},
		{"/coffee edit name:\"Harbour\"", line{text: "/coffee edit name:\"Harbour\""}},
	} {
		if diff := cmp.Diff(test.want, parseLine(test.in), cmp.AllowUnexported(line{})); diff != "" {
			t.Errorf("%q:\n%s", test.in, diff)
		}
	}
}

// readAll returns all lines of in.
func readAll(in string) []string {
	var all []string
	for l := newLines(strings.NewReader(in)); ; {
		s, err := l.next("")
		if err != nil {
			return all
		}
		all = append(all, s)
	}
}

func TestLinesAreRead(t *testing.T) {
	long := strings.Repeat("é", 1<<20)
	for _, test := range []struct {
		in   string
		want []string
	}{
		{"", nil},
		{"a\nb", []string{"a", "b"}},
		{"a\r\n\r\nb\r\n", []string{"a", "", "b"}},
		{"\ufeffa\n\ufeffb\n", []string{"a", "\ufeffb"}},
		{"\ufeff", []string{""}},
		{"a\xff\xfeb\n", []string{"a\ufffdb"}},
		{"a\x00b\n", []string{"a\x00b"}},
		{long + "\nb\n", []string{long[:maxLine], "b"}},
		{"x" + long, []string{"x" + long[:maxLine-2]}}, // no half a letter
		{strings.Repeat("\xffa", maxLine) + "\nb", []string{strings.Repeat("\ufffda", maxLine/4), "b"}},
	} {
		if diff := cmp.Diff(test.want, readAll(test.in)); diff != "" {
			t.Errorf("%.20q: %.400s", test.in, diff)
		}
	}
}

// Any bytes are lines of valid text, as many as there are, and their parts are
// fit to be shown.
func FuzzLine(f *testing.F) {
	for _, s := range []string{
		"2026-03-02T06:33:00Z @mara #tide id:a /edit 3 18 36 24", "\ufeff\xff\x00\r\n@\n#\nid:\n/press 1 2\n",
		"/press 99999999999999999999 x", "2026-03-02T06:33:00,5+99:99", "@\u202ex y",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, in string) {
		all := readAll(in)
		if want := strings.Count(strings.TrimSuffix(in, "\n"), "\n") + 1; in != "" && len(all) != want {
			t.Errorf("%d lines, want %d", len(all), want)
		}
		for _, s := range all {
			if !utf8.ValidString(s) || len(s) > maxLine {
				t.Errorf("unfit line %q", s)
			}
			l := parseLine(s)
			for _, name := range []string{l.name, l.bar, l.id} {
				if len(name) > 2*maxName || name != clean(name) || strings.ContainsAny(name, " \n\t") {
					t.Errorf("unfit name %q", name)
				}
			}
			if strings.TrimSpace(l.text) != l.text || !l.at.IsZero() && l.badTime != "" {
				t.Errorf("unfit parts %+v", l)
			}
			if n, _, _ := cutNumber(l.text); n < 0 {
				t.Errorf("line number %d", n)
			}
		}
		play(t, Options{JSON: true}, in, nil)
	})
}
