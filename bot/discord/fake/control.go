package fake

import (
	"context"
	"encoding/json"
	"net/http"
	"time"
)

// An order is what a control call may say; each takes what it needs.
type order struct {
	Guild, Channel, User, Text, Name, Message, Interaction, ReplyTo string
	CustomID                                                        string `json:"custom_id"`
	Options                                                         map[string]any
	Fields                                                          map[string]string
	Values                                                          []string
	Focus                                                           string
	Event                                                           string
	Deliveries                                                      []Delivery
	Openings                                                        []Opening
	Faults                                                          []Fault
	Code, Type                                                      int
	Permissions                                                     int64
	On, Manages, Locked, Bot                                        bool
	Emoji                                                           string
}

// control serves /fake/ORDER: POST with a JSON object acts, GET looks.
func (s *Server) control() http.Handler {
	mux := http.NewServeMux()
	for name, act := range s.orders() {
		mux.HandleFunc("POST /fake/"+name, func(w http.ResponseWriter, r *http.Request) { obeyOrder(w, r, act) })
	}
	for name, look := range s.looks() {
		mux.HandleFunc("GET /fake/"+name, func(w http.ResponseWriter, r *http.Request) {
			obeyOrder(w, r, func(order) (any, error) { return look(r.URL.Query().Get("channel")), nil })
		})
	}
	return mux
}

func (s *Server) orders() map[string]func(order) (any, error) {
	id := func(id string) (any, error) { return map[string]string{"id": id}, nil }
	done := func(f func()) (any, error) { f(); return map[string]bool{"done": true}, nil }
	return map[string]func(order) (any, error){
		"say":     func(o order) (any, error) { return id(s.Say(o.Channel, o.User, o.Text, o.ReplyTo)) },
		"edit":    func(o order) (any, error) { return done(func() { s.EditMessage(o.Message, o.Text) }) },
		"delete":  func(o order) (any, error) { return done(func() { s.DeleteMessage(o.Message) }) },
		"react":   func(o order) (any, error) { return done(func() { s.React(o.Message, o.User, o.Emoji) }) },
		"unknown": func(o order) (any, error) { return id(s.SayUnknown(o.Channel)) },
		"post": func(o order) (any, error) {
			return id(s.Post(Message{Channel: o.Channel, Author: User{Name: o.User, Bot: o.Bot}, Content: o.Text, Type: o.Type}))
		},
		"press": func(o order) (any, error) { return s.outcome(s.Press(o.Message, o.CustomID, o.User, o.Values...)) },
		"slash": func(o order) (any, error) { return s.outcome(s.Slash(o.Channel, o.User, o.Name, o.Options)) },
		"autocomplete": func(o order) (any, error) {
			return s.outcome(s.Autocomplete(o.Channel, o.User, o.Name, o.Options, o.Focus))
		},
		"modal":       func(o order) (any, error) { return s.outcome(s.SubmitModal(o.Interaction, o.Fields)) },
		"guild":       func(o order) (any, error) { return id(s.AddGuild(o.Name)) },
		"channel":     func(o order) (any, error) { return id(s.AddChannel(o.Guild, o.Name)) },
		"user":        func(o order) (any, error) { return id(s.AddUser(o.Guild, o.Name, o.Manages)) },
		"thread":      func(o order) (any, error) { return id(s.StartThread(o.Channel, o.User, o.Name)) },
		"archive":     func(o order) (any, error) { return done(func() { s.Archive(o.Channel, o.Locked) }) },
		"deny":        func(o order) (any, error) { return done(func() { s.Deny(o.Channel, o.Permissions) }) },
		"drop":        func(order) (any, error) { return done(s.CutConnections) },
		"close":       func(o order) (any, error) { return done(func() { s.CloseConnections(o.Code) }) },
		"reconnect":   func(order) (any, error) { return done(s.AskReconnect) },
		"invalidate":  func(o order) (any, error) { return done(func() { s.InvalidateSessions(o.On) }) },
		"acks":        func(o order) (any, error) { return done(func() { s.StopAcks(!o.On) }) },
		"events":      func(o order) (any, error) { return done(func() { s.NextEvents(o.Event, o.Deliveries...) }) },
		"connections": func(o order) (any, error) { return done(func() { s.NextConnections(o.Openings...) }) },
		"break":       func(o order) (any, error) { return done(func() { s.Break(o.Faults...) }) },
		"mend":        func(order) (any, error) { return done(s.Mend) },
	}
}

