package fake

import "net/http"

// whoami are the calls about the bot itself, its guilds and their members.
func whoami() map[string]handler {
	return map[string]handler{
		"GET /gateway":                         getGateway,
		"GET /gateway/bot":                     getGatewayBot,
		"GET /users/@me":                       getMe,
		"GET /users/@me/guilds":                getMyGuilds,
		"GET /users/{user}":                    getUser,
		"GET /applications/@me":                getApplication,
		"GET /oauth2/applications/@me":         getApplication,
		"GET /guilds/{guild}":                  inGuild(getGuild),
		"GET /guilds/{guild}/channels":         inGuild(getGuildChannels),
		"GET /guilds/{guild}/roles":            inGuild(getGuildRoles),
		"GET /guilds/{guild}/members/{member}": inGuild(getMember),
	}
}

func getGateway(s *Server, _ *call) (answer, *refusal) { return ok(object{"url": s.gatewayURL()}) }

func getGatewayBot(s *Server, _ *call) (answer, *refusal) {
	left := max(0, 1000-len(s.state.identifies))
	return ok(object{"url": s.gatewayURL(), "shards": 1, "session_start_limit": object{
		"total": 1000, "remaining": left, "reset_after": 86400000, "max_concurrency": 1,
	}})
}

func getMe(s *Server, _ *call) (answer, *refusal) {
	me := userJSON(s.state.Bot)
	me["mfa_enabled"], me["locale"], me["verified"], me["email"] = false, "en-US", true, nil
	return ok(me)
}

func getMyGuilds(s *Server, _ *call) (answer, *refusal) {
	all := []object{}
	for _, g := range s.state.guilds {
		all = append(all, object{"id": g.ID, "name": g.Name, "icon": nil, "banner": nil, "owner": false, "permissions": "0", "features": []string{}})
	}
	return ok(all)
}

func getUser(s *Server, c *call) (answer, *refusal) {
	if u := find(s.state.users, func(u *User) bool { return u.ID == c.value("user") }); u != nil {
		return ok(userJSON(*u))
	}
	return answer{}, refuse(http.StatusNotFound, 10013, "Unknown User")
}

func getApplication(s *Server, _ *call) (answer, *refusal) {
	return ok(object{
		"id": s.state.Bot.ID, "name": s.state.Bot.Name, "icon": nil, "description": "", "type": nil, "verify_key": "0", "flags": 1 << 19,
		"flags_new": "524288", "redirect_uris": []string{}, "interactions_endpoint_url": nil, "role_connections_verification_url": nil,
		"owner": userJSON(User{ID: s.state.Bot.ID, Name: "owner"}), "approximate_guild_count": len(s.state.guilds),
		"approximate_user_install_count": 0, "approximate_user_authorization_count": 0, "explicit_content_filter": 0,
		"team": nil, "eligible_oauth2_scopes": []string{"bot"}, "bot_public": true, "bot_require_code_grant": false,
	})
}

func getGuild(s *Server, _ *call, g *Guild) (answer, *refusal) { return ok(s.state.guildJSON(g)) }

func getGuildRoles(s *Server, _ *call, g *Guild) (answer, *refusal) { return ok(s.state.rolesJSON(g)) }

func getGuildChannels(s *Server, _ *call, g *Guild) (answer, *refusal) {
	all := []object{}
	for _, channel := range s.state.channels {
		if channel.Guild == g.ID && channel.Parent == "" {
			all = append(all, s.state.channelJSON(channel))
		}
	}
	return ok(all)
}

func getMember(s *Server, c *call, g *Guild) (answer, *refusal) {
	for _, u := range s.state.users {
		if _, member := g.Members[u.ID]; member && u.ID == c.value("member") {
			return ok(s.state.fullMemberJSON(g, *u))
		}
	}
	return answer{}, refuse(http.StatusNotFound, 10007, "Unknown Member")
}
