package parse

import (
	"slices"
	"strings"
	"sync"

	"shothand/advisor/bar"
)

// A question may stand in a polite frame, "would you be so kind as to tell me …, please", or
// be written short, "whers left now". Its plain form is without the frame, and spelt out.

// plainly returns a question in its plain form, and whether it had another.
func plainly(text string, v Vocab) (string, bool) {
	tokens := lex(text)
	for i, t := range tokens {
		if long, ok := spelledOut()[t.low]; ok && t.kind == wordToken {
			tokens[i].text, tokens[i].low = long, long
		}
		if t.text == "4" && i > 0 && i+1 < len(tokens) && slices.ContainsFunc(v.Coffees, func(c Name[bar.CoffeeID]) bool { return strings.HasPrefix(fold(c.Name), tokens[i+1].low) }) { // "the recipe 4 tide"
			tokens[i] = token{&piece{kind: wordToken, text: "for", low: "for", start: t.start}}
		}
	}
	from, framed := framed(tokens, v.People)
	to := withoutEnd(tokens, from)
	var plain strings.Builder
	for _, t := range tokens[from:to] {
		if plain.Len() > 0 && !t.glued {
			plain.WriteByte(' ')
		}
		plain.WriteString(t.text)
	}
	if last := len(tokens) - 1; framed || last >= 0 && to <= last && tokens[last].is("?") {
		plain.WriteString("?")
	}
	return plain.String(), plain.String() != text
}

// asked reads a question by its plain form.
func asked(text string, v Vocab) (Meaning, bool) {
	plain, ok := plainly(text, v)
	if !ok {
		return nil, false
	}
	if c, ok := standAsked(plain, v); ok {
		return c, true
	}
	if command := askedOf(strings.ToLower(strings.TrimRight(plain, "?")), v); command != "" { // "hi, how's harbour?"
		c, err := Command("/" + command)
		return Call{Command: c}, err == nil
	}
	m, ok := newSheet(plain, v).question()
	if c, is := m.(Call); is && c.Next && c.Of == 0 && len(c.Stands) == 0 && !strings.Contains(text, "?") && strings.HasSuffix(plain, "?") { // "can somebody tell me what to do"
		return nil, false
	}
	return m, ok
}

// spelledOut are the words of a question that thumbs shorten.
//
//nolint:gochecknoglobals // made once, never changed
var spelledOut = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"wat": "what", "wot": "what", "wut": "what", "wht": "what", "wats": "what's", "wots": "what's", "wuts": "what's", "whats": "what's", "wher": "where", "whers": "where's", "wheres": "where's", "were's": "where's",
		"shld": "should", "shud": "should", "shoud": "should", "cld": "could", "cud": "could", "wld": "would", "w": "with", "wiv": "with", "n": "and", "agn": "again", "agen": "again", "plz": "please", "pls": "please", "u": "you", "sb": "somebody", "r": "are", "nxt": "next", "doin": "doing", "lookin": "looking", "grad": "gerade", "jz": "jetzt", "jtz": "jetzt", "q": "qué",
	}
})

// framed returns where the question itself begins, and whether a polite frame that asks to
// be told stands before it: words of asking up to the last that is of telling.
func framed(tokens []token, people []string) (from int, asks bool) {
	i := 0
	for i < len(tokens) && (tokens[i].is(greets()...) || i+1 < len(tokens) && tokens[i+1].is(",") && (tokens[i].is("right") || slices.Contains(people, tokens[i].low))) { // "hi jo, …"
		i++
	}
	from = i
	politely := false
	for ; i < len(tokens); i++ {
		t := tokens[i]
		switch {
		case t.is("tell", "telling", "remind", "reminding", "sag", "sagt", "sagst"):
			if i+1 == len(tokens) || !tokens[i+1].is("me", "us", "mir", "uns") {
				return from, asks
			}
			i++
			from, asks = i+1, true
		case t.is(toTell()...) && (politely || t.is("wondering", "dices", "dimmi", "dime", "dis-moi", "dites-moi", "diz-me", "ricordami", "recuérdame", "rappelle-moi")):
			from, asks = i+1, true
		case t.is(toTell()...) && i+1 < len(tokens) && tokens[i+1].is("jemand", "du", "qualcuno", "quelqu'un", "alguien", "alguém"): // "weiß jemand"
			i++
			from, asks = i+1, true
		case !t.is(frames()...):
			if asks && t.is("if", "whether", "ob", "se", "si") {
				from = i + 1
			}
			return from, asks
		case t.is(asksTo()...):
			politely = true
		}
	}
	return from, asks
}

