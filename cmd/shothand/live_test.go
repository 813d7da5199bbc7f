package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"testing"
	"time"
)

// A live console is answered line by line, so that what is typed next can
// depend on what was said.
type live struct {
	t    testing.TB
	in   *io.PipeWriter
	out  *bufio.Reader
	done chan error
}

// open runs the console on the records in db.
func open(t testing.TB, db string) *live {
	t.Helper()
	in, typed := io.Pipe()
	said, out := io.Pipe()
	l := &live{t: t, in: typed, out: bufio.NewReader(said), done: make(chan error, 1)}
	args := []string{"console", "-json", "-db", db}
	go func() {
		err := run(t.Context(), args, func(string) string { return "" }, in, out, io.Discard)
		out.CloseWithError(err)
		l.done <- err
	}()
	return l
}

// say types a line and returns the object it got.
func (l *live) say(line string) object {
	l.t.Helper()
	if _, err := io.WriteString(l.in, line+"\n"); err != nil {
		l.t.Fatalf("type %q: %v", line, err)
	}
	text, err := l.out.ReadBytes('\n')
	if err != nil {
		l.t.Fatalf("answer to %q: %v", line, err)
	}
	checkObject(l.t, text)
	var o object
	if err := json.Unmarshal(text, &o); err != nil {
		l.t.Fatalf("answer to %q: %v", line, err)
	}
	return o
}

// close ends the input and waits for the program.
func (l *live) close() {
	l.t.Helper()
	if err := l.in.Close(); err != nil {
		l.t.Fatal(err)
	}
	if rest, err := io.ReadAll(l.out); err != nil || len(rest) > 0 {
		l.t.Errorf("after the last answer came %q, %v", rest, err)
	}
	if err := <-l.done; err != nil {
		l.t.Errorf("the program ended with %v", err)
	}
}

// An object is what a program reads of one line.
type object struct {
	Line    int     `json:"line"`
	Due     []reply `json:"due"`
	Replies []reply `json:"replies"`
}

// A reply is one post of an object.
type reply struct {
	At      string   `json:"at"` // of what was due
	Kind    string   `json:"kind"`
	Text    string   `json:"text"`
	Buttons []string `json:"buttons"`
	Advice  *advice  `json:"advice"`
}

// An advice is what a program reads of it.
type advice struct {
	Coffee string `json:"coffee"`
	Shot   int    `json:"shot"`
	Read   struct {
		Extraction   float64  `json:"extraction"`
		ExtractionSD float64  `json:"extraction_sd"`
		Strength     float64  `json:"strength"`
		StrengthSD   float64  `json:"strength_sd"`
		Even         float64  `json:"even"`
		Words        []string `json:"words"`
		Unread       []string `json:"unread"`
	} `json:"read"`
	Change struct {
		Lever string   `json:"lever"`
		From  *float64 `json:"from"`
		To    *float64 `json:"to"`
		Unit  *string  `json:"unit"`
	} `json:"change"`
	Purge  bool `json:"purge"`
	Expect *struct {
		Time  float64 `json:"time_s"`
		Low   float64 `json:"low_s"`
		High  float64 `json:"high_s"`
		Level float64 `json:"level"`
	} `json:"expect"`
	Sure    float64  `json:"sure"`
	State   string   `json:"state"`
	Reasons []string `json:"reasons"`
}

// advice returns the one advice of an object.
func (o object) advice(t testing.TB) advice {
	t.Helper()
	var given []advice
	for _, r := range o.Replies { // a caution may follow
		if r.Advice != nil {
			given = append(given, *r.Advice)
		}
	}
	if len(given) != 1 {
		t.Fatalf("line %d got no advice, or several: %+v", o.Line, o.Replies)
	}
	return given[0]
}

// kinds returns what sorts of reply an object has.
func (o object) kinds() []string {
	kinds := []string{}
	for _, r := range o.Replies {
		kinds = append(kinds, r.Kind)
	}
	return kinds
}

// keys are the names an object must have, and those it may have.
type keys struct{ must, may []string }

