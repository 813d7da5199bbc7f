package why

import "testing"

// Every reason has a name of its own and comes back from it, those of earlier
// models too.
func TestReasons(t *testing.T) {
	for r := range Reason(len(table())) {
		if r == 0 {
			continue
		}
		text, err := r.MarshalText()
		var got Reason
		if err2 := got.UnmarshalText(text); err != nil || err2 != nil || got != r {
			t.Errorf("%d: %q, %v, %v, %d", r, text, err, err2, got)
		}
		if grade, err := r.Evidence().MarshalText(); err != nil {
			t.Errorf("%s: %s, %v", r, grade, err)
		}
	}
	var r Reason
	for _, text := range []string{"", "undertasted"} {
		if err := r.UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q is %s", text, r)
		}
	}
	if text, err := r.MarshalText(); err == nil {
		t.Errorf("no reason is called %q", text)
	}
}
