package fake

import (
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

func messageRoutes() map[string]handler {
	const one = "/channels/{channel}/messages/{message}"
	return map[string]handler{
		"GET /channels/{channel}":                  inChannel(0, getChannel),
		"GET /channels/{channel}/messages":         inChannel(0, listMessages),
		"POST /channels/{channel}/messages":        inChannel(0, createMessage),
		"GET " + one:                               onMessage(0, getMessage),
		"PATCH " + one:                             onMessage(0, editMessage),
		"DELETE " + one:                            onMessage(0, deleteMessage),
		"PUT " + one + "/reactions/{emoji}/@me":    onMessage(AddReactions|ReadMessageHistory, addReaction),
		"DELETE " + one + "/reactions/{emoji}/@me": onMessage(0, removeReaction),
		"POST /channels/{channel}/typing":          func(*Server, *call) (answer, *refusal) { return noContent() },
	}
}

// nonceLife is how long a nonce is remembered: "the past few minutes".
const nonceLife = 5 * time.Minute

// channel finds the channel a call is about, if the bot may see it and do what it wants.
func (s *Server) channel(c *call, permissions int64) (*Channel, *refusal) {
	channel := s.state.channelByID(c.value("channel"))
	switch {
	case channel == nil:
		return nil, refuse(http.StatusNotFound, 10003, "Unknown Channel")
	case channel.Denied&ViewChannel != 0:
		return nil, refuse(http.StatusForbidden, 50001, "Missing Access")
	case channel.Denied&permissions != 0:
		return nil, refuse(http.StatusForbidden, 50013, "Missing Permissions")
	}
	return channel, nil
}

func unknownMessage() *refusal { return refuse(http.StatusNotFound, 10008, "Unknown Message") }

func getChannel(s *Server, _ *call, channel *Channel) (answer, *refusal) {
	return ok(s.state.channelJSON(channel))
}

func getMessage(s *Server, _ *call, _ *Channel, m *Message) (answer, *refusal) { return ok(s.shown(m)) }

// shown is a message as the bot may see it by REST, where the content intent
// counts too.
func (s *Server) shown(m *Message) object {
	o := s.state.messageJSON(m)
	if s.options.ForbiddenIntents&intentContent == 0 {
		return o
	}
	if hidden := s.bare(m, o); hidden != nil {
		return hidden
	}
	return o
}

// listMessages returns the newest first. With after it is the ones that
// follow it immediately, also the newest of them first.
func listMessages(s *Server, c *call, channel *Channel) (answer, *refusal) {
	all := []object{}
	if channel.Denied&ReadMessageHistory != 0 {
		return ok(all)
	}
	var found []*Message
	for _, m := range s.state.messages {
		if m.Channel == channel.ID && !m.Deleted && m.For == "" && within(m.ID, c.query.Get("after"), c.query.Get("before")) {
			found = append(found, m)
		}
	}
	limit := min(c.limit(50), len(found))
	if c.query.Has("after") {
		found = found[:limit]
	} else {
		found = found[len(found)-limit:]
	}
	for _, m := range slices.Backward(found) {
		all = append(all, s.shown(m))
	}
	return ok(all)
}

// within tells whether an id lies strictly between two others, "" being none.
func within(id, after, before string) bool {
	return (after == "" || later(id, after)) && (before == "" || later(before, id))
}

// later compares ids, which are numbers without leading zeros.
func later(a, b string) bool {
	return len(a) > len(b) || len(a) == len(b) && a > b
}

func createMessage(s *Server, c *call, channel *Channel) (answer, *refusal) {
	if refused := mayPost(channel, c); refused != nil {
		return answer{}, refused
	}
	o := c.object()
	switch first, refused := s.sameNonce(channel, o); {
	case refused != nil:
		return answer{}, refused
	case first != nil:
		return ok(s.state.messageJSON(first))
	}
	m := &Message{Channel: channel.ID, Author: s.state.Bot, Nonce: text(o["nonce"])}
	if refused := s.reply(m, o); refused != nil {
		return answer{}, refused
	}
	if refused := s.fill(m, c, o, false); refused != nil {
		return answer{}, refused
	}
	if channel.Denied&EmbedLinks != 0 {
		m.Embeds = nil
	}
	s.post(m)
	return ok(s.state.messageJSON(m))
}

func mayPost(channel *Channel, c *call) *refusal {
	needs := int64(SendMessages)
	if channel.Parent != "" {
		needs = SendMessagesInThread
	}
	if len(c.files) > 0 {
		needs |= AttachFiles
	}
	switch {
	case channel.Denied&needs != 0:
		return refuse(http.StatusForbidden, 50013, "Missing Permissions")
	case channel.Locked:
		return refuse(http.StatusBadRequest, 50083, "Thread is archived")
	}
	return nil
}

// sameNonce finds what the bot posted with the same nonce a while ago. If that
// was deleted the new one is refused, as is reported of Discord.
func (s *Server) sameNonce(channel *Channel, o object) (*Message, *refusal) {
	nonce := text(o["nonce"])
	if nonce == "" || o["enforce_nonce"] != true {
		return nil, nil
	}
	for _, m := range s.state.messages {
		if m.Nonce != nonce || m.Channel != channel.ID || time.Since(m.Created) > nonceLife {
			continue
		}
		if m.Deleted {
			return nil, unknownMessage()
		}
		return m, nil
	}
	return nil, nil
}

// reply sets what m answers. Without fail_if_not_exists:false that must be there.
func (s *Server) reply(m *Message, o object) *refusal {
	reference, isReply := o["message_reference"].(object)
	if !isReply {
		return nil
	}
	id := text(reference["message_id"])
	to := s.state.message(id)
	if to == nil || to.Deleted || to.Channel != m.Channel {
		if reference["fail_if_not_exists"] == false {
			return nil
		}
		return invalidForm("message_reference: Unknown message")
	}
	m.Type, m.ReplyTo = TypeReply, id
	allowed, _ := o["allowed_mentions"].(object)
	if replyPings(allowed) {
		m.Pings = append(m.Pings, to.Author.ID)
	}
	return nil
}

// fill puts what was sent into m: what is left out stays as it is.
func (s *Server) fill(m *Message, c *call, o object, webhook bool) *refusal {
	if v, sent := o["content"]; sent {
		m.Content = text(v)
	}
	if v, sent := o["embeds"]; sent {
		m.Embeds = objects(v)
	}
	if v, sent := o["components"]; sent {
		m.Components = numbered(objects(v))
	}
	m.flags |= number(o["flags"]) & (flagEphemeral | flagComponentsV2 | flagSilent)
	if refused := s.attach(m, c, o); refused != nil {
		return refused
	}
	s.linkEmbeds(m)
	allowed, _ := o["allowed_mentions"].(object)
	m.Pings = append(m.Pings, s.state.pings(m.Content, allowed, webhook)...)
	if m.Content == "" && len(m.Embeds)+len(m.Components)+len(m.Files) == 0 {
		s.violate(c, "nothing to send")
		return refuse(http.StatusBadRequest, 50006, "Cannot send an empty message")
	}
	return nil
}

// attach keeps the files that attachments names and adds the uploaded ones,
// with their alt texts.
func (s *Server) attach(m *Message, c *call, o object) *refusal {
	named := objects(o["attachments"])
	if _, sent := o["attachments"]; sent {
		m.Files = slices.DeleteFunc(m.Files, func(f File) bool {
			return !slices.ContainsFunc(named, func(a object) bool { return attachmentID(a) == f.ID })
		})
	}
	for i, f := range c.files {
		f.ID = s.state.newID()
		for _, a := range named {
			if attachmentID(a) == strconv.Itoa(c.slots[i]) {
				f.Description = text(a["description"])
				if name := text(a["filename"]); name != "" {
					f.Name = name
				}
			}
		}
		if f.Name == "" {
			return invalidForm("a file has no name")
		}
		m.Files = append(m.Files, f)
	}
	return nil
}

// attachmentID reads an id that may be a number or text.
func attachmentID(a object) string {
	if n, isNumber := a["id"].(float64); isNumber {
		return strconv.Itoa(int(n))
	}
	return text(a["id"])
}

// numbered gives components the ids and defaults that Discord fills in.
func numbered(list []object) []object {
	for i, c := range components(list) {
		c["id"] = i + 1
		if kind := number(c["type"]); kind >= 3 && kind <= 8 && kind != componentText {
			for _, k := range []string{"min_values", "max_values"} {
				if c[k] == nil {
					c[k] = 1
				}
			}
		}
	}
	return list
}

// linkEmbeds resolves attachment:// in embeds and fills in what is always there.
func (s *Server) linkEmbeds(m *Message) {
	for _, e := range m.Embeds {
		e["type"] = "rich"
		for _, f := range objects(e["fields"]) {
			f["inline"] = f["inline"] == true
		}
		for _, k := range []string{"image", "thumbnail"} {
			image, isImage := e[k].(object)
			if !isImage {
				continue
			}
			name := strings.TrimPrefix(text(image["url"]), "attachment://")
			for _, f := range m.Files {
				if f.Name == name {
					image["url"] = s.state.fileURL(m, f)
				}
			}
		}
	}
}

func editMessage(s *Server, c *call, channel *Channel, m *Message) (answer, *refusal) {
	switch {
	case m.Author != s.state.Bot || m.Webhook != "":
		return answer{}, refuse(http.StatusForbidden, 50005, "Cannot edit a message authored by another user")
	case channel.Archived:
		return answer{}, refuse(http.StatusBadRequest, 50083, "Thread is archived")
	}
	if refused := s.change(m, c); refused != nil {
		return answer{}, refused
	}
	return ok(s.state.messageJSON(m))
}

// change edits a message of the bot's and tells of it.
func (s *Server) change(m *Message, c *call) *refusal {
	was := *m
	m.Pings = nil
	if refused := s.fill(m, c, c.object(), m.Interaction != ""); refused != nil {
		*m = was
		return refused
	}
	m.Edited, m.Thinking = time.Now(), false
	m.flags &^= flagLoading
	s.dispatchMessage("MESSAGE_UPDATE", m)
	return nil
}

func deleteMessage(s *Server, _ *call, _ *Channel, m *Message) (answer, *refusal) {
	if m.Author != s.state.Bot {
		return answer{}, refuse(http.StatusForbidden, 50013, "Missing Permissions")
	}
	s.remove(m)
	return noContent()
}

func addReaction(s *Server, c *call, channel *Channel, m *Message) (answer, *refusal) {
	emoji := c.value("emoji")
	switch {
	case channel.Archived:
		return answer{}, refuse(http.StatusBadRequest, 50083, "Thread is archived")
	case emoji == "✓": // a letter, which people take for an emoji
		s.violate(c, "✓ is no emoji")
		return answer{}, refuse(http.StatusBadRequest, 10014, "Unknown Emoji")
	case emoji == "" || utf8.RuneCountInString(emoji) > 40 || emoji[0] < utf8.RuneSelf && !strings.Contains(emoji, ":"):
		return answer{}, refuse(http.StatusBadRequest, 10014, "Unknown Emoji")
	}
	s.react(m, s.state.Bot.ID, emoji)
	return noContent()
}

func removeReaction(s *Server, c *call, _ *Channel, m *Message) (answer, *refusal) {
	mine := c.value("emoji") + " " + s.state.Bot.ID
	m.Reactions = slices.DeleteFunc(m.Reactions, func(r string) bool { return r == mine })
	return noContent()
}