// checkObject checks that text is one object with the promised keys, and none
// besides.
func checkObject(t testing.TB, text []byte) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	var o map[string]any
	if err := d.Decode(&o); err != nil {
		t.Fatalf("no object: %v in %s", err, text)
	}
	if _, err := d.Token(); err != io.EOF {
		t.Errorf("more than one object: %s", text)
	}
	checkKeys(t, "line", o, keys{must: []string{"line", "at", "from", "due", "replies"}})
	checkTime(t, o["at"])
	for _, r := range list(t, o["replies"]) {
		checkReply(t, r, nil)
	}
	for _, r := range list(t, o["due"]) {
		checkReply(t, r, []string{"at", "bar"})
		checkTime(t, r["at"])
	}
}

// list returns the objects of a list.
func list(t testing.TB, v any) []map[string]any {
	t.Helper()
	all, ok := v.([]any)
	if !ok {
		t.Fatalf("no list: %v", v)
	}
	var list []map[string]any
	for _, x := range all {
		list = append(list, dict(t, x))
	}
	return list
}

func dict(t testing.TB, v any) map[string]any {
	t.Helper()
	m, ok := v.(map[string]any)
	if !ok {
		t.Fatalf("no object: %v", v)
	}
	return m
}

func checkTime(t testing.TB, v any) {
	t.Helper()
	if _, err := time.Parse(time.RFC3339, fmt.Sprint(v)); err != nil {
		t.Errorf("no time: %v", err)
	}
}

func checkReply(t testing.TB, r map[string]any, more []string) {
	t.Helper()
	checkKeys(t, "reply", r, keys{
		must: append([]string{"kind", "text"}, more...),
		may:  []string{"files", "advice", "buttons", "private", "post", "edits"},
	})
	kinds := []any{"advice", "recorded", "question", "error", "info", "reminder", "alert"}
	if !slices.Contains(kinds, r["kind"]) {
		t.Errorf("no kind of reply is called %v", r["kind"])
	}
	if a, ok := r["advice"]; ok {
		checkAdvice(t, dict(t, a))
	}
}

func checkAdvice(t testing.TB, a map[string]any) {
	t.Helper()
	checkKeys(t, "advice", a, keys{must: []string{"coffee", "shot", "read", "change", "purge", "expect", "sure", "state", "reasons"}})
	checkKeys(t, "read", dict(t, a["read"]), keys{must: []string{
		"extraction", "extraction_sd", "strength", "strength_sd", "even", "words", "unread",
	}})
	change := dict(t, a["change"])
	checkKeys(t, "change", change, keys{must: []string{"lever", "from", "to", "unit"}, may: []string{"from_text", "to_text"}})
	if a["expect"] != nil {
		checkKeys(t, "expect", dict(t, a["expect"]), keys{must: []string{"time_s", "low_s", "high_s", "level"}})
	}
	levers := []any{"grind", "yield", "time", "dose", "temperature", "prep", "repeat", "keep", "none"}
	if !slices.Contains(levers, change["lever"]) {
		t.Errorf("no lever is called %v", change["lever"])
	}
	if !slices.Contains([]any{"dialling", "dialled", "drifting"}, a["state"]) {
		t.Errorf("no state is called %v", a["state"])
	}
	switch change["lever"] {
	case "prep", "repeat", "none":
		if change["from"] != nil || change["to"] != nil {
			t.Errorf("%v from %v to %v, want null", change["lever"], change["from"], change["to"])
		}
	case "keep":
		if change["from"] == nil || change["from"] != change["to"] {
			t.Errorf("keep from %v to %v, want the same number", change["from"], change["to"])
		}
	}
}

func checkKeys(t testing.TB, what string, got map[string]any, want keys) {
	t.Helper()
	for _, k := range want.must {
		if _, ok := got[k]; !ok {
			t.Errorf("%s has no key %q: %v", what, k, got)
		}
	}
	for _, k := range slices.Sorted(maps.Keys(got)) {
		if !slices.Contains(want.must, k) && !slices.Contains(want.may, k) {
			t.Errorf("%s has a key that was not promised, %q", what, k)
		}
	}
}
