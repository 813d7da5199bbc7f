package fake

import (
	"crypto/rand"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Press lets a user press a button, or choose values in a select, and returns
// the interaction's id. It fails if the user could not: no such message or
// button, or it is disabled, or the message is not for their eyes.
func (s *Server) Press(message, customID, user string, values ...string) (id string, err error) {
	s.do(func() { id, err = s.press(message, customID, s.state.mustUser(user), values) })
	return id, err
}

func (s *Server) press(message, customID string, user *User, values []string) (string, error) {
	m := s.state.message(message)
	if m == nil || m.Deleted || m.For != "" && m.For != user.ID {
		return "", mistaken("%s sees no message %q", user.Name, message)
	}
	for _, c := range components(m.Components) {
		if text(c["custom_id"]) != customID || customID == "" {
			continue
		}
		if c["disabled"] == true {
			return "", mistaken("%q is disabled", customID)
		}
		data := object{"custom_id": customID, "component_type": c["type"], "id": c["id"]}
		if number(c["type"]) != componentButton {
			data["values"] = values
		}
		return s.interact(&Interaction{Kind: interactionButton, User: user.ID, Channel: m.Channel, Message: m.ID}, data), nil
	}
	return "", mistaken("no button %q under message %s", customID, message)
}

// Slash lets a user use a command, "today" or "coffee add", and returns the
// interaction's id. Options are by name: strings, bools and numbers. It fails
// where Discord's client would not let it be sent: no such command or option,
// one that is required missing, out of bounds, or not allowed to this user.
func (s *Server) Slash(channel, user, name string, options map[string]any) (id string, err error) {
	s.do(func() {
		id, err = s.slash(s.state.mustChannel(channel), s.state.mustUser(user), name, options, "")
	})
	return id, err
}

// Autocomplete lets a user type in a command's option, the one named focus,
// and returns the interaction's id; [Interaction].Choices holds the offer.
// Other options may be missing or half typed.
func (s *Server) Autocomplete(channel, user, name string, options map[string]any, focus string) (id string, err error) {
	s.do(func() {
		id, err = s.slash(s.state.mustChannel(channel), s.state.mustUser(user), name, options, focus)
	})
	return id, err
}

func (s *Server) slash(c *Channel, u *User, name string, options object, focus string) (string, error) {
	words := strings.Fields(name)
	if len(words) == 0 {
		return "", mistaken("no command is named")
	}
	registered := s.state.findCommand(c.Guild, words[0])
	if registered == nil {
		return "", mistaken("no command /%s", words[0])
	}
	if g := s.state.guildByID(c.Guild); !mayUse(registered, g.permissions(u.ID)) {
		return "", mistaken("%s may not use /%s", u.Name, words[0])
	}
	given, err := choose(objects(registered["options"]), words[1:], options, focus)
	if err != nil {
		return "", fmt.Errorf("/%s: %w", name, err)
	}
	data := object{"id": registered["id"], "name": words[0], "type": 1, "options": given, "guild_id": c.Guild}
	kind := interactionCommand
	if focus != "" {
		kind = interactionAutocomplete
	}
	return s.interact(&Interaction{Kind: kind, User: u.ID, Channel: c.ID}, data), nil
}

func (st *State) findCommand(guild, name string) object {
	for _, scope := range []string{guild, ""} {
		for _, c := range st.commands[scope] {
			if c["name"] == name && number(c["type"]) == 1 {
				return c
			}
		}
	}
	return nil
}

func mayUse(command object, permissions int64) bool {
	needs, err := strconv.ParseInt(fmt.Sprint(command["default_member_permissions"]), 10, 64)
	return err != nil || needs&^permissions == 0
}

// choose builds the options of an interaction, down the words of a subcommand.
func choose(declared []object, words []string, options object, focus string) ([]object, error) {
	if len(words) > 0 {
		for _, d := range declared {
			if d["name"] != words[0] || number(d["type"]) > optionGroup {
				continue
			}
			inner, err := choose(objects(d["options"]), words[1:], options, focus)
			return []object{{"name": words[0], "type": d["type"], "options": inner}}, err
		}
		return nil, mistaken("no subcommand %q", words[0])
	}
	if slices.ContainsFunc(declared, func(d object) bool { return number(d["type"]) <= optionGroup }) {
		return nil, mistaken("a subcommand is missing")
	}
	given, left := []object{}, maps.Clone(options)
	for _, d := range declared {
		name := text(d["name"])
		value, there := options[name]
		delete(left, name)
		switch {
		case there:
			o := object{"name": name, "type": d["type"], "value": value}
			if name == focus {
				o["focused"] = true
			} else if why := unfit(d, value); why != "" && focus == "" {
				return nil, mistaken("%s: %s", name, why)
			}
			given = append(given, o)
		case d["required"] == true && focus == "":
			return nil, mistaken("%s is required", name)
		}
	}
	for name := range left {
		return nil, mistaken("no option %q", name)
	}
	return given, nil
}

// unfit says why a client would not send value for an option, or "".
func unfit(declared object, value any) string {
	switch number(declared["type"]) {
	case optionString, optionUser:
		s, isText := value.(string)
		if !isText {
			return "not text"
		}
		return unfitChoice(declared, s)
	case optionBoolean:
		if _, isBool := value.(bool); !isBool {
			return "not true or false"
		}
	case optionInteger, optionNumber:
		return unfitNumber(declared, value)
	}
	return ""
}

func unfitChoice(declared object, s string) string {
	choices := objects(declared["choices"])
	if len(choices) == 0 || slices.ContainsFunc(choices, func(c object) bool { return c["value"] == s }) {
		return ""
	}
	return fmt.Sprintf("%q is no choice", s)
}

func unfitNumber(declared object, value any) string {
	var n float64
	switch v := value.(type) {
	case float64:
		n = v
	case int:
		n = float64(v)
	default:
		return "not a number"
	}
	low, hasLow := declared["min_value"].(float64)
	high, hasHigh := declared["max_value"].(float64)
	switch {
	case number(declared["type"]) == optionInteger && n != float64(int64(n)):
		return "not whole"
	case hasLow && !(n >= low), hasHigh && !(n <= high):
		return "out of bounds"
	}
	return ""
}

// SubmitModal lets a user send the form that an earlier interaction opened,
// fields by custom id, and returns the new interaction's id.
func (s *Server) SubmitModal(opener string, fields map[string]string) (id string, err error) {
	s.do(func() {
		if i, _ := s.state.Interaction(opener); i.Form != nil {
			id, err = s.submit(&i, fields)
		} else {
			err = mistaken("interaction %q opened no form", opener)
		}
	})
	return id, err
}

func (s *Server) submit(opener *Interaction, fields map[string]string) (string, error) {
	left := maps.Clone(fields)
	filled := objects(cloneJSON(opener.Form)["components"])
	for n, c := range components(filled) {
		c["id"] = n + 1
		if c["custom_id"] == nil {
			delete(c, "label") // a Label's own text does not come back
			continue
		}
		name := text(c["custom_id"])
		value, there := fields[name]
		if !there {
			value = text(c["value"]) // what the form was opened with
		}
		delete(left, name)
		if value == "" && c["required"] != false {
			return "", mistaken("%s is required", name)
		}
		submitted := object{"type": c["type"], "id": c["id"], "custom_id": name, "value": value}
		clear(c)
		maps.Copy(c, submitted)
	}
	for name := range left {
		return "", mistaken("the form has no field %q", name)
	}
	data := object{"custom_id": opener.Form["custom_id"], "components": filled}
	return s.interact(&Interaction{Kind: interactionModal, User: opener.User, Channel: opener.Channel, Message: opener.Message}, data), nil
}

// interact files an interaction and sends it to the bot.
func (s *Server) interact(i *Interaction, data object) string {
	i.ID, i.token, i.Created = s.state.newID(), rand.Text(), time.Now()
	s.state.interactions = append(s.state.interactions, i)
	c := s.state.channelByID(i.Channel)
	g := s.state.guildByID(c.Guild)
	member := s.state.fullMemberJSON(g, *s.state.mustUser(i.User))
	member["permissions"] = strconv.FormatInt(g.permissions(i.User), 10)
	e := object{
		"id": i.ID, "application_id": s.state.Bot.ID, "type": int(i.Kind), "data": data, "guild_id": g.ID, "channel_id": c.ID,
		"channel": s.state.channelJSON(c), "guild": object{"id": g.ID, "locale": g.locale(), "features": []string{}},
		"member": member, "token": i.token, "version": 1, "locale": s.state.mustUser(i.User).locale(), "guild_locale": g.locale(), "entitlements": []object{},
		"app_permissions": strconv.FormatInt(everyonePermissions&^c.Denied, 10), "context": 0,
		"authorizing_integration_owners": object{"0": g.ID},
	}
	if m := s.state.message(i.Message); m != nil {
		e["message"] = s.state.messageJSON(m)
	}
	s.dispatch(event{name: "INTERACTION_CREATE", guild: g.ID, data: e})
	return i.ID
}
