package fake

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Component types.
const (
	componentRow    = 1
	componentButton = 2
	componentText   = 4
)

// checkRequest says what is wrong with a call before it is done: first by
// Discord's description, then by the limits of its documentation that the
// description misses. Fields that Discord would ignore are only noted.
func (s *Server) checkRequest(c *call, j judgement) *refusal {
	for _, field := range j.strays {
		s.violate(c, "unknown field %s", field)
	}
	if j.why != "" {
		s.violate(c, "%s", j.why)
		return invalidForm(j.why)
	}
	found := limits(c)
	for _, why := range found {
		s.violate(c, "%s", why)
	}
	if s.options.MentionsMustBeOff {
		if why := mentionsOn(c); why != "" {
			s.violate(c, "%s", why)
		}
	}
	if len(found) > 0 {
		return invalidForm(strings.Join(found, "; "))
	}
	return nil
}

func (s *Server) checkAnswer(c *call, a answer) {
	if s.options.Description == nil {
		return
	}
	if why := s.options.Description.response(c, a); why != "" {
		s.do(func() { s.violate(c, "answer %d: %s", a.status, why) })
	}
}

// limits returns every breach of a limit that the description does not know.
func limits(c *call) []string {
	switch {
	case len(c.body) == 0 || c.method == "GET":
		return nil
	case strings.HasSuffix(c.path, "/commands"):
		return commandLimits(c)
	case strings.HasSuffix(c.path, "/callback"):
		return callbackLimits(c.object())
	case carriesMessage(c):
		return messageLimits(c.object())
	}
	return nil
}

// carriesMessage tells whether a call's body is a message.
func carriesMessage(c *call) bool {
	return regexp.MustCompile(`^(/channels/\d+/messages|/webhooks/\d+/[^/]+)(/messages)?(/[^/]+)?$`).MatchString(c.path) && c.method != "DELETE"
}

func messageLimits(o object) (found []string) {
	if n := utf8.RuneCountInString(text(o["content"])); n > 2000 {
		found = append(found, fmt.Sprintf("content has %d characters, more than 2000", n))
	}
	if n := embedLength(objects(o["embeds"])); n > 6000 {
		found = append(found, fmt.Sprintf("embeds have %d characters together, more than 6000", n))
	}
	return append(found, componentLimits(o)...)
}

// embedLength counts the characters that count towards the sum.
func embedLength(embeds []object) (n int) {
	for _, e := range embeds {
		footer, _ := e["footer"].(object)
		author, _ := e["author"].(object)
		for _, s := range []any{e["title"], e["description"], footer["text"], author["name"]} {
			n += utf8.RuneCountInString(text(s))
		}
		for _, f := range objects(e["fields"]) {
			n += utf8.RuneCountInString(text(f["name"])) + utf8.RuneCountInString(text(f["value"]))
		}
	}
	return n
}

func componentLimits(o object) (found []string) {
	list := objects(o["components"])
	v2 := number(o["flags"])&flagComponentsV2 != 0
	switch all := components(list); {
	case len(all) > 40:
		found = append(found, fmt.Sprintf("%d components, more than 40", len(all)))
	case !v2 && len(list) > 5:
		found = append(found, fmt.Sprintf("%d rows, more than 5", len(list)))
	case v2 && (text(o["content"]) != "" || len(objects(o["embeds"])) > 0):
		found = append(found, "components v2 leave no room for content or embeds")
	}
	for _, row := range list {
		if number(row["type"]) == componentRow {
			found = append(found, rowLimits(objects(row["components"]))...)
		} else if !v2 {
			found = append(found, "a component outside of a row")
		}
	}
	return append(found, customIDLimits(list)...)
}

func rowLimits(row []object) (found []string) {
	selects := 0
	for _, c := range row {
		if number(c["type"]) != componentButton {
			selects++
		}
		if n := utf8.RuneCountInString(text(c["label"])); n > 80 && number(c["type"]) == componentButton {
			found = append(found, fmt.Sprintf("a label has %d characters, more than 80", n))
		}
	}
	if len(row) == 0 || len(row) > 5 || selects > 0 && len(row) > 1 {
		found = append(found, fmt.Sprintf("a row of %d components: 1 to 5 buttons or one select fit", len(row)))
	}
	return found
}

