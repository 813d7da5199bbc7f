package parse

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"shothand/advisor/bar"
	"shothand/advisor/taste"
)

// readsAlone reports whether a word that was not read beside others says a taste, or what
// happened, where it stands alone between stops, as it is printed.
func readsAlone(word string) bool {
	words, _ := taste.Default().Read(word)
	return len(words) > 0 || eventOf(word) != 0
}

// A shot printed in shorthand is read as the same shot again. Of its words of
// taste the degree is printed only as "barely", "a bit", "very" or "way too".
func FuzzRoundTrip(f *testing.F) {
	for _, seed := range []string{
		"e\x00\x00\x04\x00swapped to tide, 18 36 24", "ho\x00per&G\x80  @ 3 18 36 24low,i", "hA  12,00000000000G", "harbour  n\x1ek\xf0c\x9bR\xa0U left 18.1 36.4 24 very sour not t\xe8\x03\x00\x00zonk", "18 ne finer 28 much ^iner", "18@@@@@@@@@@@@@@@@-I8 36", "har\x00dur o\x01 \x00\x04\xff\xf6 18.1 36.4 24 ver\x00\x80\x00\x00ur not tho@in zo6.",
		"12 17 17 -1", "18@@@@@@@@@@@@@@@@ 28 36", "harbour o not t 18.1 36.4 24 very sourn lefthin zonk",
		"18 36 28 sour", "harbour on left 18.1 36.4 24 very sour not thin zonk", "18 28 36", "36 18 28", "same 27 sweeter", "1:2 in 28",
		"18 36 28 grind 5+ choked purged", "18 36ish 28 2 finer 93C tds 9.4", "choked at 45", "gusher", "28s", "18 36 28 still at 2.3.5",
		"18 36 28 between 5 and 6", "0.6oz 1 fl oz 28s 200F", "18 36 28 dialled", "new bag, 18 36 24 sour", "swapped to tide, 18 36 24", "cleaned the grinder 18 36 24", "18 36 24 other group for milk",
		"10 10 10 A milk", "18 36 28 a latte zonk", "hopper is low, 18 36 24 @ 3G", "18 36 24 on group 2", "36-37 out", "0:28", "18 36 28 much finer", "8 8\xebs o\x86s\x86soso", "7!10 10 000a saur\x8fb ta", "18 37 27 still earthy ~ 0",
		"spwaped\x00do:\x00de,\x02\x00de, 18 ;6 24", "18 36 28 not spurtting", "ne\x7fbad, 18 36", "18 36 28 isnt nice", "18 36 28 on-2", "12 36 24", "18 37 27still .0Y0", "spapwed to tide,d18 36 24",
		"2_\x9c\xf07G\x89\xecQ\x99<\x8c\xe5\xec\x8a\xcf\xcf\xc3\xfb\x11\xcc,y\x82\x93\xff\xff\x80\x00s",
		"2_\x9c\xf07G\x89\xecQ2_\x9c\xf0\xec\x8a\xcf\xcf\xc3\xfb\x11\x00\x04y\x82\x93\xff\xff\x80\x00s", "18@@@@@@@@@@@@@@@@ I8 36", "18 g in, 30 s, grind B4", "18 36 2[ stil. a\xf8\xf8\xf8.3.5", "18g36 28\x11noş\xbet \xbe\xbe\xbe\xbettin ", "harbour on l@fj 18.1 36.4 24 \x00 18.1 dry sour not thin zon\xc2\xc2\xc2k",
		"de,deswa\x05ped0to tide,de,", "harbouJ\xbf\xbf\xbf\xbf\xbf@fj 18.1 36.4 24 \x00 18.1 dry sour not th}n zon\xc2\xc2\xc2k",
	} {
		f.Add(seed, false)
		f.Add(seed, true)
	}
	f.Fuzz(func(t *testing.T, text string, swap bool) {
		v := theBar()
		if swap {
			v.Order = 1
		}
		m, err := Shorthand(text, v)
		want, ok := m.(Shot)
		if !ok || err != nil || Check(want) != nil || len(want.Doubt) > 0 || want.Stranger != "" || want.Count {
			return // what is asked about is printed only once it is answered
		}
		want.Aside, want.Volume, want.Over = nil, false, "" // which are told and not kept
		if want.Refers, want.Two = false, false; want.Same && !want.Time.Said && len(want.Words) == 0 {
			return
		}
		want.Unread = slices.DeleteFunc(want.Unread, readsAlone) // it was not read among words of another language
		printed := Format(want, v)
		if long(printed) { // it has more commas than the text
			return
		}
		got, err := Shorthand(printed, v)
		if err != nil {
			t.Fatalf("%q printed as %q: %v", text, printed, err)
		}
		if diff := cmp.Diff(Meaning(want), got, cmpopts.EquateEmpty(), cmpopts.IgnoreFields(bar.Word{}, "Degree"), cmpopts.IgnoreFields(Shot{}, "Weight")); diff != "" {
			t.Errorf("%q printed as %q:\n%s", text, printed, diff)
		}
	})
}
