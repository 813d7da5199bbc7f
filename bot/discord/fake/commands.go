package fake

import (
	"encoding/json"
	"maps"
	"net/http"
)

// Command option types.
const (
	optionGroup   = 2 // a subcommand is 1
	optionString  = 3
	optionInteger = 4
	optionBoolean = 5
	optionUser    = 6
	optionNumber  = 10
)

func commandRoutes() map[string]handler {
	routes := map[string]handler{}
	for _, root := range []string{"/applications/{application}/commands", "/applications/{application}/guilds/{guild}/commands"} {
		routes["GET "+root] = inScope(listCommands)
		routes["PUT "+root] = inScope(overwriteCommands)
		routes["POST "+root] = inScope(createCommand)
		routes["DELETE "+root+"/{command}"] = inScope(deleteCommand)
	}
	return routes
}

// inScope serves a call about commands: those of a guild, or the global ones.
func inScope(h func(s *Server, c *call, guild string) (answer, *refusal)) handler {
	return func(s *Server, c *call) (answer, *refusal) {
		guild := c.value("guild")
		switch {
		case c.value("application") != s.state.Bot.ID:
			return answer{}, refuse(http.StatusForbidden, 20012, "You are not authorized to perform this action on this application")
		case guild != "" && s.state.guildByID(guild) == nil:
			return answer{}, refuse(http.StatusForbidden, 50001, "Missing Access")
		}
		return h(s, c, guild)
	}
}

func listCommands(s *Server, c *call, scope string) (answer, *refusal) {
	list := []object{}
	for _, o := range s.state.commands[scope] {
		list = append(list, cloneJSON(o))
	}
	if c.query.Get("with_localizations") != "true" {
		dropLocalizations(list)
	}
	return ok(list)
}

func overwriteCommands(s *Server, c *call, scope string) (answer, *refusal) {
	var sent []object
	if json.Unmarshal(c.body, &sent) != nil {
		return answer{}, invalidForm("not a list")
	}
	all := []object{}
	for _, o := range sent {
		all = append(all, s.registered(scope, o))
	}
	s.state.commands[scope] = all
	return ok(all)
}

func createCommand(s *Server, c *call, scope string) (answer, *refusal) {
	made := s.registered(scope, c.object())
	for i, old := range s.state.commands[scope] {
		if old["id"] == made["id"] { // a name keeps its id
			s.state.commands[scope][i] = made
			return ok(made)
		}
	}
	s.state.commands[scope] = append(s.state.commands[scope], made)
	return answer{http.StatusCreated, made}, nil
}

func deleteCommand(s *Server, c *call, scope string) (answer, *refusal) {
	for i, old := range s.state.commands[scope] {
		if old["id"] == c.value("command") {
			s.state.commands[scope] = append(s.state.commands[scope][:i:i], s.state.commands[scope][i+1:]...)
			return noContent()
		}
	}
	return answer{}, refuse(http.StatusNotFound, 10063, "Unknown application command")
}

// registered is a command as Discord keeps it. A name keeps its id.
func (s *Server) registered(scope string, sent object) object {
	o := object{"type": 1, "default_member_permissions": nil, "description": "", "options": []object{}, "nsfw": false}
	for _, k := range []string{"type", "name", "description", "options", "default_member_permissions", "nsfw", "contexts", "dm_permission", "description_localizations"} {
		if v, there := sent[k]; there && v != nil {
			o[k] = v
		}
	}
	dropNulls(objects(o["options"]))
	o["id"], o["application_id"], o["version"] = s.state.newID(), s.state.Bot.ID, s.state.newID()
	if scope != "" {
		o["guild_id"] = scope
	}
	for _, old := range s.state.commands[scope] {
		if old["name"] == o["name"] && number(old["type"]) == number(o["type"]) {
			o["id"] = old["id"]
		}
	}
	return o
}

// dropLocalizations leaves out what is said in other languages, which is sent only
// where it is asked for.
func dropLocalizations(list []object) {
	for _, o := range list {
		delete(o, "name_localizations")
		delete(o, "description_localizations")
		dropLocalizations(objects(o["options"]))
		dropLocalizations(objects(o["choices"]))
	}
}

// dropNulls leaves out what was sent as null: Discord does not send it back.
func dropNulls(options []object) {
	for _, o := range options {
		maps.DeleteFunc(o, func(_ string, v any) bool { return v == nil })
		dropNulls(objects(o["options"]))
	}
}
