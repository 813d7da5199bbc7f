package taste

import (
	"os"
	"strings"
	"testing"

	"shothand/advisor/bar"
)

// What a bar types in another language reads as in English, without a setting.
func TestReadsOtherLanguages(t *testing.T) {
	for lang, phrases := range map[string][][2]string{
		"it": {
			{"amaro", "bitter"},
			{"troppo amaro", "bitter very"},
			{"un po' acido", "sour a bit"},
			{"un po’ aspro e acquoso", "sour a bit; watery"},
			{"non è acido", "!sour"},
			{"non amaro, molto dolce", "!bitter; sweet very"},
			{"per niente amaro", "!bitter a bit"},
			{"non è per niente amaro", "!bitter a bit"},
			{"né acido né amaro", "!sour; !bitter"},
			{"senza amarezza", "!bitter"},
			{"meno acido di prima", "!<sour"},
			{"più corposo", "<heavy"},
			{"più dolce dell'ultimo", "<sweet"},
			{"poco dolce", "!sweet"},
			{"manca corpo", "thin"},
			{"l'acidità è troppo alta", "acidic"},
			{"equilibrato e pulito", "balanced; clean"},
			{"un po' secco in bocca", "dry a bit"},
			{"sa di bruciato", "burnt"},
			{"buonissimo!", "lovely"},
			{"non male", "ok"},
			{"non è buono", "bad"},
			{"fa schifo", "gross"},
			{"sa di sapone", "soapy"},
			{"non troppo amaro", "!bitter very"},
			{"troppo poco dolce", "!sweet"},
			{"shot troppo bitter", "bitter very"},
			{"meglio di prima", "<nice"},
			{"finale corto", "short finish"},
			{"finale amaro", "bitter"},
			{"un po' amaro alla fine", "bitter a bit"},
			{"bel corpo", "good body"},
			{"acidità troppo bassa", "!acidic"},
			{"non mi piace per niente", "bad"},
			{"amaro, no?", "bitter"},
			{"amaro no?", "bitter"},
			{"non è niente male", "ok"},
			{"non è male ma un po' vuoto", "ok; hollow a bit"},
			{"amaro ma non troppo", "bitter"},
			{"l'amaro è sparito", "!bitter"},
		},
		"es": {
			{"ácido", "sour"},
			{"agrio y aguado", "sour; watery"},
			{"buen cuerpo, amargo al final", "good body; bitter"},
			{"un poco amargo", "bitter a bit"},
			{"muy amargo", "bitter very"},
			{"demasiado acido", "sour very"},
			{"no está ácido", "!sour"},
			{"no es nada amargo", "!bitter a bit"},
			{"para nada amargo", "!bitter a bit"},
			{"no amargo", "!bitter"},
			{"sin amargor", "!bitter"},
			{"ni ácido ni amargo", "!sour; !bitter"},
			{"ya no está amargo", "!bitter"},
			{"más dulce que antes", "<sweet"},
			{"menos ácido", "!<sour"},
			{"no tan ácido como antes", "!<sour"},
			{"le falta cuerpo", "thin"},
			{"muy seco en boca", "dry very"},
			{"poco dulce", "!sweet"},
			{"buenísimo", "lovely"},
			{"no está mal", "ok"},
			{"no me gusta", "bad"},
			{"sabe a cartón", "papery"},
			{"sabe a jabón", "soapy"},
			{"no muy fuerte", "!strong very"},
			{"bien equilibrado, limpio", "balanced; clean"},
			{"peor que ayer", "<bad"},
			{"no me gusta nada", "bad"},
			{"no me gusta para nada", "bad"},
			{"no está nada mal", "ok"},
			{"no tiene nada de cuerpo", "thin"},
			{"agrio no, amargo", "!sour; bitter"},
			{"no es ácido sino amargo", "!sour; bitter"},
			{"tan amargo como antes", "bitter very"},
		},
		"de": {
			{"sauer", "sour"},
			{"ein bisschen sauer", "sour a bit"},
			{"zu bitter", "bitter very"},
			{"viel zu sauer", "sour way"},
			{"sehr dünn und wässrig", "thin very; watery"},
			{"nicht bitter", "!bitter"},
			{"gar nicht sauer", "!sour a bit"},
			{"überhaupt nicht bitter", "!bitter a bit"},
			{"nicht mehr bitter", "!bitter"},
			{"weder sauer noch bitter", "!sour; !bitter"},
			{"nicht zu sauer", "!sour very"},
			{"keine Säure", "!sour"},
			{"ohne Bitterkeit", "!bitter"},
			{"weniger sauer", "!<sour"},
			{"nicht so sauer wie vorher", "!<sour"},
			{"süßer als vorher", "<sweet"},
			{"suesser", "<sweet"},
			{"süss", "sweet"},
			{"duenn", "thin"},
			{"dünn", "thin"},
			{"dunn", "thin"},
			{"wenig Körper", "thin"},
			{"schmeckt nach Seife", "soapy"},
			{"nicht schlecht", "ok"},
			{"nicht gut", "bad"},
			{"sehr lecker", "lovely"},
			{"etwas bitter, aber ausgewogen", "bitter a bit; balanced"},
			{"großer Körper", "heavy"},
			{"guter Körper, bitter am Ende", "good body; bitter"},
			{"besser als der letzte", "<nice"},
			{"trocken im Mund", "dry"},
			{"wenig süß", "!sweet"},
			{"Säure fehlt", "!sour"},
			{"nicht sauer genug", "!sour"},
			{"gar kein Körper", "thin"},
			{"schmeckt mir nicht", "bad"},
			{"bitter, aber nicht zu stark", "bitter; !strong very"},
		},
		"fr": {
			{"bon corps, amer en fin de bouche", "good body; bitter"},
			{"amer", "bitter"},
			{"acide", "sour"},
			{"un peu acide", "sour a bit"},
			{"très amer", "bitter very"},
			{"trop d'acidité", "acidic"},
			{"beaucoup trop amer", "bitter way"},
			{"pas acide", "!sour"},
			{"pas très acide", "!sour very"},
			{"pas amer", "!bitter"},
			{"ce n'est pas amer", "!bitter"},
			{"c’est plus amer", "<bitter"},
			{"n'est plus amer", "!bitter"},
			{"il n'y a plus d'amertume", "!bitter"},
			{"n'est pas terrible", "meh"},
			{"acide mais pas trop", "sour"},
			{"pas du tout amer", "!bitter a bit"},
			{"pas amer du tout", "!bitter a bit"},
			{"ni acide ni amer", "!sour; !bitter"},
			{"sans amertume", "!bitter"},
			{"moins acide que le dernier", "!<sour"},
			{"plus sucré", "<sweet"},
			{"pas assez de corps", "thin"},
			{"pas de corps", "thin"},
			{"trop fade", "flat very"},
			{"un peu sec en bouche", "dry a bit"},
			{"l'amertume a disparu", "!bitter"},
			{"pas mal", "ok"},
			{"pas bon", "bad"},
			{"pas terrible", "meh"},
			{"délicieux", "lovely"},
			{"goût de carton", "papery"},
			{"peu sucré", "!sweet"},
			{"amer mais équilibré", "bitter; balanced"},
			{"meilleur qu'avant", "<nice"},
		},
		"pt": {
			{"bom corpo, amargo no fim", "good body; bitter"},
			{"ácido", "sour"},
			{"azedo e aguado", "sour; watery"},
			{"um pouco amargo", "bitter a bit"},
			{"não gostei nada", "bad"},
			{"amargo, né?", "bitter"},
			{"não está nada mau", "ok"},
			{"doce mas não demais", "sweet"},
			{"não é amargo nem ácido", "!bitter; !sour"},
			{"muito amargo", "bitter very"},
			{"amargo demais", "bitter very"},
			{"não está ácido", "!sour"},
			{"nao amargo", "!bitter"},
			{"nada amargo", "!bitter a bit"},
			{"nem um pouco amargo", "!bitter a bit"},
			{"nem ácido nem amargo", "!sour; !bitter"},
			{"sem amargor", "!bitter"},
			{"mais doce", "<sweet"},
			{"menos ácido do que antes", "!<sour"},
			{"mais amargo que antes", "<bitter"},
			{"amargo no final", "bitter"},
			{"sem corpo", "thin"},
			{"muito doce", "sweet very"},
			{"pouco encorpado", "!heavy"},
			{"seco na boca", "dry"},
			{"uma delícia", "lovely"},
			{"nada mau", "ok"},
			{"não gostei", "bad"},
			{"gosto de papelão", "papery"},
			{"equilibrado e limpo", "balanced; clean"},
			{"não é mais amargo", "!bitter"},
			{"ácido mas doce", "sour; sweet"},
		},
	} {
		for _, p := range phrases {
			words, unread := Default().Read(p[0])
			if got := short(words); got != p[1] || len(unread) > 0 {
				t.Errorf("%s: %q reads %q, want %q; unread %q", lang, p[0], got, p[1], unread)
			}
		}
	}
}

