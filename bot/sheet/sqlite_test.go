package sheet

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"shothand/advisor/bar"
)

// hostile are names that a table must hold as they are.
func hostile() []string {
	return []string{
		"Harbour", `Har"bour`, `"`, `""`, "a,b", ",", "two\nlines", "\nfirst", "last\n", "; | \t tab", `back\slash \n`, "'quoted'", "=1+1", "-2", "@jo",
		"Ärger über Öl", "naïve café", "日本の豆", "☕️ 👩🏽‍🍳", "\u200bhidden\u202e", "NULL", "0018.10", "1e3", "  spaces  ", "<b>&amp;</b>", "--", "x'00'", "", "#bar",
	}
}

// A general reader of CSV that shares no code with the one here, sqlite3's
// importer, reads the same cells, and the names as they were.
func TestSQLiteReadsTheSame(t *testing.T) {
	program, err := exec.LookPath("sqlite3")
	if err != nil {
		t.Skip("sqlite3 is not installed: its importer has not read what is exported")
	}
	var rows []Row
	names := hostile()
	for i, name := range names {
		rows = append(rows, Row{
			At: time.Date(2026, 3, 2, 6, i, 0, 0, time.UTC), Coffee: name, Grinder: names[(i+1)%len(names)], Person: names[(i+2)%len(names)],
			Shot: bar.Shot{
				Dose: bar.Value[bar.Grams]{X: 18.1, From: bar.Said}, Yield: bar.Value[bar.Grams]{X: 36, From: bar.Assumed, Rough: true},
				Time: bar.Value[bar.Seconds]{X: 28, From: bar.Said}, Turned: -2,
				Words: []bar.Word{{Term: "sour", Degree: 1}}, Unread: []string{name, `so "very"`},
			},
		})
	}
	text := write(t, rows)
	got := imported(t, program, text)
	want, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("cells (-encoding/csv +sqlite3):\n%s", diff)
	}
	for i, row := range got[1:] {
		for j, name := range []string{rows[i].Coffee, rows[i].Grinder, rows[i].Person} {
			if row[2+j] != name && row[2+j] != "'"+name { // so that no spreadsheet takes it for a formula
				t.Errorf("%q is read as %q", name, row[2+j])
			}
		}
	}
}

// imported returns the cells that sqlite3 reads of a table, its header first.
func imported(t *testing.T, program, text string) [][]string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "shots.csv")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var columns []string
	for i := range written() {
		columns = append(columns, fmt.Sprintf("c%d TEXT", i))
	}
	script := []string{
		"create table shots (" + strings.Join(columns, ", ") + ");", ".import --csv \"" + file + "\" shots", ".mode json", "select * from shots order by rowid;",
	}
	command := exec.CommandContext(t.Context(), program, "-batch", "-bail", ":memory:")
	command.Stdin = strings.NewReader(strings.Join(script, "\n"))
	var complaint strings.Builder
	command.Stderr = &complaint
	out, err := command.Output()
	if err != nil || complaint.Len() > 0 {
		t.Fatalf("sqlite3: %v\n%s", err, complaint.String())
	}
	var read []map[string]string
	if err := json.Unmarshal(out, &read); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	var all [][]string
	for _, r := range read {
		var row []string
		for i := range columns {
			cell, ok := r[fmt.Sprintf("c%d", i)]
			if !ok {
				t.Fatalf("no column %d in %v", i, r)
			}
			row = append(row, cell)
		}
		all = append(all, row)
	}
	return all
}