func customIDLimits(list []object) (found []string) {
	seen := map[string]bool{}
	for _, c := range components(list) {
		id, there := c["custom_id"].(string)
		switch {
		case !there:
			continue
		case seen[id]:
			found = append(found, fmt.Sprintf("custom_id %q twice", id))
		case utf8.RuneCountInString(id) < 1 || utf8.RuneCountInString(id) > 100:
			found = append(found, "a custom_id has not 1 to 100 characters")
		}
		seen[id] = true
	}
	return found
}

func callbackLimits(o object) []string {
	data, _ := o["data"].(object)
	switch number(o["type"]) {
	case callbackDeferred:
		if number(data["flags"])&^flagEphemeral != 0 {
			return []string{"a deferral takes no flag but EPHEMERAL"}
		}
	case callbackMessage, callbackUpdate:
		return messageLimits(data)
	case callbackChoices:
		if n := len(objects(data["choices"])); n > 25 {
			return []string{fmt.Sprintf("%d choices, more than 25", n)}
		}
	case callbackModal:
		return modalLimits(data)
	}
	return nil
}

func modalLimits(data object) (found []string) {
	list := objects(data["components"])
	if len(list) < 1 || len(list) > 5 {
		found = append(found, fmt.Sprintf("a form of %d components: 1 to 5 fit", len(list)))
	}
	if n := utf8.RuneCountInString(text(data["title"])); n < 1 || n > 45 {
		found = append(found, fmt.Sprintf("a form's title has %d characters, not 1 to 45", n))
	}
	for _, c := range list {
		if kind := number(c["type"]); kind != componentRow && kind < 10 {
			found = append(found, "a field outside of a label or row")
		}
	}
	return append(found, customIDLimits(list)...)
}

func commandLimits(c *call) (found []string) {
	var commands []object
	if json.Unmarshal(c.body, &commands) != nil {
		commands = []object{c.object()}
	}
	names := map[string]bool{}
	for _, command := range commands {
		name := fmt.Sprint(number(command["type"])&^1, text(command["name"])) // type 1 may be left out
		if names[name] {
			found = append(found, fmt.Sprintf("command %q twice", text(command["name"])))
		}
		names[name] = true
		if n := commandLength(command); n > 8000 {
			found = append(found, fmt.Sprintf("command %q has %d characters, more than 8000", text(command["name"]), n))
		}
		found = append(found, badName(command, "command")...)
		if number(command["type"]) <= 1 {
			found = append(found, badDescription(command)...)
		}
		found = append(found, optionLimits(objects(command["options"]))...)
	}
	if len(commands) > 100 {
		found = append(found, fmt.Sprintf("%d commands, more than 100", len(commands)))
	}
	return found
}

// badName checks a name against the pattern of Discord's documentation, and
// that it is in lower case where there is one.
func badName(o object, what string) []string {
	name := text(o["name"])
	if number(o["type"]) > 1 && what == "command" {
		return nil // user and message commands may be named freely
	}
	if !regexp.MustCompile(`^[-_'\p{L}\p{N}\p{Devanagari}\p{Thai}]{1,32}$`).MatchString(name) {
		return []string{fmt.Sprintf("%s name %q is not one", what, name)}
	}
	if strings.ContainsFunc(name, func(r rune) bool { return unicode.ToLower(r) != r }) {
		return []string{fmt.Sprintf("%s name %q is not in lower case", what, name)}
	}
	return nil
}

func badDescription(o object) []string {
	if n := utf8.RuneCountInString(text(o["description"])); n < 1 || n > 100 {
		return []string{fmt.Sprintf("the description of %q has %d characters, not 1 to 100", text(o["name"]), n)}
	}
	return badLocalizations(o, "description_localizations", 100)
}

