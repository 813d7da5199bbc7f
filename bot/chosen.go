package bot

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"shothand/advisor/taste"
	"shothand/bot/parse"
	"shothand/bot/say"
	"shothand/bot/shots"
	"shothand/bot/turn"
	"shothand/store"
)

// chosen returns the state of the button that a text names: by its label or the
// beginning of it, its place from 1, its numbers, or yes and no; and so where the text says
// a little more. Names are never taken for another label that is spelt nearly so.
func chosen(l say.Lang, taps []store.Tap, text string, isName func(string) bool) (state string, ok bool) {
	said := turn.Plain(text)
	if said == "" || len(taps) == 0 || wasNumber.MatchString(text) && !dialAsked(taps) { // "was 4" is of the dial
		return "", false
	}
	if unit := withUnit.FindStringSubmatch(said); unit != nil { // "28 seconds"
		switch inEnglish(unit[2]) {
		case string(say.TimeFigure):
			said = unit[1] + " s"
		case string(say.YieldFigure):
			said = unit[1] + " g"
		}
	}
	for _, b := range taps {
		if label := turn.Plain(b.Label); said == label || inEnglish(said) == label || turn.Plain(l.Say(say.English(inEnglish(said)))) == label || turn.Plain(l.Term(said)) == label {
			return b.State, true
		}
	}
	if n, err := strconv.Atoi(strings.TrimLeft(said, "#")); err == nil && 1 <= n && n <= len(taps) {
		return taps[n-1].State, true
	}
	for _, look := range []func() (string, bool){
		func() (string, bool) { return begun(taps, said) },
		func() (string, bool) {
			state, ok := number(taps, said)
			return state, ok && (said == strings.TrimSpace(text) || !farToo(taps, said))
		},
		func() (string, bool) { return yesOrNo(l, taps, said) },
		func() (string, bool) { return isNew(l, taps, said) },
		func() (string, bool) { return ofUnit(l, taps, said) },
		func() (string, bool) {
			n := place(said, alike(taps))
			return taps[max(n, 1)-1].State, 1 <= n && n <= len(taps)
		},
		func() (string, bool) {
			return single(taps, func(label string) bool {
				return !isName(said) && taste.Edits(said, label)*3 < len(label) && len(said) >= 4
			})
		},
	} {
		if state, ok = look(); ok {
			return state, true
		}
	}
	for _, bare := range barer(said) {
		if state, ok = chosen(l, taps, bare, isName); ok && !farToo(taps, bare) {
			return state, true
		}
	}
	return "", false
}

// dialAsked reports whether a question is of where the dial stood, or of which number is meant.
func dialAsked(taps []store.Tap) bool {
	return !slices.ContainsFunc(taps, func(b store.Tap) bool {
		verb, _, _, _ := turn.ReadPress(b.State)
		return verb == turn.PressTaste
	})
}

