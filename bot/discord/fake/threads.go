package fake

import (
	"net/http"
	"slices"
	"time"
	"unicode/utf8"
)

func threadRoutes() map[string]handler {
	return map[string]handler{
		"POST /channels/{channel}/messages/{message}/threads": onMessage(CreatePublicThreads, startFromMessage),
		"POST /channels/{channel}/threads":                    inChannel(CreatePublicThreads, startThread),
		"GET /channels/{channel}/threads/active":              inChannel(0, activeOfChannel),
		"GET /guilds/{guild}/threads/active":                  inGuild(activeOfGuild),
		"GET /channels/{channel}/threads/archived/public":     inChannel(ReadMessageHistory, archivedThreads),
		"PATCH /channels/{channel}":                           inChannel(0, changeThread),
		"PUT /channels/{channel}/thread-members/@me":          func(*Server, *call) (answer, *refusal) { return noContent() },
	}
}

func startFromMessage(s *Server, c *call, channel *Channel, m *Message) (answer, *refusal) {
	switch {
	case channel.Parent != "":
		return answer{}, refuse(http.StatusBadRequest, 50024, "Cannot execute action on this channel type")
	case s.state.channelByID(m.ID) != nil:
		return answer{}, refuse(http.StatusBadRequest, 160004, "A thread has already been created for this message")
	}
	name, minutes, refused := threadParameters(c)
	if refused != nil {
		return answer{}, refused
	}
	m.flags |= flagHasThread
	thread := s.openThread(channel, &s.state.Bot, m.ID, name, minutes)
	s.dispatchMessage("MESSAGE_UPDATE", m)
	s.post(&Message{Channel: thread.ID, Author: m.Author, Type: TypeThreadStarter})
	return answer{http.StatusCreated, s.state.channelJSON(thread)}, nil
}

func startThread(s *Server, c *call, channel *Channel) (answer, *refusal) {
	name, minutes, refused := threadParameters(c)
	switch {
	case refused != nil:
		return answer{}, refused
	case channel.Parent != "":
		return answer{}, refuse(http.StatusBadRequest, 50024, "Cannot execute action on this channel type")
	case number(c.object()["type"]) != 11:
		// Left out it is a private thread, which nobody would see.
		s.violate(c, "a thread without a message must say type 11, public")
		return answer{}, invalidForm("type")
	}
	thread := s.openThread(channel, &s.state.Bot, s.state.newID(), name, minutes)
	s.post(&Message{Channel: channel.ID, Author: s.state.Bot, Type: TypeThreadCreated, Content: name})
	return answer{http.StatusCreated, s.state.channelJSON(thread)}, nil
}

func threadParameters(c *call) (name string, minutes int, refused *refusal) {
	o := c.object()
	name, minutes = text(o["name"]), number(o["auto_archive_duration"])
	if o["auto_archive_duration"] == nil {
		minutes = 1440
	}
	if n := utf8.RuneCountInString(name); n < 1 || n > 100 {
		return "", 0, invalidForm("name must have 1 to 100 characters")
	}
	if !slices.Contains([]int{60, 1440, 4320, 10080}, minutes) {
		return "", 0, invalidForm("auto_archive_duration")
	}
	return name, minutes, nil
}

func (s *Server) threadList(keep func(*Channel) bool) object {
	threads := []object{}
	for _, c := range slices.Backward(s.state.channels) {
		if c.Parent != "" && keep(c) {
			threads = append(threads, s.state.channelJSON(c))
		}
	}
	return object{"threads": threads, "members": []object{}, "has_more": false}
}

// activeOfChannel is in API version 9 only.
func activeOfChannel(s *Server, c *call, channel *Channel) (answer, *refusal) {
	if c.version != "v9" {
		return answer{}, refuse(http.StatusNotFound, 0, "404: Not Found")
	}
	return ok(s.threadList(func(t *Channel) bool { return t.Parent == channel.ID && !t.Archived }))
}

func activeOfGuild(s *Server, _ *call, g *Guild) (answer, *refusal) {
	return ok(s.threadList(func(t *Channel) bool { return t.Guild == g.ID && !t.Archived && t.Denied&ViewChannel == 0 }))
}

// archivedThreads returns a page, the last archived first.
func archivedThreads(s *Server, c *call, channel *Channel) (answer, *refusal) {
	before, err := time.Parse(time.RFC3339, c.query.Get("before"))
	if c.query.Has("before") && err != nil {
		return answer{}, invalidForm("before")
	}
	page := s.threadList(func(t *Channel) bool {
		return t.Parent == channel.ID && t.Archived && (before.IsZero() || t.ArchivedAt.Before(before))
	})
	threads := objects(page["threads"])
	if n := c.limit(50); len(threads) > n {
		page["threads"], page["has_more"] = threads[:n], true
	}
	return ok(page)
}

// changeThread renames, archives and opens the bot's own threads.
func changeThread(s *Server, c *call, thread *Channel) (answer, *refusal) {
	o := c.object()
	archived, sent := o["archived"].(bool)
	switch {
	case thread.Parent == "" || thread.Owner != s.state.Bot.ID:
		return answer{}, refuse(http.StatusForbidden, 50013, "Missing Permissions")
	case thread.Archived && (!sent || archived):
		return answer{}, refuse(http.StatusBadRequest, 50083, "Thread is archived")
	}
	if name := text(o["name"]); name != "" {
		thread.Name = name
	}
	if sent && archived != thread.Archived {
		thread.Archived, thread.ArchivedAt = archived, time.Now()
	}
	s.threadEvent("THREAD_UPDATE", thread)
	return ok(s.state.channelJSON(thread))
}
