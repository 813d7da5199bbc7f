package sheet

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"shothand/advisor/bar"
	"shothand/bot/chat"
	"shothand/bot/parse"
)

// failing is a test, or a try of a property.
type failing interface {
	Helper()
	Fatal(args ...any)
}

// A memory keeps a table.
type memory struct {
	bytes.Buffer
	at int64
}

// Read reads what was written, from the beginning.
func (m *memory) Read(p []byte) (int, error) {
	n, err := bytes.NewReader(m.Bytes()).ReadAt(p, m.at)
	m.at += int64(n)
	return n, err
}

// Seek goes to a place.
func (m *memory) Seek(at int64, _ int) (int64, error) {
	m.at = at
	return at, nil
}

func write(t failing, rows []Row) string {
	t.Helper()
	var text strings.Builder
	w, err := NewWriter(&text)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		if err := w.Write(r); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	return text.String()
}

// What is written is read back as the same rows, and written again as the same
// bytes, whatever things are called.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var rows []Row
		for range rapid.IntRange(0, 4).Draw(t, "rows") {
			rows = append(rows, anyRow(t))
		}
		text := write(t, rows)
		table, err := Read(strings.NewReader(text), &memory{}, Options{})
		if err != nil || table.Refused.N > 0 {
			t.Fatalf("%v %v in\n%s", err, table.Refused, text)
		}
		got, refused := taken(table)
		for i := range got {
			got[i].Line = 0
		}
		if diff := cmp.Diff(rows, got); diff != "" || len(refused) > 0 {
			t.Errorf("rows (-written +read):\n%s\n%s", diff, text)
		}
	})
}

func anyRow(t *rapid.T) Row {
	name := rapid.StringMatching(`[-=+@'A-Za-z][A-Za-zäé"',;: ]{0,8}[a-z]`)
	at := time.Date(2026, 3, rapid.IntRange(1, 28).Draw(t, "day"), 6, rapid.IntRange(0, 59).Draw(t, "minute"), 0, 0, time.UTC)
	r := Row{At: at, Coffee: name.Draw(t, "coffee"), Grinder: name.Draw(t, "grinder"), Person: name.Draw(t, "person")}
	told := rapid.SampledFrom([]string{"sour", "a bit bitter, thin", "not sour, very sweet", "less sour", "sour, xyzzyx", "way too strong"}).Draw(t, "words")
	words, err := parse.ShotOf(chat.Command{Name: "shot", Options: []chat.Option{{Name: "taste", Value: told}}}, parse.Vocab{})
	if err != nil {
		t.Fatal(err)
	}
	r.Shot.Words, r.Shot.Unread = words.Words, words.Unread
	if rapid.Bool().Draw(t, "words alone") {
		r.Of, r.Grinder = at.Add(-time.Minute), ""
		return r
	}
	from := rapid.SampledFrom([]bar.Provenance{bar.Said, bar.Advised, bar.Last, bar.Assumed})
	r.Shot.Dose = bar.Value[bar.Grams]{X: bar.Grams(rapid.IntRange(140, 220).Draw(t, "dose")) / 10, From: from.Draw(t, "from"), Rough: rapid.Bool().Draw(t, "rough")}
	r.Shot.Yield = bar.Value[bar.Grams]{X: bar.Grams(rapid.Float64Range(20, 60).Draw(t, "yield")), From: from.Draw(t, "from")}
	r.Shot.Time = bar.Value[bar.Seconds]{X: bar.Seconds(rapid.IntRange(10, 60).Draw(t, "time")), From: bar.Said}
	if rapid.Bool().Draw(t, "read") {
		r.Shot.Grind = bar.Value[bar.Dial]{X: bar.Dial(rapid.IntRange(0, 100).Draw(t, "grind")) / 10, From: from.Draw(t, "from")}
	} else {
		r.Shot.Turned = float64(rapid.IntRange(-3, 3).Draw(t, "turned"))
	}
	r.Shot.Marks = bar.Marks(rapid.IntRange(0, 1<<10-1).Draw(t, "marks"))
	if rapid.Bool().Draw(t, "measured") {
		r.Shot.TDS, r.Shot.Water, r.Shot.FirstDrip = 9.4, 93, 7
	}
	if rapid.Bool().Draw(t, "posted") {
		r.Device, r.Shot.TimeSD, r.Shot.Meant = name.Draw(t, "device"), 0.4, 37
	}
	return r
}