// withoutEnd returns where the polite end of a question begins.
func withoutEnd(tokens []token, from int) int {
	to := len(tokens)
	trim := func() {
		for to > from && (tokens[to-1].is("?", "!", ".", ",") || tokens[to-1].is("please", "then", "bitte", "svp", "mate", "thanks", "cheers", "danke", "grazie", "merci", "gracias", "obrigado", "obrigada")) {
			to--
		}
	}
	for trim(); ; trim() {
		n := 0
		for _, end := range politeEnds() {
			words := strings.Fields(end)
			if at := to - len(words); at > from && slices.EqualFunc(tokens[at:to], words, func(t token, w string) bool { return t.low == w }) {
				n = len(words)
			}
		}
		if n == 0 {
			return to
		}
		to -= n
	}
}

// politeEnds close a polite question.
func politeEnds() []string {
	return []string{
		"if i may ask", "if i may", "if you please", "at the moment", "right now", "at present", "for me", "if you don't mind", "if you know",
		"wenn ich fragen darf", "im moment", "momentan",
		"per favore", "per piacere", "se posso chiedere", "al momento", "in questo momento",
		"s'il te plaît", "s'il vous plaît", "si je peux demander", "en ce moment", "pour le moment",
		"por favor", "si puedo preguntar", "en este momento", "de momento",
		"se posso perguntar", "neste momento", "de momento",
	}
}

// greets stand before a question.
func greets() []string {
	return []string{
		"yo", "cmq", "hey", "hi", "hello", "morning", "sorry", "oi", "guys", "team", ",", "!", "¿", ".", "hallo", "moin", "entschuldigung", "ciao", "scusa", "scusate", "scusi", "salut", "bonjour", "pardon",
		"hola", "perdona", "disculpa", "perdón", "olá", "desculpa", "desculpe", "all", "everyone", "everybody", "folks", "hiya", "ok", "okay", "so", "na", "guten", "morgen", "servus", "buongiorno", "allora", "coucou",
		"buenas", "buenos", "días", "bom", "dia", "boas",
	}
}

// toTell are the verbs of telling that end a frame.
func toTell() []string {
	return []string{
		"know", "ask", "wondering", "idea", "dices", "dimmi", "dime", "dis", "dis-moi", "dites-moi", "diz-me", "ricordami", "recuérdame", "rappelle-moi", "sagen", "erinnern", "verraten", "fragen", "weiß", "weiss", "weißt", "wissen", "wüsste",
		"dirmi", "dirci", "dire", "ricordarmi", "ricordarci", "ricorda", "ricordi", "chiedere", "sapere", "sa", "sai",
		"rappeler", "rappelle", "demander", "savoir", "sait", "sais", "savez",
		"decirme", "decirnos", "decir", "recordarme", "recuerda", "preguntar", "saber", "sabe", "sabes",
		"dizer-me", "dizer-nos", "dizer", "lembrar-me", "lembrar", "lembra", "perguntar",
	}
}

// asksTo are the words by which a frame asks: without one, "i know where left is" is none.
func asksTo() []string {
	return []string{
		"could", "can", "would", "will", "might", "may", "do", "does", "any", "anyone", "anybody", "somebody", "someone", "like", "let",
		"könntest", "könnte", "könnten", "kannst", "kann", "würdest", "würden", "wärst", "wären", "darf", "dürfte", "jemand", "jmd", "wer", "möchte", "du",
		"potresti", "potreste", "potrebbe", "puoi", "può", "qualcuno", "saresti", "sarebbe", "posso", "potrei", "vorrei", "mi",
		"peux", "pouvez", "peut", "pourrais", "pourriez", "pourrait", "quelqu'un", "serais", "seriez", "pourriez-vous", "pouvez-vous", "peux-tu", "pourrais-tu", "puis-je", "pourrais-je", "voudrais", "tu", "vous",
		"podrías", "podría", "puedes", "puede", "sería", "serías", "alguien", "puedo", "quisiera",
		"podes", "pode", "podias", "poderia", "podia", "alguém", "seria", "queria", "gostava",
	}
}

// frames are all the words that a frame may have before its verb of telling.
//
//nolint:gochecknoglobals // made once, never changed
var frames = sync.OnceValue(func() []string {
	return slices.Concat(asksTo(), []string{
		"you", "i", "i'd", "we", "be", "so", "kind", "good", "nice", "enough", "as", "to", "please", "kindly", "maybe", "possibly", "just", "quickly", "happen", "was", "i'm", "excuse", "me", "us", "forgive", "but", "mind", "one", "of", ",",
		"sie", "ihr", "man", "mir", "uns", "bitte", "mal", "nett", "lieb", "freundlich", "kurz", "ich", "zu", "einer", "gern", "gerne", "vielleicht",
		"per", "favore", "così", "gentile", "gentili", "da", "di", "ci",
		"nous", "bien", "assez", "gentil", "aimable", "de", "s'il", "te", "plaît", "est-ce", "que", "qu'un", "je",
		"tan", "amable", "nos", "por", "favor", "usted", "¿",
		"tão", "amável", "o",
	})
})