// Each language has its words, all of entries that English has.
func TestEveryLanguageIsThere(t *testing.T) {
	l := Default()
	var langs []string
	for _, tongue := range l.tongues {
		langs = append(langs, tongue.lang)
		forms, heads := 0, make(map[int]bool)
		for _, m := range tongue.phrases {
			if m.role == term {
				forms++
				heads[m.entry] = true
			}
		}
		if forms < 100 || len(heads) < 40 {
			t.Errorf("%s: %d forms of %d entries, want 100 of 40", tongue.lang, forms, len(heads))
		}
	}
	if got := strings.Join(langs, " "); got != "it es de fr pt" {
		t.Errorf("languages %s", got)
	}
}

// Every form that is a sign of its language reads as its entry when it stands
// alone, unless another language before it has it for itself.
func TestEveryForeignFormReadsAsItsEntry(t *testing.T) {
	l := Default()
	for _, tongue := range l.tongues {
		for phrase, m := range tongue.phrases {
			if m.role != term {
				continue
			}
			r := l.readIn(tongue, phrase)
			if len(r.words) != 1 || r.words[0].Term != l.entries[m.entry].Term || r.words[0].Not || len(r.unread) > 0 {
				t.Errorf("%s: %q reads %q, unread %q, want %s", tongue.lang, phrase, short(r.words), r.unread, l.entries[m.entry].Term)
			}
			if words, _ := l.Read(phrase); !m.doubtful && !sameWords(l, tongue.lang, phrase, words) {
				t.Errorf("%s: %q reads %q among all languages", tongue.lang, phrase, short(words))
			}
		}
	}
}