func (s *Server) looks() map[string]func(channel string) any {
	return map[string]func(string) any{
		"messages":   func(channel string) any { return s.readable(channel) },
		"threads":    func(channel string) any { return s.Threads(channel) },
		"commands":   func(string) any { return s.Commands("Harbour Lane") },
		"requests":   func(string) any { return s.Requests() },
		"violations": func(string) any { return s.Violations() },
	}
}

// A shown message is what a person in the channel sees of it.
type shown struct {
	ID, From, Text string
	ReplyTo        string           `json:",omitempty"`
	OnlyFor        string           `json:",omitempty"`
	Embeds         []map[string]any `json:",omitempty"`
	Buttons        []Button         `json:",omitempty"`
	Files          []string         `json:",omitempty"`
	Reactions      []string         `json:",omitempty"`
	Edited         bool             `json:",omitempty"`
	Thinking       bool             `json:",omitempty"`
}

func (s *Server) readable(channel string) []shown {
	list := []shown{}
	for _, m := range s.Messages(channel) {
		list = append(list, s.show(m))
	}
	return list
}

func (s *Server) show(m Message) shown {
	view := shown{
		ID: m.ID, From: m.Author.Name, Text: m.Content, ReplyTo: m.ReplyTo, Embeds: m.Embeds, Buttons: m.Buttons(),
		Reactions: m.Reactions, Edited: !m.Edited.IsZero(), Thinking: m.Thinking,
	}
	if m.For != "" {
		view.OnlyFor = s.User(m.For).Name
	}
	for _, f := range m.Files {
		view.Files = append(view.Files, f.Name+": "+f.Description)
	}
	return view
}

// outcome waits a little for what the bot makes of an interaction.
func (s *Server) outcome(id string, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), s.options.AnswerWithin+time.Second)
	defer cancel()
	// Unanswered is an outcome too, so the error of waiting is none.
	_ = s.Await(ctx, func(st *State) bool { i, _ := st.Interaction(id); return !i.Answered.IsZero() || i.Late })
	i, _ := s.Interaction(id)
	result := map[string]any{"id": id, "answered": !i.Answered.IsZero()}
	if m, there := s.Message(i.Original); there {
		result["answer"] = s.show(m)
	}
	if i.Choices != nil {
		result["choices"] = i.Choices
	}
	if i.Form != nil {
		result["form"] = i.Form
	}
	return result, nil
}

// obeyOrder acts and answers; a mistake in the order is told, with status 400.
func obeyOrder(w http.ResponseWriter, r *http.Request, act func(order) (any, error)) {
	w.Header().Set("Content-Type", "application/json")
	defer func() {
		if m, isMistake := recover().(mistake); isMistake {
			tell(w, m)
		}
	}()
	var o order
	if r.Method == http.MethodPost && r.ContentLength != 0 {
		if err := json.NewDecoder(r.Body).Decode(&o); err != nil {
			tell(w, err)
			return
		}
	}
	result, err := act(o)
	if err != nil {
		tell(w, err)
		return
	}
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", " ")
	_ = encoder.Encode(result) // whoever asked went away
}

func tell(w http.ResponseWriter, err error) {
	w.WriteHeader(http.StatusBadRequest)
	_, _ = w.Write(mustMarshal(map[string]string{"error": err.Error()})) // whoever asked went away
}
