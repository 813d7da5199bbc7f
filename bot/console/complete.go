package console

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"shothand/bot/chat"
)

// onKey completes the word before the cursor at a tab, or shows what it may
// become.
func (c *Console) onKey(line string, pos int, key rune) (newLine string, newPos int, ok bool) {
	if key != '\t' || c.o.Known == nil {
		return line, pos, false
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	k := completer{known: c.o.Known, me: c.me, bar: c.bar, at: c.at}
	from, choices := k.complete(line[:pos])
	if len(choices) == 0 {
		return line, pos, true
	}
	word := common(choices)
	if len(choices) == 1 && !strings.HasSuffix(word, ":") {
		word += " "
	}
	if len(word) <= pos-from {
		_ = c.write([]byte(wrap(listed(choices), c.width()) + "\n")) // the next answer will tell
		return line, pos, true
	}
	return line[:from] + word + strings.TrimLeft(line[pos:], " "), from + len(word), true
}

// listed lays choices out.
func listed(choices []string) string {
	var all []string
	for _, s := range choices {
		all = append(all, strings.ReplaceAll(s, " ", hardSpace))
	}
	return "  " + strings.Join(all, "  ")
}

// common returns what all choices begin with, as the first of them writes it.
func common(choices []string) string {
	n := len(choices[0])
	for _, s := range choices[1:] {
		for n = min(n, len(s)); !strings.EqualFold(choices[0][:n], s[:n]); {
			_, size := utf8.DecodeLastRuneInString(choices[0][:n])
			n -= size
		}
	}
	return choices[0][:n]
}

// starting returns those of list that begin with word.
func starting(word string, list []string) []string {
	var all []string
	for _, s := range list {
		if len(s) >= len(word) && strings.EqualFold(s[:len(word)], word) && !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return all
}

// A completer knows what may stand where somebody types.
type completer struct {
	known   Known
	me, bar string
	at      time.Time // of the line before
}

// complete returns what the last word of head may be, whole, and where in head
// that word begins.
func (k completer) complete(head string) (from int, choices []string) {
	at := k.marks(head)
	from = max(at, strings.LastIndexByte(head, ' ')+1)
	word := head[from:]
	switch {
	case strings.HasPrefix(head[at:], "/"):
		return k.command(head, at)
	case from == at:
		return from, starting(word, slices.Concat([]string{"help", "quit"}, k.coffees(word), k.people()))
	case word != "":
		return from, starting(word, append(k.coffees(word), k.values("shot", "taste", word)...))
	}
	return from, nil
}

// marks notes the speaker and the bar at the front of head, and returns what
// length of it they have.
func (k *completer) marks(head string) int {
	at := 0
	for range 2 {
		word, tail, more := strings.Cut(head[at:], " ")
		name, isName := mark(word, "@")
		bar, isBar := mark(word, "#")
		switch {
		case !more || !isName && !isBar:
			return at
		case isName:
			k.me = name
		default:
			k.bar = strings.ToLower(bar)
		}
		at = len(head) - len(strings.TrimLeft(tail, " "))
	}
	return at
}

func (k completer) people() []string {
	var all []string
	for _, name := range k.known.People(k.bar) {
		if _, ok := mark("@"+name, "@"); ok && !strings.Contains(name, " ") {
			all = append(all, "@"+name)
		}
	}
	return all
}

func (k completer) coffees(typed string) []string { return k.values("coffee show", "name", typed) }

// values returns what an option may be.
func (k completer) values(command, option, typed string) []string {
	return k.known.Suggest(chat.Asking{
		Channel: k.bar, From: person(k.me), Command: chat.Command{Name: command}, Option: option, Typed: typed, At: k.at,
	})
}

// command completes the command that begins at at.
func (k completer) command(head string, at int) (from int, choices []string) {
	typed := head[at:]
	names := []string{"/edit", "/delete", "/press", "/reply"}
	for _, s := range k.known.Specs() {
		name := "/" + s.Name
		if len(typed) > len(name) && strings.EqualFold(typed[:len(name)+1], name+" ") {
			from = wordStart(head, at+len(name)+1)
			return from, k.option(s, strings.ToLower(head[:from]), head[from:])
		}
		names = append(names, name)
	}
	return at, starting(typed, names)
}

// wordStart returns where the last word of head begins, after at; spaces in
// quotes are of a word.
func wordStart(head string, at int) int {
	quoted, start := false, at
	for i := at; i < len(head); i++ {
		switch {
		case head[i] == '"':
			quoted = !quoted
		case head[i] == ' ' && !quoted:
			start = i + 1
		}
	}
	return start
}

// option returns what word may become: an option that does not stand before it
// yet, a value of one, or else what the first option with suggestions may be.
func (k completer) option(s chat.Spec, before, word string) []string {
	if name, value, ok := strings.Cut(word, ":"); ok {
		return k.value(s, strings.ToLower(name), strings.Trim(value, `"`))
	}
	var names, values []string
	for _, o := range s.Options {
		if !strings.Contains(before, " "+o.Name+":") {
			names = append(names, o.Name+":")
		}
		if o.Suggests && values == nil {
			values = k.values(s.Name, o.Name, word)
		}
	}
	if word != "" {
		names = append(names, values...)
	}
	return starting(word, names)
}

// value returns what an option may be that is typed so far, with its name.
func (k completer) value(s chat.Spec, name, typed string) []string {
	i := slices.IndexFunc(s.Options, func(o chat.OptionSpec) bool { return o.Name == name })
	if i < 0 {
		return nil
	}
	values := s.Options[i].Choices
	if values == nil {
		values = k.values(s.Name, name, typed)
	}
	values = starting(typed, values)
	for i, v := range values {
		if strings.Contains(v, " ") {
			v = `"` + v + `"`
		}
		values[i] = name + ":" + v
	}
	return values
}
