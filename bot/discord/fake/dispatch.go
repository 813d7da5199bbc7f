package fake

import (
	"maps"
	"slices"
	"time"
)

// Intents, as bits.
const (
	intentGuilds    = 1 << 0
	intentMessages  = 1 << 9
	intentReactions = 1 << 10
	intentContent   = 1 << 15
	intentsKnown    = 1<<26 - 1
)

// An event is one dispatch before it is fitted to a session.
type event struct {
	name   string
	guild  string // "" for all shards
	intent int    // 0 for all sessions
	data   object
	bare   object // what a session without the content intent gets; nil for data
}

// dispatch gives an event to every session that is entitled to it, connected
// or not.
func (s *Server) dispatch(e event) {
	how := s.gateway.deliveryOf(e.name)
	for id, session := range s.sessions {
		if session.link == nil && time.Since(session.left) > sessionLife {
			delete(s.sessions, id)
			continue
		}
		if e.intent&session.intents != e.intent || !shards(e.guild, session.shard) {
			continue
		}
		data := e.data
		if e.bare != nil && session.intents&intentContent == 0 {
			data = e.bare
		}
		session.send(e.name, data, how)
	}
}

// dispatchMessage tells of a new or changed message, unless it is for one
// person's eyes.
func (s *Server) dispatchMessage(name string, m *Message) {
	if m.For != "" {
		return
	}
	guild := s.state.guildOf(m.Channel)
	data := s.state.messageJSON(m)
	data["guild_id"] = guild
	if g := s.state.guildByID(guild); g != nil && m.Webhook == "" {
		data["member"] = s.state.memberJSON(g, m.Author.ID)
	}
	s.dispatch(event{name: name, guild: guild, intent: intentMessages, data: data, bare: s.bare(m, data)})
}

// bare hides the content of m as Discord does without the content intent:
// not from its own author, nor from a bot it mentions.
func (s *Server) bare(m *Message, data object) object {
	if m.Author == s.state.Bot || slices.Contains(m.Pings, s.state.Bot.ID) {
		return nil
	}
	hidden := maps.Clone(data)
	hidden["content"] = ""
	for _, k := range []string{"embeds", "attachments", "components"} {
		hidden[k] = []object{}
	}
	return hidden
}
