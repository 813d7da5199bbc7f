package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// busyDay is a morning with all that a table must hold.
func busyDay() string {
	return strings.Join([]string{
		at(0, "@mara /grinder add name:left finer:lower step:0.1"),
		at(1, `@mara /coffee add name:"Harbour, washed" grinder:left dose:18 yield:36 time:25-31`),
		at(2, "@mara 18.1 36.4 24 grind 5.2 sour thin, purged"),
		at(3, "@jo a bit bitter"),
		at(5, "@mara 18,2 36ish 27 xyzzyx"),
		at(9, "@sam 18 36 29 practice"),
		at(12, "@mara choked"),
		at(14, "@mara /delete 6"),
		at(15, "@jo new bag"),
		at(16, "@jo 18 36 28 sweet, dialled in"),
	}, "\n") + "\n"
}

// What is exported goes into another file and comes out of it as it was.
func TestExportAndImportAgain(t *testing.T) {
	for _, format := range []string{"csv", "jsonl"} {
		t.Run(format, func(t *testing.T) {
			dir := t.TempDir()
			from, to := filepath.Join(dir, "from.db"), filepath.Join(dir, "to.db")
			if said, err := call(t, busyDay(), "console", "-db", from); err != nil {
				t.Fatal(err, said)
			}
			first, second := filepath.Join(dir, "first."+format), filepath.Join(dir, "second."+format)
			for _, args := range [][]string{
				{"export", "-db", from, first}, {"import", "-db", to, first}, {"export", "-db", to, second}, {"check", "-db", to},
			} {
				if said, err := call(t, "", args...); err != nil {
					t.Fatal(args, err, said)
				}
			}
			was, err1 := os.ReadFile(first)
			is, err2 := os.ReadFile(second)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			if diff := cmp.Diff(string(was), string(is)); diff != "" {
				t.Errorf("exported again (-first +second):\n%s", diff)
			}
			if strings.Count(string(was), "\n") < 6 {
				t.Errorf("only this was exported:\n%s", was)
			}
			if _, err := call(t, "", "export", "-db", from, first); err == nil {
				t.Error("a file was written over")
			}
		})
	}
}

// Without a file the one writes to what the other reads.
func TestExportIntoImport(t *testing.T) {
	for _, format := range []string{"csv", "jsonl"} {
		dir := t.TempDir()
		from, to := filepath.Join(dir, "from.db"), filepath.Join(dir, "to.db")
		if said, err := call(t, busyDay(), "console", "-db", from); err != nil {
			t.Fatal(err, said)
		}
		first, err := call(t, "", "export", "-db", from, "-format", format)
		if err != nil {
			t.Fatal(err, first)
		}
		if said, err := call(t, first, "import", "-db", to, "-format", format); err != nil {
			t.Fatal(err, said)
		}
		second, err := call(t, "", "export", "-db", to, "-format", format)
		if diff := cmp.Diff(first, second); diff != "" || err != nil {
			t.Errorf("%s, %v (-first +second):\n%s", format, err, diff)
		}
	}
}

// A table may be taken again: what is in the book is known. A bar that came
// whole is not taken twice.
func TestImportAgain(t *testing.T) {
	dir := t.TempDir()
	db := filepath.Join(dir, "bar.db")
	if _, err := call(t, busyDay(), "console", "-db", db); err != nil {
		t.Fatal(err)
	}
	for _, format := range []string{"csv", "jsonl"} {
		file := filepath.Join(dir, "out."+format)
		if _, err := call(t, "", "export", "-db", db, file); err != nil {
			t.Fatal(err)
		}
		said, err := call(t, "", "import", "-db", db, file)
		if format == "jsonl" && err == nil {
			t.Error("a bar was taken twice")
		}
		if format == "csv" && (err != nil || !strings.Contains(said, "Taken: 0 new, 5 known, 0 refused.")) {
			t.Errorf("%v: %s", err, said)
		}
	}
}

// Somebody's old table is shown first, taken then, and advised on.
func TestImportOldTable(t *testing.T) {
	dir := t.TempDir()
	db, file := filepath.Join(dir, "bar.db"), filepath.Join(dir, "old.csv")
	table := "Date;Coffee;In;Out;Secs;Setting;Notes\n" +
		"01.03.2026;Harbour;18,0;36,0;22;5,2;sour\n" +
		"01.03.2026;Harbour;18,0;36,0;27;4,9;balanced\n" +
		"01.03.2026;Harbour;18,0;900;27;4,9;balanced\n"
	if err := os.WriteFile(file, []byte(table), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := call(t, "", "import", "-db", db, "-dry-run", file)
	if err != nil {
		t.Fatal(err)
	}
	want := `column “Date”: day
column “Coffee”: coffee
column “In”: dose_g
column “Out”: yield_g
column “Secs”: time_s
column “Setting”: grind_dial
column “Notes”: taste
line 4: No shot has “yield 900 g”: 0.1–120 g.
Nothing was written. It would be: 2 new, 0 known, 1 refused.
`
	if diff := cmp.Diff(want, said); diff != "" {
		t.Errorf("dry run (-want +got):\n%s", diff)
	}
	if said, err = call(t, "", "import", "-db", db, file); err != nil || !strings.Contains(said, "Taken: 2 new") {
		t.Fatal(err, said)
	}
	if said, err = call(t, at(0, "@jo harbour 18 36 24 grind 5.2 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err, said)
	}
	said, err = call(t, "", "export", "-db", db)
	if err != nil || strings.Count(said, ",Harbour,") != 3 {
		t.Errorf("%v: %s", err, said)
	}
}
