package parse

import "testing"

func TestPrice(t *testing.T) {
	for said, want := range map[string]float64{"24": 24, "24.50": 24.5, "24,50": 24.5, "€24": 24, "24 EUR": 24, "24/kg": 24, "none": 0} {
		if got, err := Price(said); err != nil || got != want {
			t.Errorf("%q is %v, %v, want %v", said, got, err, want)
		}
	}
	for _, said := range []string{"", "cheap", "-3", "0", "1e9", "2 for 5", "200000"} {
		if got, err := Price(said); err == nil {
			t.Errorf("%q is %v", said, got)
		}
	}
}

func TestCurrency(t *testing.T) {
	for said, want := range map[string]string{"EUR": "EUR", "usd": "USD", " jpy ": "JPY", "none": ""} {
		if got, err := Currency(said); err != nil || got != want {
			t.Errorf("%q is %q, %v, want %q", said, got, err, want)
		}
	}
	for _, said := range []string{"", "euro", "€", "ZZZ", "E1R"} {
		if got, err := Currency(said); err == nil {
			t.Errorf("%q is %q", said, got)
		}
	}
}
