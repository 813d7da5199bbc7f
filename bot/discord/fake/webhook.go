package fake

import (
	"net/http"
	"slices"
	"time"
)

// webhookRoutes are the edits of an answer and the follow-ups to it, which
// the interaction's token allows.
func webhookRoutes() map[string]handler {
	const root = "/webhooks/{application}/{token}"
	return map[string]handler{
		"POST " + root:                           followUp,
		"GET " + root + "/messages/{message}":    getAnswer,
		"PATCH " + root + "/messages/{message}":  editAnswer,
		"DELETE " + root + "/messages/{message}": deleteAnswer,
	}
}

// answered finds the interaction whose token is used. It must have had its
// first answer, and its token lives only so long.
func (s *Server) answered(c *call) (*Interaction, *refusal) {
	i := s.interaction("", c.value("token"))
	switch {
	case i == nil || c.value("application") != s.state.Bot.ID || i.Answered.IsZero():
		return nil, refuse(http.StatusNotFound, 10015, "Unknown Webhook")
	case time.Since(i.Created) > s.options.TokenLife:
		return nil, refuse(http.StatusUnauthorized, 50027, "Invalid Webhook Token")
	}
	return i, nil
}

// answerMessage finds the message a call is about: the original or a follow-up.
func (s *Server) answerMessage(c *call) (*Message, *refusal) {
	i, refused := s.answered(c)
	if refused != nil {
		return nil, refused
	}
	id := c.value("message")
	if id == "@original" {
		id = i.Original
	} else if id != i.Original && !slices.Contains(i.Followups, id) {
		return nil, unknownMessage()
	}
	m := s.state.message(id)
	if m == nil || m.Deleted {
		return nil, unknownMessage()
	}
	return m, nil
}

// followUp posts one more answer. After a deferral the first one fills in
// what was deferred (from memory).
func followUp(s *Server, c *call) (answer, *refusal) {
	i, refused := s.answered(c)
	if refused != nil {
		return answer{}, refused
	}
	if m := s.state.message(i.Original); m != nil && m.Thinking && !m.Deleted {
		if refused := s.change(m, c); refused != nil {
			return answer{}, refused
		}
		return ok(s.state.messageJSON(m))
	}
	m, refused := s.respond(i, c, c.object())
	if refused != nil {
		return answer{}, refused
	}
	i.Followups = append(i.Followups, m.ID)
	return ok(s.state.messageJSON(m))
}

func getAnswer(s *Server, c *call) (answer, *refusal) {
	m, refused := s.answerMessage(c)
	if refused != nil {
		return answer{}, refused
	}
	return ok(s.state.messageJSON(m))
}

func editAnswer(s *Server, c *call) (answer, *refusal) {
	m, refused := s.answerMessage(c)
	if refused != nil {
		return answer{}, refused
	}
	if refused := s.change(m, c); refused != nil {
		return answer{}, refused
	}
	return ok(s.state.messageJSON(m))
}

func deleteAnswer(s *Server, c *call) (answer, *refusal) {
	m, refused := s.answerMessage(c)
	if refused != nil {
		return answer{}, refused
	}
	s.remove(m)
	return noContent()
}
