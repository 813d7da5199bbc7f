package taste

import (
	"strings"
	"testing"

	"shothand/advisor/bar"

	"github.com/google/go-cmp/cmp"
)

// short writes words as "sour", "!sour" (not), "sour*0.5", "<sour" (than).
func short(words []bar.Word) string {
	var parts []string
	for _, w := range words {
		s := w.Term
		if w.Than {
			s = "<" + s
		}
		if w.Not {
			s = "!" + s
		}
		switch w.Degree {
		case 1:
		case 0.5:
			s += " a bit"
		case 1.5:
			s += " very"
		case 2:
			s += " way"
		default:
			s += " odd"
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ")
}

func TestRead(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		// Plain.
		{"sour thin", "sour; thin"},
		{"Sour, THIN!", "sour; thin"},
		{"sour and thin", "sour; thin"},
		{"sour & thin", "sour; thin"},
		{"sour/thin", "sour; thin"},
		{"it was still sour", "sour"},
		{"the shot tastes bitter today", "bitter"},
		{"spot on 👌", "perfect"},
		{"spot-on", "perfect"},
		{"gets lost in milk", "lost in milk"},
		{"sour sour SOUR", "sour"},
		{"sour, very sour", "sour very"},
		{"bright acidity", "bright"},
		{"acidity", "acidic"},
		{"over-extracted", "overextracted"},
		{"thin body", "thin"},
		{"bitter finish", "bitter"},
		{"bit bitter on the end", "bitter a bit"},
		{"bitter at the back", "bitter"},
		{"dry, bitter finish", "dry; bitter"},
		{"finishes dry", "dry finish"},
		{"rough finish", "harsh"},
		{"good body", "good body"},
		{"the body is good", "good body"},
		{"good body, bit sour", "good body; sour a bit"},
		{"plenty of body", "heavy"},
		{"no finish", "short finish"},
		{"not bad", "ok"},
		{"not great", "meh"},
		{"oily-old", "rancid"},
		{"channelled and spurty", "channelled; spurting"},
		{"", ""},
		{"finish is short", "short finish"},
		{"on the sour side", "sour odd"},
		{"spot on, don't touch it", "perfect"},
		{"sprayed at 18s", "spurting"},
		{"love this one", "lovely"},
		// Degrees.
		{"a bit sour", "sour a bit"},
		{"slightly bitter", "bitter a bit"},
		{"touch thin", "thin a bit"},
		{"sourish", "sour a bit"},
		{"dry-ish", "dry"},
		{"quite sour", "sour"},
		{"pretty sour", "sour"},
		{"very sour", "sour very"},
		{"really sour", "sour very"},
		{"so sour", "sour very"},
		{"too sour", "sour very"},
		{"way too sour", "sour way"},
		{"super bitter", "bitter very"},
		{"super sweet", "sweet very"},
		{"super nice, mega juicy", "nice very; juicy very"},
		{"choc n nuts", "sweet; nutty"},
		{"choc", "sweet"},
		{"insanely bitter", "bitter very"},
		{"sour, a bit", "sour a bit"},
		{"sour a bit", "sour a bit"},
		{"sour af", "sour way"},
		{"a bit sour, thin", "sour a bit; thin"},
		// Negations.
		{"not sour", "!sour"},
		{"no longer bitter", "!bitter"},
		{"isn't bitter", "!bitter"},
		{"isn’t bitter", "!bitter"},
		{"without bitterness", "!bitter"},
		{"never sour", "!sour"},
		{"no sweetness", "!sweet"},
		{"sweetness lacking", "!sweet"},
		{"bitterness gone", "!bitter"},
		{"not sour, sweet", "!sour; sweet"},
		{"not sour but sweet", "!sour; sweet"},
		{"not sour and sweet", "!sour; sweet"},
		{"not sour or bitter", "!sour; !bitter"},
		{"not sour, or bitter", "!sour; !bitter"},
		{"not sour/bitter", "!sour; !bitter"},
		{"neither sour nor bitter", "!sour; !bitter"},
		{"not sour or bitter, sweet", "!sour; !bitter; sweet"},
		{"not too sour", "!sour very"},
		{"not sour at all", "!sour a bit"},
		{"not at all sour", "!sour a bit"},
		{"sour? not at all", "!sour a bit"},
		{"not even sour", "!sour"},
		{"not remotely sour", "!sour"},
		{"not half bad", "ok"},
		{"not terrible", "ok"},
		{"no better", "<bad"},
		{"no worse", "<ok"},
		{"never tasted better", "lovely"},
		{"couldn't be worse", "gross"},
		{"couldn't be more sour", "sour way"},
		{"can't find the sweetness", "!sweet"},
		{"where's the sweetness", "!sweet"},
		{"where did the sweetness go", "!sweet"},
		{"sour free", "!sour"},
		{"used to be sour", "!sour"},
		{"went from sour to bitter", "!sour; bitter"},
		{"bitter rather than sour", "bitter; !sour"},
		{"sweet without being flat", "sweet; !flat"},
		{"needs some sweetness", "!sweet"},
		{"sour no?", "sour"},
		{"neither too sour nor too bitter", "!sour very; !bitter very"},
		{"not sour anymore", "!sour"},
		{"no bitterness no sourness", "!bitter; !sour"},
		{"lacking in body", "thin"},
		// Comparisons with the cup before.
		{"less sour", "!<sour"},
		{"a bit less sour", "!<sour way"}, // only what is way too sour is denied
		{"way less sour", "!<sour a bit"},
		{"could be a bit sweeter", "!<sweet way"},
		{"more bitter", "<bitter"},
		{"sweeter", "<sweet"},
		{"thinner", "<thin"},
		{"drier", "<dry"},
		{"cleaner", "<clean"},
		{"much sweeter", "<sweet very"},
		{"not as sour", "!<sour"},
		{"not as sour as before", "!<sour"},
		{"as sour as before", "sour"},
		{"not less sour", "<sour"},
		{"better", "<nice"},
		{"worse", "<bad"},
		{"could be sweeter", "!<sweet"},
		{"could be less sour", "sour"},
		{"should be a bit less sour", "sour a bit"},
		{"needs less bitterness", "bitter"},
		{"needs more sweetness", "!sweet"},
		{"tastes of cleaner", "chemical"},
		{"less punch", "!<strong"},
		{"less harsh", "!<harsh"},
		{"better but still sour", "<nice; sour"},
		// Mouthfeel, finish, roast, age.
		{"dry as a bone", "dry"},
		{"sucks your cheeks in", "dry"},
		{"tea bag left in", "astringent"},
		{"mouth coating", "heavy"},
		{"fades fast", "short finish"},
		{"hangs around", "long finish"},
		{"tastes baked", "baked"},
		{"roasted too dark", "ashy"},
		{"under developed", "grassy"},
		{"past its best", "stale"},
		{"too fresh", "gassy"},
		{"washing powder", "chemical"},
		{"tinny", "metallic"},
		// Misspelt.
		{"bitterr", "bitter"},
		{"astringant", "astringent"},
		{"balenced", "balanced"},
		{"sooooour", "sour"},
		{"yummmm", "nice"},
		{"wattery", "watery"},
		{"syrpy", "syrupy"},
		{"channeled", "channelled"},
		{"slighty sour", "sour a bit"},
		{"hollw", "hollow"},
	} {
		words, unread := Default().Read(test.text)
		if got := short(words); got != test.want {
			t.Errorf("%q reads %q, want %q", test.text, got, test.want)
		}
		if len(unread) > 0 {
			t.Errorf("%q: unread %q", test.text, unread)
		}
	}
}

func TestReadWords(t *testing.T) {
	words, unread := Default().Read("Way too bitterr, mara's Zork less thin")
	wantWords := []bar.Word{
		{Term: "bitter", Degree: 2},
		{Term: "thin", Degree: 1, Not: true, Than: true},
	}
	if diff := cmp.Diff(wantWords, words); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"mara's", "zork"}, unread); diff != "" {
		t.Error(diff)
	}
}