// barer returns what an answer may be without the yes or the no before it, "yes add it",
// "no, 28", and without what people put around one: "the second one i think".
func barer(said string) (list []string) {
	first, rest, more := strings.Cut(said, " ")
	first = strings.Trim(first, ",")
	yes, no := slices.Contains(yesWords(), first), slices.Contains(noWords(), first)
	if first == "right" && !strings.HasPrefix(said, "right,") && strings.IndexAny(rest, "0123456789+-") == 0 { // the grinder
		return nil
	}
	switch rest = strings.Trim(rest, " ,"); {
	case more && yes && slices.Contains(yesWords(), rest), more && no && slices.Contains(noWords(), rest):
		return []string{first}
	case more && (yes || no) && !slices.Contains(yesWords(), rest):
		list = append(list, rest)
	}
	for _, before := range []string{
		"all ", "they were all ", "they're all ", "both ", "all of them ", "alle ", "alles ", "waren alle ", "tutti ", "tutte ", "erano tutti ", "todos ", "todas ", "eran todos ", "eram todos ", "tous ", "toutes ", "c'étaient tous ",
		"its ", "it is ", "it's ", "i think it was ", "i think it's ", "i think ", "i'd say ", "i guess ", "i mean ", "maybe ", "probably ", "make it ", "make that ", "to ", "on ", "just ", "sorry ", "sorry, ", "oh ", "ah ", "um ",
		"era ", "sono ", "a ", "auf ", "à ", "em ", "waren ", "es waren ", "eran ", "eram ", "credo ", "direi ", "forse ", "es war ", "das war ", "ich glaube ", "wohl ", "c'était ", "je crois ", "sans doute ", "fue ", "creo ", "creo que ", "quizá ", "foi ", "acho que ", "acho ", "talvez ", "il ", "la ", "le ", "el ", "der ", "die ", "das ",
	} {
		if after, ok := strings.CutPrefix(said, before); ok {
			list = append(list, after)
		}
	}
	for _, behind := range []string{
		"please", "pls", "i think", "i guess", "i believe", "i reckon", "probably", "maybe", "thanks", "thank you", "thx", "then", "mate", "sorry", "for sure", "definitely", "of course", "that is", "that's it", "one",
		"bitte", "glaube ich", "denke ich", "danke", "natürlich", "per favore", "credo", "penso", "direi", "grazie", "certo", "por favor", "creo", "gracias", "claro", "s'il te plaît", "stp", "je crois", "je pense", "merci", "acho", "acho eu", "obrigado", "obrigada",
	} {
		if before, ok := strings.CutSuffix(said, " "+behind); ok {
			list = append(list, strings.TrimRight(before, " ,"))
		}
	}
	return list
}

// place returns which of n answers a text names by its place, from 1: "2", "#2", "the
// second one", "the last". 0 is none.
func place(said string, n int) int {
	for _, article := range []string{"the ", "der ", "die ", "das ", "il ", "la ", "l'", "lo ", "el ", "le ", "o ", "a "} {
		said = strings.TrimPrefix(said, article)
	}
	said = strings.TrimSuffix(strings.TrimSuffix(said, " one"), " uno")
	for i, words := range [][]string{
		{"last", "letzte", "letzter", "ultimo", "ultima", "último", "última", "dernier", "dernière"},
		{"first", "1st", "erste", "erster", "primo", "prima", "primero", "primera", "premier", "première", "primeiro", "primeira"},
		{"second", "2nd", "zweite", "zweiter", "secondo", "seconda", "segundo", "segunda", "deuxième", "second", "seconde"},
		{"third", "3rd", "dritte", "dritter", "terzo", "terza", "tercero", "tercera", "troisième", "terceiro", "terceira"},
		{"fourth", "4th", "vierte", "vierter", "quarto", "quarta", "cuarto", "cuarta", "quatrième"},
	} {
		if slices.Contains(words, said) {
			return cmp.Or(i, n)
		}
	}
	return 0
}

// farToo reports whether a number lies as far from what it should be as the one that was
// asked about: "was 5.3" to a time of 2.7 s is of another number of the shot.
func farToo(taps []store.Tap, said string) bool {
	if len(taps) < 3 {
		return false
	}
	verb, _, arg, _ := turn.ReadPress(taps[1].State)
	should, err := strconv.ParseFloat(arg[strings.LastIndex(arg, "=")+1:], 64)
	x, err2 := parse.Position(strings.TrimSuffix(strings.TrimSuffix(said, "s"), "g"))
	return verb == turn.PressFar && err == nil && err2 == nil && !(x > should/2 && x < 2*should)
}

// number returns the state of a button that a number makes which none of them has:
// where a dial stands, or what a far number was.
func number(taps []store.Tap, said string) (state string, ok bool) {
	verb, id, arg, _ := turn.ReadPress(taps[0].State)
	if verb != turn.PressTo && verb != turn.PressFar {
		return "", false
	}
	x, err := parse.Position(strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(said, "s"), "g")))
	timed := strings.Contains(arg[:max(0, strings.LastIndex(arg, "="))], string(say.TimeFigure))
	at := strings.LastIndex(arg, "=")
	switch _, label := single(taps, func(label string) bool { return strings.Contains(label, said) }); {
	case err != nil, strings.HasSuffix(said, "s") && verb == turn.PressFar && !timed: // "28 s" is no yield
		return "", false
	case verb == turn.PressTo:
		return shots.DialButton(id, x), true
	case at >= 0 && !label:
		return turn.PressState(turn.PressFar, id, arg[:at+1]+strconv.FormatFloat(x, 'g', 6, 64)), true
	}
	return "", false
}

