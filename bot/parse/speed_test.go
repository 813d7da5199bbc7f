package parse

import "testing"

// How fast a shot ran is no word that nobody understands, where its time is told.
func TestPaced(t *testing.T) {
	for _, text := range []string{
		"18 36 20 corre", "corre 18 36 20", "18 36 20 rápido", "rápido, 18 36 20", "18 36 20 läuft durch", "läuft durch 18 36 20", "18 36 20 schnell",
		"18/36/20 veloce e acido", "18 36 20 ça coule vite", "18 36 20 running fast", "18 36 20 ran through", "18 36 20 fast sour", "18 36 40 slow and bitter",
	} {
		m, err := Message(text, theBar())
		if shot, ok := m.(Shot); !ok || err != nil || len(shot.Unread) > 0 || len(shot.Doubt) > 0 || !shot.Time.Said {
			t.Errorf("%q is read as %+v, %v", text, m, err)
		}
	}
	m, _ := Message("18 36 27 quick finish", theBar())
	if shot, ok := m.(Shot); !ok || len(shot.Words) != 1 {
		t.Errorf("quick finish is read as %+v", m)
	}
}
