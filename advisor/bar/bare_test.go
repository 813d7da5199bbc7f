package bar

import "testing"

func TestBare(t *testing.T) {
	for _, test := range []struct{ letter, want rune }{
		{'a', 'a'},
		{'é', 'e'},
		{'ü', 'u'},
		{'å', 'a'},
		{'ç', 'c'},
		{'ñ', 'n'},
		{'š', 's'},
		{'ő', 'o'},
		{'ế', 'e'},
		{'ß', 'ß'},
		{'ø', 'ø'},
		{'한', '한'},
		{'-', '-'},
		{'3', '3'},
	} {
		if got := Bare(test.letter); got != test.want {
			t.Errorf("Bare(%q) = %q, want %q", test.letter, got, test.want)
		}
	}
}