// badLocalizations checks what is said in other languages: by locales that
// Discord has, and no longer than in the first.
func badLocalizations(o object, field string, most int) (found []string) {
	said, _ := o[field].(object)
	for locale, v := range said {
		if !slices.Contains(locales(), locale) {
			found = append(found, fmt.Sprintf("%q of %q has no locale %q", field, text(o["name"]), locale))
		}
		if n := utf8.RuneCountInString(text(v)); n < 1 || n > most {
			found = append(found, fmt.Sprintf("%q of %q has %d characters in %s, not 1 to %d", field, text(o["name"]), n, locale, most))
		}
	}
	return found
}

// locales are those of Discord's documentation.
func locales() []string {
	return []string{
		"id", "da", "de", "en-GB", "en-US", "es-ES", "es-419", "fr", "hr", "it", "lt", "hu", "nl", "no", "pl", "pt-BR",
		"ro", "fi", "sv-SE", "vi", "tr", "cs", "el", "bg", "ru", "uk", "hi", "th", "zh-CN", "ja", "zh-TW", "ko",
	}
}

func optionLimits(options []object) (found []string) {
	names, optional, kinds := map[string]bool{}, false, map[bool]bool{}
	for _, o := range options {
		name := text(o["name"])
		found = append(append(found, badName(o, "option")...), badDescription(o)...)
		if names[name] {
			found = append(found, fmt.Sprintf("option %q twice", name))
		}
		names[name] = true
		if o["required"] == true && optional {
			found = append(found, fmt.Sprintf("option %q is required and comes after one that is not", name))
		}
		optional = optional || o["required"] != true
		kinds[number(o["type"]) <= optionGroup] = true
		if o["autocomplete"] == true && len(objects(o["choices"])) > 0 {
			found = append(found, fmt.Sprintf("option %q has choices and autocomplete", name))
		}
		found = append(found, choiceLimits(o)...)
		found = append(found, optionLimits(objects(o["options"]))...)
	}
	if len(kinds) > 1 {
		found = append(found, "subcommands beside other options")
	}
	if len(options) > 25 {
		found = append(found, fmt.Sprintf("%d options, more than 25", len(options)))
	}
	return found
}

func choiceLimits(o object) (found []string) {
	choices := objects(o["choices"])
	if len(choices) > 25 {
		return []string{fmt.Sprintf("option %q has more than 25 choices", text(o["name"]))}
	}
	for _, c := range choices {
		for _, s := range []string{text(c["name"]), text(c["value"])} {
			if utf8.RuneCountInString(s) > 100 {
				return []string{fmt.Sprintf("a choice of option %q has more than 100 characters", text(o["name"]))}
			}
		}
		found = append(found, badLocalizations(c, "name_localizations", 100)...)
	}
	return found
}

// commandLength counts names, descriptions and values of choices, all the way down,
// each in the language where it is longest.
func commandLength(o object) int {
	n := longest(o, "name") + longest(o, "description") + longest(o, "value")
	for _, inner := range append(slices.Clone(objects(o["options"])), objects(o["choices"])...) {
		n += commandLength(inner)
	}
	return n
}

// longest is how long a field is in the language where it is longest.
func longest(o object, field string) int {
	n := utf8.RuneCountInString(text(o[field]))
	said, _ := o[field+"_localizations"].(object)
	for _, v := range said {
		n = max(n, utf8.RuneCountInString(text(v)))
	}
	return n
}

// mentionsOn says that a text goes out without every mention switched off, or "".
func mentionsOn(c *call) string {
	o := c.object()
	if strings.HasSuffix(c.path, "/callback") {
		if kind := number(o["type"]); kind != callbackMessage && kind != callbackUpdate {
			return ""
		}
		o, _ = o["data"].(object)
	} else if !carriesMessage(c) || c.method == "GET" {
		return ""
	}
	if text(o["content"]) == "" && len(objects(o["embeds"]))+len(objects(o["components"])) == 0 {
		return ""
	}
	allowed, there := o["allowed_mentions"].(object)
	parse, isList := allowed["parse"].([]any)
	if !there || !isList || len(parse)+len(list(allowed["users"]))+len(list(allowed["roles"])) > 0 || allowed["replied_user"] == true {
		return "allowed_mentions is not {\"parse\":[]}"
	}
	return ""
}
