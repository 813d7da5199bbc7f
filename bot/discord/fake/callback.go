package fake

import (
	"net/http"
	"slices"
	"time"
)

// A Kind is Discord's number for a kind of interaction.
type Kind int

// Kinds of interaction.
const (
	interactionCommand      Kind = 2
	interactionButton       Kind = 3
	interactionAutocomplete Kind = 4
	interactionModal        Kind = 5
)

// Callback types.
const (
	callbackMessage        = 4
	callbackDeferred       = 5
	callbackDeferredUpdate = 6
	callbackUpdate         = 7
	callbackChoices        = 8
	callbackModal          = 9
)

// An Interaction is one use of a command, button or form, and what came of it.
type Interaction struct {
	ID            string
	Kind          Kind
	User, Channel string // ids
	Message       string // id of the message whose button was pressed
	Created       time.Time
	Answered      time.Time // zero if it was not
	Callback      int       // the type of the answer
	Private       bool      // the answer is for the user's eyes only
	// Original is the id of the message it was answered with; Followups of those after.
	Original  string
	Followups []string
	Choices   []map[string]any // what autocomplete offered
	Form      map[string]any   // the modal that was opened
	// Late says that an answer came after the interaction had failed.
	Late bool

	token string
}

func (i *Interaction) clone() Interaction {
	c := *i
	c.Followups, c.Choices = slices.Clone(i.Followups), cloneAll(i.Choices)
	if i.Form != nil {
		c.Form = cloneJSON(i.Form)
	}
	return c
}

// Failed tells whether the user has seen "This interaction failed" by now,
// if within is how long they wait.
func (i *Interaction) Failed(now time.Time, within time.Duration) bool {
	return i.Answered.IsZero() && now.Sub(i.Created) > within
}

func interactionRoutes() map[string]handler {
	return map[string]handler{"POST /interactions/{interaction}/{token}/callback": answerInteraction}
}

func answerInteraction(s *Server, c *call) (answer, *refusal) {
	i := s.interaction(c.value("interaction"), c.value("token"))
	switch {
	case i == nil:
		return answer{}, refuse(http.StatusNotFound, 10062, "Unknown interaction")
	case !i.Answered.IsZero():
		return answer{}, refuse(http.StatusBadRequest, 40060, "Interaction has already been acknowledged.")
	case i.Failed(c.at, s.options.AnswerWithin):
		i.Late = true
		return answer{}, refuse(http.StatusNotFound, 10062, "Unknown interaction")
	}
	o := c.object()
	kind := number(o["type"])
	if !slices.Contains(i.callbacks(), kind) {
		s.violate(c, "callback type %d does not answer an interaction of type %d", kind, i.Kind)
		return answer{}, invalidForm("type")
	}
	data, _ := o["data"].(object)
	if refused := s.settle(i, c, kind, data); refused != nil {
		return answer{}, refused
	}
	i.Answered, i.Callback = time.Now(), kind
	if c.query.Get("with_response") == "true" {
		return ok(s.callbackJSON(i))
	}
	return noContent()
}

func (s *Server) interaction(id, token string) *Interaction {
	return find(s.state.interactions, func(i *Interaction) bool { return i.token == token && (id == "" || i.ID == id) })
}

// callbacks returns the types that may answer i.
func (i *Interaction) callbacks() []int {
	switch i.Kind {
	case interactionAutocomplete:
		return []int{callbackChoices}
	case interactionModal:
		if i.Message != "" {
			return []int{callbackMessage, callbackDeferred, callbackDeferredUpdate, callbackUpdate}
		}
		return []int{callbackMessage, callbackDeferred}
	case interactionButton:
		return []int{callbackMessage, callbackDeferred, callbackDeferredUpdate, callbackUpdate, callbackModal}
	case interactionCommand:
		return []int{callbackMessage, callbackDeferred, callbackModal}
	}
	return nil
}

// settle does what the answer says.
func (s *Server) settle(i *Interaction, c *call, kind int, data object) *refusal {
	switch kind {
	case callbackMessage:
		m, refused := s.respond(i, c, data)
		if refused != nil {
			return refused
		}
		i.Original, i.Private = m.ID, m.For != ""
	case callbackDeferred:
		m := &Message{Channel: i.Channel, Author: s.state.Bot, Interaction: i.ID, Thinking: true, flags: flagLoading}
		i.seenBy(m, data)
		s.post(m)
		i.Original, i.Private = m.ID, m.For != ""
	case callbackDeferredUpdate:
		i.Original = i.Message
	case callbackUpdate:
		i.Original = i.Message
		return s.update(i.Message, c, data)
	case callbackChoices:
		i.Choices = objects(data["choices"])
	case callbackModal:
		i.Form = data
	}
	return nil
}

// respond posts an answer or a follow-up.
func (s *Server) respond(i *Interaction, c *call, data object) (*Message, *refusal) {
	m := &Message{Channel: i.Channel, Author: s.state.Bot, Interaction: i.ID}
	if i.Kind == interactionCommand {
		m.Type = 20 // CHAT_INPUT_COMMAND
	}
	if refused := s.fill(m, c, data, true); refused != nil {
		return nil, refused
	}
	i.seenBy(m, data)
	s.post(m)
	return m, nil
}

// seenBy makes m one for the user's eyes, if it was sent so.
func (i *Interaction) seenBy(m *Message, data object) {
	if number(data["flags"])&flagEphemeral != 0 {
		m.For = i.User
		m.flags |= flagEphemeral
	}
}

// update changes the message whose button was pressed.
func (s *Server) update(id string, c *call, data object) *refusal {
	m := s.state.message(id)
	if m == nil || m.Deleted {
		return unknownMessage()
	}
	was := *m
	if refused := s.fill(m, c, data, true); refused != nil {
		*m = was
		return refused
	}
	m.Edited = time.Now()
	s.dispatchMessage("MESSAGE_UPDATE", m)
	return nil
}

func (s *Server) callbackJSON(i *Interaction) object {
	o := object{"id": i.ID, "type": int(i.Kind), "channel_id": i.Channel, "guild_id": s.state.guildOf(i.Channel)}
	body := object{"interaction": o}
	if m := s.state.message(i.Original); m != nil {
		o["response_message_id"], o["response_message_ephemeral"], o["response_message_loading"] = m.ID, m.For != "", m.Thinking
		if i.Callback == callbackMessage || i.Callback == callbackUpdate { // the description knows a resource of no other
			body["resource"] = object{"type": i.Callback, "message": s.state.messageJSON(m)}
		}
	}
	return body
}