// inEnglish returns the label of a button that is said in another language.
func inEnglish(said string) string {
	switch said {
	case "new", "new one", "a new one", "new coffee", "a new coffee", "it's new", "its new", "add", "add that", "add as new", "neu", "neuer", "ein neuer", "nuovo", "è nuovo", "uno nuovo", "nuevo", "es nuevo", "uno nuevo",
		"nouveau", "un nouveau", "novo", "um novo", "é novo", "nuova", "una nuova", "neue", "eine neue", "nouvelle", "une nouvelle", "nueva", "una nueva", "nova", "uma nova":
		return string(say.AddItLabel)
	case "tempo", "zeit", "die zeit", "temps", "le temps", "tiempo", "el tiempo", "il tempo", "o tempo", "seconds", "secs", "sec", "s", "second", "secondi", "sekunden", "sek", "secondes", "segundos", "seg":
		return string(say.TimeFigure)
	case "resa", "la resa", "ertrag", "rendement", "rendimento", "rendimiento", "out", "g", "gr", "grams", "grammi", "gramm", "grammes", "gramos", "gramas":
		return string(say.YieldFigure)
	case "dosis", "die dosis", "la dose", "la dosis", "a dose":
		return string(say.DoseFigure)
	case "grind", "setting", "macinatura", "la macinatura", "mahlgrad", "der mahlgrad", "mouture", "la mouture", "molienda", "la molienda", "moagem", "a moagem":
		return string(say.DialFigure)
	}
	return said
}

// yesOrNo returns the button that a yes or a no presses: one that says so, else, of yes, the
// first where the question asks whether that is so.
func yesOrNo(l say.Lang, taps []store.Tap, said string) (string, bool) {
	yes, no := slices.Contains(yesWords(), said), slices.Contains(noWords(), said)
	if !yes && !no {
		return "", false
	}
	if strings.HasPrefix(taps[0].State, pressMeant+":") {
		if yes {
			return taps[0].State, true
		}
		return pressMeant + ":", true
	}
	label := l.Say(say.NoLabel)
	if yes {
		label = l.Say(say.YesLabel)
	}
	if state, ok := single(taps, func(other string) bool { return other == label && said != "no shot" }); ok {
		return state, true
	}
	verb, _, what, _ := turn.ReadPress(taps[0].State)
	last := taps[len(taps)-1]
	lastVerb, _, arg, _ := turn.ReadPress(last.State)
	refuses := lastVerb == turn.PressShot && arg == say.ShotNo && (verb != turn.PressNear || said == "no shot")
	first := verb == turn.PressShot && what != say.ShotNo || verb == turn.PressFar || verb == turn.PressOrder || verb == turn.PressNear || verb == turn.PressDialled || verb == shots.PressLast || len(taps) == 1 && verb == turn.PressPut
	switch {
	case yes && first:
		return taps[0].State, true
	case no && (refuses || verb == turn.PressOrder):
		return last.State, true
	}
	return "", false
}

// isNew returns the button that says that something is new, of a coffee by yes as well:
// "which one was that, or is it new?".
func isNew(l say.Lang, taps []store.Tap, said string) (string, bool) {
	add := slices.IndexFunc(taps, func(b store.Tap) bool {
		verb, _, arg, _ := turn.ReadPress(b.State)
		return verb == turn.PressAdd && arg == ""
	})
	fresh := inEnglish(said) == string(say.AddItLabel)
	verb, id, _, _ := turn.ReadPress(taps[0].State)
	switch {
	case add >= 0 && (fresh || slices.Contains(yesWords(), said)):
		return taps[add].State, true
	case fresh && verb == turn.PressNear:
		return turn.PressState(turn.PressAdd, id), true
	case fresh:
		return single(taps, func(label string) bool { return label == turn.Plain(l.Say(say.NewShotLabel)) })
	}
	return "", false
}