// Tables from elsewhere are read by what their headers say.
func TestReadsTablesFromElsewhere(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		text string
		o    Options
		want string // the rows, written
		as   string // what the columns were taken for
	}{
		"plain words and units": {
			text: "Date,Time,Coffee,Coffee (g),Yield (g),Time (s),Grinder setting,Notes\n2026-03-02,06:33,Harbour,18.1,36.4,24,5.2,\"sour, thin\"\n",
			want: "2026-03-02T06:33:00Z,,Harbour,,,5.2,,18.1,36.4,24,,,,,\"sour, thin\",,,,,,",
			as:   "day clock coffee dose_g yield_g time_s grind_dial taste",
		},
		"semicolons, decimal commas, a zone": {
			text: "\ufeffwhen;bean;in;out;time;temp\n2.3.2026 6:33;Tide;18,2;36,5;0:28;93\n",
			o:    Options{Zone: berlin},
			want: "2026-03-02T06:33:00+01:00,,Tide,,,,,18.2,36.5,28,,93,,,,,,,,,",
			as:   "at coffee dose_g yield_g time_s water_c",
		},
		"ounces, Fahrenheit, the day before the month because another row says so": {
			text: "date\tdose [oz]\tyield [oz]\tsecs\ttemp (F)\n2/3/2026\t0.6\t1.2\t28\t200\n14/3/2026\t0.6\t1.2\t29\t200\n",
			want: "2026-03-02T12:00:00Z,,,,,,,17.009713875,35.488235474999996,28,,93.33333333333333,,,,,,yield_g,,,\n" +
				"2026-03-14T12:00:00Z,,,,,,,17.009713875,35.488235474999996,29,,93.33333333333333,,,,,,yield_g,,,",
			as: "day dose_g yield_g time_s water_c",
		},
		"columns that were named": {
			text: "a,b,c,when\n18,36,28,2026-03-02 06:33:10\n",
			o:    Options{Columns: map[string]string{"dose": "a", "yield_g": "B", "time": "c"}},
			want: "2026-03-02T06:33:10Z,,,,,,,18,36,28,,,,,,,,,,,",
			as:   "dose_g yield_g time_s at",
		},
		"a time that is an instant": {
			text: "time,dose,yield,duration\n2026-03-02T06:33:00Z,18,36,28 s\n",
			want: "2026-03-02T06:33:00Z,,,,,,,18,36,28,,,,,,,,,,,",
			as:   "at dose_g yield_g time_s",
		},
	} {
		t.Run(name, func(t *testing.T) {
			table, err := Read(strings.NewReader(c.text), &memory{}, c.o)
			if err != nil || table.Refused.N > 0 {
				t.Fatal(err, table.Refused)
			}
			rows, refused := taken(table)
			if len(refused) > 0 {
				t.Fatal(refused)
			}
			_, got, _ := strings.Cut(strings.TrimSpace(write(t, rows)), "\n")
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("rows (-want +got):\n%s", diff)
			}
			var as []string
			for _, column := range table.Columns {
				as = append(as, column.As)
			}
			if diff := cmp.Diff(c.as, strings.Join(as, " ")); diff != "" {
				t.Errorf("columns (-want +got):\n%s", diff)
			}
		})
	}
}

// A row that cannot be taken is refused with its line; the others are taken.
func TestRefusesRowByRow(t *testing.T) {
	text := `when,dose,yield,secs,setting,taste
2026-03-02 06:33,18,36,28,5.2,sour
yesterday,18,36,28,5.2,sour
2026-03-02 06:35,18,400,28,5.2,sour
2026-03-02 06:36,,,,,
2026-03-02 06:37,18,36,28,two finer,sour
3/2/2026,18,36,28,5.2,sour
2026-03-02 06:38,a handful,36,28,5.2,sour
2026-03-02 06:39,18,36
`
	table, err := Read(strings.NewReader(text), &memory{}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	rows, refused := taken(table)
	for _, r := range refused {
		why := "mistake"
		if reason, ok := errors.AsType[Reason](r.Err); ok {
			why = map[Why]string{NoTime: "no time", NoShot: "no shot", WhichDate: "which date", BadCell: "bad cell"}[reason.Why]
		}
		got = append(got, strings.Join([]string{string(rune('0' + r.Line)), why}, " "))
	}
	want := []string{"3 no time", "4 mistake", "5 no shot", "6 bad cell", "7 which date", "8 mistake"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("refused (-want +got):\n%s", diff)
	}
	if len(rows) != 2 || rows[0].Line != 2 || rows[1].Line != 9 {
		t.Errorf("taken: %+v", rows)
	}
}

// taken returns the rows of a table, and those that are refused.
func taken(t Table) (rows []Row, refused []Refusal) {
	refused = t.Refused.First
	for row, err := range t.Rows() {
		if err != nil {
			refused = append(refused, Refusal{row.Line, err})
			continue
		}
		rows = append(rows, row)
	}
	return rows, refused
}

// No bytes do harm.
func FuzzRead(f *testing.F) {
	f.Add("at,dose_g,yield_g,time_s\n2026-03-02T06:33:00Z,18,36,28\n")
	f.Add("date;in;out;time\n2/3/2026;18,1;36;0:28\n")
	f.Add("\"")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := Read(strings.NewReader(text), &memory{}, Options{})
		if err != nil {
			return
		}
		rows, _ := taken(table)
		write(t, rows)
	})
}