// What is a joke and no taste is kept as typed.
func TestJokesAreNoTaste(t *testing.T) {
	for _, text := range []string{
		"tastes like monday", "tastes like my ex", "tastes like regret", "tastes like feet", "like a hug", "tastes like victory",
		"tastes like my childhood", "tastes like a tax return", "tastes like sadness", "the devil's breakfast",
	} {
		words, unread := Default().Read(text)
		if len(unread) == 0 || len(words) > 0 {
			t.Errorf("%q reads %q, unread %q", text, short(words), unread)
		}
	}
}

// A word between a negation and the next word of taste breaks the negation.
func TestUnknownWordsEndWhatWaits(t *testing.T) {
	words, unread := Default().Read("not zork sour")
	if short(words) != "sour" || len(unread) != 1 {
		t.Errorf("read %q, unread %q", short(words), unread)
	}
}

// Ordinary words are never taken for a misspelt word of taste.
func TestNeighboursAreNotTaken(t *testing.T) {
	const neighbours = `
		hour our four your pour tour soup soul sort spur scour hourly
		litter better butter batter bitten fitter glitter fritter twitter bidder
		then think than this thing twin chin tin thins things thank
		week wear wean peak beak weed wreak weekly
		sweat sweep swept sheet street tweet suite
		flag flap float feat slat plat flaw fleet
		shark share shape sheep sharpen
		clan clear cleat lean clearly cleaned clean-up
		start part that tact tarts party
		salt-cellar sally salad sale state stage stare steal stall style scale
		lively lonely lively lobby
		hallow follow yellow fellow hello
		dual doll dill full-time fully dully
		heave heaven weary leave
		string strange strung stage
		perfect-ish percent prefect
		paper papers peppery grain grains grass-roots glass glassy class
		soak soaps snap bread-knife ready bead
		finer offer older smoker tide tides harbour point
		nine niche once mice nick grows grip grid grams grinder
		burn burst burns brunt round-trip ground sound found
		try day die dye drip drips drives`
	taken := map[string]string{
		// These are words of taste, or hold one.
		"better": "nice", "lively": "bright", "clean-up": "clean", "salt-cellar": "salty",
		"perfect-ish": "perfect", "peppery": "spicy", "grass-roots": "grassy", "bread-knife": "bready", "round-trip": "round",
	}
	n := 0
	for word := range strings.FieldsSeq(neighbours) {
		n++
		words, _ := Default().Read(word)
		got := ""
		if len(words) > 0 {
			got = words[0].Term
		}
		if got != taken[word] {
			t.Errorf("%q reads %q, want %q", word, got, taken[word])
		}
	}
	if n < 80 {
		t.Errorf("%d neighbours, want at least 80", n)
	}
}