// sameWords reports whether words are what a language says, or what one of
// those before it says.
func sameWords(l *Lexicon, lang, phrase string, words []bar.Word) bool {
	for _, t := range l.tongues {
		if short(collapse(l.readIn(t, phrase).words)) == short(words) {
			return true
		}
		if t.lang == lang {
			break
		}
	}
	return false
}

// What a negation word turns round stays turned round, whichever language the
// other words are shared with.
func TestNoLanguageTurnsAWordRound(t *testing.T) {
	for _, text := range []string{
		"non amaro", "no amargo", "nicht bitter", "pas amer", "não amargo", "niet bitter", "nie bitter", "ikke bitter", "inte bitter",
		"not bitter", "no bitter", "non bitter", "nicht bitter, bitte", "kein bitter", "sem bitter", "sans bitter",
	} {
		words, _ := Default().Read(text)
		if len(words) != 1 || words[0].Term != "bitter" || !words[0].Not {
			t.Errorf("%q reads %q", text, short(words))
		}
	}
}

// English that looks like a word of another language is left alone.
func TestEnglishStaysEnglish(t *testing.T) {
	for _, text := range []string{
		"fade", "plat", "pieno", "doce", "sale", "fine", "court", "sur", "sec", "corto", "die", "gut", "herb", "net", "plate", "lima",
		"the colours fade", "sale ends sunday", "plat du jour", "court is in session", "doce on friday", "fine by me", "28 sec",
		"art class", "sole trader", "vide", "fort", "bon voyage", "gut feeling", "the war", "nickel and dime",
		"carton of milk", "pass me the carton", "bella is on shift", "nova starts monday", "vino at 9", "correct",
		"regular", "fatal error", "die cast", "la carta", "forte", "vivo phone", "caramel? no, vanilla",
	} {
		words, _ := Default().Read(text)
		for _, w := range words {
			if w.Term != "sweet" { // caramel, in English too
				t.Errorf("%q reads %q", text, short(words))
			}
		}
	}
}

// What a team says in its channel all day is English, or nothing.
func TestChatterIsRead(t *testing.T) {
	text, err := os.ReadFile("../../bot/parse/testdata/chatter.txt")
	if err != nil {
		t.Fatal(err)
	}
	l := Default()
	for line := range strings.Lines(string(text)) {
		words, _ := l.Read(line)
		if got, want := short(words), short(collapse(l.readIn(nil, line).words)); got != want {
			t.Errorf("%q reads %q, in English %q", line, got, want)
		}
	}
}
