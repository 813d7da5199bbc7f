package fake

import (
	"context"
	"encoding/json"
	"net/http"
	"net/url"
	"time"
)

// An order is what a control call may say; each takes what it needs.
type order struct {
	Guild       string            `json:"guild"`
	Channel     string            `json:"channel"`
	User        string            `json:"user"`
	Text        string            `json:"text"`
	Name        string            `json:"name"`
	Message     string            `json:"message"`
	Interaction string            `json:"interaction"`
	ReplyTo     string            `json:"reply_to"`
	CustomID    string            `json:"custom_id"`
	Emoji       string            `json:"emoji"`
	Options     map[string]any    `json:"options"`
	Fields      map[string]string `json:"fields"`
	Values      []string          `json:"values"`
	Focus       string            `json:"focus"`
	Event       string            `json:"event"`
	Deliveries  []Delivery        `json:"deliveries"`
	Openings    []Opening         `json:"openings"`
	Faults      []Fault           `json:"faults"`
	Code        int               `json:"code"`
	Type        int               `json:"type"`
	Permissions int64             `json:"permissions"`
	On          bool              `json:"on"`
	Manages     bool              `json:"manages"`
	Locked      bool              `json:"locked"`
	Bot         bool              `json:"bot"`
	// Wait is for how many seconds at most "say" waits for the bot to post.
	Wait float64 `json:"wait"`
}

// control serves /fake/ORDER: POST with a JSON object acts, GET looks.
func (s *Server) control() http.Handler {
	mux := http.NewServeMux()
	for name, act := range s.orders() {
		mux.HandleFunc("POST /fake/"+name, func(w http.ResponseWriter, r *http.Request) { obeyOrder(w, r, act) })
	}
	for name, look := range s.looks() {
		mux.HandleFunc("GET /fake/"+name, func(w http.ResponseWriter, r *http.Request) {
			obeyOrder(w, r, func(order) (any, error) { return look(r.URL.Query()), nil })
		})
	}
	return mux
}

func (s *Server) orders() map[string]func(order) (any, error) {
	id := func(id string) (any, error) { return map[string]string{"id": id}, nil }
	done := func(f func()) (any, error) { f(); return map[string]bool{"done": true}, nil }
	return map[string]func(order) (any, error){
		"say":     s.sayAndWait,
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
		"acks":        func(o order) (any, error) { return done(s.StopAcks) },
		"events":      func(o order) (any, error) { return done(func() { s.NextEvents(o.Event, o.Deliveries...) }) },
		"connections": func(o order) (any, error) { return done(func() { s.NextConnections(o.Openings...) }) },
		"break":       func(o order) (any, error) { return done(func() { s.Break(o.Faults...) }) },
		"mend":        func(order) (any, error) { return done(s.Mend) },
	}
}

func (s *Server) looks() map[string]func(url.Values) any {
	return map[string]func(url.Values) any{
		"messages":   func(q url.Values) any { return s.readable(s.Messages(q.Get("channel"))) },
		"threads":    func(q url.Values) any { return s.Threads(q.Get("channel")) },
		"commands":   func(q url.Values) any { return s.Commands(q.Get("guild")) },
		"requests":   func(url.Values) any { return s.Requests() },
		"violations": func(url.Values) any { return append([]string{}, s.Violations()...) },
		"status": func(url.Values) any {
			return map[string]int{"connections": s.Connections(), "identifies": len(s.Identifies()), "resumes": s.Resumes()}
		},
	}
}

// sayAndWait says something and, if it is told to wait, tells what the bot
// posted or reacted with until then, wherever that was.
func (s *Server) sayAndWait(o order) (any, error) {
	id := s.Say(o.Channel, o.User, o.Text, o.ReplyTo)
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(o.Wait*float64(time.Second)))
	defer cancel()
	var posts []Message
	// Silence is an answer too, so the error of waiting is none.
	_ = s.Await(ctx, func(st *State) bool {
		posts = st.postsAfter(id)
		said, _ := st.Message(id)
		return len(posts)+len(said.Reactions) > 0
	})
	said, _ := s.Message(id)
	return map[string]any{"id": id, "posts": s.readable(posts), "reactions": len(said.Reactions)}, nil
}

// postsAfter returns what the bot posted anywhere since a message.
func (st *State) postsAfter(id string) (all []Message) {
	for _, m := range st.messages {
		if later(m.ID, id) && m.Author == st.Bot && !m.Deleted {
			all = append(all, m.clone())
		}
	}
	return all
}

// A shown message is what a person in the channel sees of it.
type shown struct {
	ID        string           `json:"id"`
	From      string           `json:"from"`
	Text      string           `json:"text"`
	Channel   string           `json:"channel"`
	ReplyTo   string           `json:"reply_to,omitempty"`
	OnlyFor   string           `json:"only_for,omitempty"`
	Embeds    []map[string]any `json:"embeds,omitempty"`
	Buttons   []Button         `json:"buttons,omitempty"`
	Files     []string         `json:"files,omitempty"`
	Reactions []string         `json:"reactions,omitempty"`
	Edited    bool             `json:"edited,omitempty"`
	Thinking  bool             `json:"thinking,omitempty"`
}

func (s *Server) readable(messages []Message) []shown {
	list := []shown{}
	for _, m := range messages {
		list = append(list, s.show(m))
	}
	return list
}

func (s *Server) show(m Message) shown {
	view := shown{
		ID: m.ID, From: m.Author.Name, Text: m.Content, Channel: m.Channel, ReplyTo: m.ReplyTo, Embeds: m.Embeds, Buttons: m.Buttons(),
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