// begun returns the only button whose label begins so, or has the same numbers.
func begun(taps []store.Tap, said string) (state string, ok bool) {
	if strings.ContainsAny(said, "0123456789") { // "28" of "28 s", not of "18 → 28 g in 30 s"
		if state, ok = single(taps, func(label string) bool {
			return strings.TrimSuffix(strings.TrimSuffix(strings.TrimPrefix(label, "yes, "), " s"), " g") == strings.TrimSuffix(strings.TrimSuffix(said, "s"), "g")
		}); ok {
			return state, true
		}
		numbers := typedNumbers.FindAllString(said, -1)
		return single(taps, func(label string) bool {
			return len(numbers) > 1 && slices.Equal(typedNumbers.FindAllString(label, -1), numbers)
		})
	}
	if len([]rune(said)) < 2 || slices.Contains(noWords(), said) && said != "no shot" {
		return "", false
	}
	return single(taps, func(label string) bool { return strings.HasPrefix(label, said) })
}

// alike counts the first answers that are of one kind: the last of them is the last, and not
// that it was no shot.
func alike(taps []store.Tap) int {
	kind := func(b store.Tap) string {
		verb, _, _, _ := turn.ReadPress(b.State)
		return strings.Replace(verb, turn.PressNear, turn.PressCoffee, 1)
	}
	n := slices.IndexFunc(taps, func(b store.Tap) bool { return kind(b) != kind(taps[0]) })
	if n < 0 {
		return len(taps)
	}
	return n
}

// ofUnit returns the button of the figure that a number's unit tells, where the question is
// which one that number is: "30 s".
func ofUnit(l say.Lang, taps []store.Tap, said string) (string, bool) {
	unit := withUnit.FindStringSubmatch(said)
	if unit == nil || !strings.HasPrefix(taps[0].State, turn.PressPut+":") || !strings.Contains(taps[0].State, "="+strings.ReplaceAll(unit[1], ",", ".")+"/") {
		return "", false
	}
	label := turn.Plain(l.Say(say.English(inEnglish(unit[2]))))
	return single(taps, func(other string) bool { return other == label })
}

// withUnit finds the unit of a number alone: "30 s".
var withUnit = regexp.MustCompile(`^([0-9.,]+) ?([a-z]{1,9})$`)

// typedNumbers finds the numbers of a text.
var typedNumbers = regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)?`)

// single returns the only button whose label fits.
func single(taps []store.Tap, fits func(label string) bool) (state string, ok bool) {
	n := 0
	for _, b := range taps {
		if fits(turn.Plain(b.Label)) {
			state, n = b.State, n+1
		}
	}
	return state, n == 1
}

func yesWords() []string {
	return []string{"yes", "yep", "yeah", "yup", "y", "yess", "yse", "yea", "yeh", "ye", "ya", "sure", "ok", "okay", "right", "correct", "exactly", "it was", "it is", "that's right", "that's it", "yes it was", "yes it is", "👍", "ja", "genau", "oui", "sì", "si", "sí", "sim", "esatto", "giusto", "stimmt", "richtig", "exact", "c'est ça", "d'accord", "exacto", "eso es", "exato", "isso", "yes, that", "yes that's right"}
}

func noWords() []string {
	return []string{"no", "nope", "nah", "n", "nein", "non", "nee", "não", "nao", "👎", "no shot", "wrong", "never mind", "nevermind", "not a shot", "it wasn't", "it wasnt", "it isn't", "it isnt", "it's not", "its not", "it was not", "noo", "nop"}
}

// wasNumber matches where something stood, and nothing else: "was 4", "it was 3.".
var wasNumber = regexp.MustCompile(`(?i)^\s*(it |that |es |das |)(was|war|era|était|foi|fue)( at| on| auf| a| à| en| em|) [0-9.,]+[.! ]*$`)