// Words of the job that say nothing of taste stay out of the reading.
func TestWordsOfTheJobAreNoTaste(t *testing.T) {
	const job = `dose yield grind grinder grinding ground purge purged puck basket tamp tamped dial dialled
		dialing brew brewed portafilter group machine hopper bag roast roasted date temp pressure pump water
		scale scales filter decaf blend shot shots pull pulled recipe ratio setting coarse coarser fine finer
		notch step steps turn collar burrs steam milk cup cups customer orders till rinse flush choke choked
		gusher gushed stopped sink practice single double mara jo sam harbour tide house lane`
	for word := range strings.FieldsSeq(job) {
		if words, _ := Default().Read(word); len(words) > 0 {
			t.Errorf("%q reads %q", word, short(words))
		}
	}
}

// What the parser asks to tell a word of taste from chatter.
func TestKnownAndFiller(t *testing.T) {
	for _, test := range []struct {
		token         string
		known, filler bool
	}{
		{"sour", true, false},
		{"Sourish", true, false},
		{"bitterr", true, false},
		{"sweeter", true, false},
		{"hour", false, false},
		{"the", false, true},
		{"very", false, true},
		{"not", false, true},
		{"and", false, true},
		{"cups", false, false},
		{"", false, false},
	} {
		known, filler := Default().Known(test.token), Default().Filler(test.token)
		if known != test.known || filler != test.filler {
			t.Errorf("%q: known %v, filler %v", test.token, known, filler)
		}
	}
}

// Every form in the file reads as its own entry.
func TestEveryFormReadsAsItsEntry(t *testing.T) {
	l := Default()
	for _, e := range l.Entries() {
		for _, form := range append([]string{e.Term}, e.Forms...) {
			words, unread := l.Read(form)
			if len(words) != 1 || words[0].Term != e.Term || words[0].Not || len(unread) > 0 {
				t.Errorf("%q reads %q, unread %q, want %s", form, short(words), unread, e.Term)
			}
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"way too bitterr, not sour or thin", "sour? not at all", "per niente amaro, un po' acido", "nicht süß", "plus d’amertume", "no me gusta nada", "less, more / not & at all",
		"could be a bit a bit a bit sour", "’’’ 👌 ıİß \xff", "not not not", "a bit, gone af", "gribblyish, not snorky gribbly",
		"sour? nope", "sour? no, bitter", "the sour's gone", "barely sour at all", "acid's mellowed",
	} {
		f.Add(seed)
	}
	own := []bar.Own{{Word: "gribbly", Means: "sour"}, {Word: "snorky"}}
	l := Default().With(own)
	f.Fuzz(func(t *testing.T, text string) {
		words, unread := l.Read(text)
		for _, w := range words {
			if _, ok := l.Entry(w.Term); !ok || !(0 < w.Degree && w.Degree <= 3) {
				t.Errorf("%q: word %+v", text, w)
			}
		}
		for _, u := range unread {
			if u == "" {
				t.Errorf("%q: empty unread word", text)
			}
		}
		finite(t, say(l, words...))
	})
}
