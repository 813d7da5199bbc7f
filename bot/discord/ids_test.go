package discord

import "testing"

// An id is taken apart into thread and message.
func TestIDs(t *testing.T) {
	for _, test := range []struct {
		id, thread, message string
		isMessage           bool
	}{
		{"12", "", "12", true},
		{"34/12", "34", "12", true},
		{"i12", "", "12", false},
		{"rem-2026-03-02", "", "rem-2026-03-02", false},
		{"t1772", "", "t1772", false},
	} {
		thread, message, isMessage := cutID(test.id)
		if thread != test.thread || message != test.message || isMessage != test.isMessage {
			t.Errorf("cutID(%q) = %q, %q, %v", test.id, thread, message, isMessage)
		}
	}
	// An id and its time from the platform's documentation of its ids.
	if got := timeOf("175928847299117063").UTC().Format("2006-01-02T15:04:05.000"); got != "2016-04-30T11:18:25.796" {
		t.Error(got)
	}
}
