package discord

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/markup"
	"shothand/bot/discord/rest"
)

// An asking is a command or a press that waits for its answer.
type asking struct {
	i     wireInteraction
	press bool // acknowledged already; its answers are posts of their own

	mu       sync.Mutex
	answered bool
	deferred bool
	private  bool // as it was deferred
	scolded  bool // a private answer to a press: it did not do what was meant
	replaced bool // the post whose button was pressed was edited
}

// Kinds of first answers.
const (
	answerMessage  = 4
	answerDefer    = 5
	answerSilently = 6
	answerChoices  = 8
	answerForm     = 9
)

// A callback is the first answer to an interaction.
type callback struct {
	Type int `json:"type"`
	Data any `json:"data,omitempty"`
}

// hear takes an interaction from the gateway. Somebody waits for the answer,
// so it does not stand in the queue of events.
func (d *Discord) hear(ctx context.Context, data json.RawMessage) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.ended {
		return
	}
	select {
	case d.slots <- struct{}{}:
	default:
		d.log.Warn("too many commands at once")
		return
	}
	d.callers.Go(func() {
		defer func() { <-d.slots }()
		d.safely("INTERACTION_CREATE", func() error {
			var i wireInteraction
			if err := json.Unmarshal(data, &i); err != nil {
				return err
			}
			ctx, cancel := detach(ctx, d.times.Grace)
			defer cancel()
			return d.interact(ctx, i)
		})
	})
}

// interact answers an interaction.
func (d *Discord) interact(ctx context.Context, i wireInteraction) error {
	d.know(identity{app: i.AppID})
	m, ok := d.messageOf(ctx, i)
	if !ok {
		return nil
	}
	switch i.Type {
	case askedSuggest:
		return d.suggest(ctx, i, m)
	case askedPress, askedCommand:
		if form, ok := d.o.Desk.Form(m); ok {
			return d.first(ctx, i, callback{answerForm, formOf(i.ID, form)}, nil, nil)
		}
	case askedFormDone:
	default:
		return nil
	}
	return d.ask(ctx, &asking{i: i, press: i.Type == askedPress}, m)
}

// ask delivers m and sees to it that the person hears something in time.
func (d *Discord) ask(ctx context.Context, a *asking, m chat.Message) error {
	if a.press {
		err := d.first(ctx, a.i, callback{Type: answerSilently}, nil, nil)
		if err != nil && !rest.Refused(err, rest.AnsweredAlready) {
			d.log.Warn("press not acknowledged", "err", err)
		}
		a.answered = true
	}
	d.mu.Lock()
	d.calls[m.ID] = a
	d.mu.Unlock()
	defer d.drop(m.ID)
	// The bar's queue may be full: what is to be shown meanwhile must not wait.
	done := make(chan struct{})
	d.callers.Go(func() {
		defer close(done)
		if handled := d.deliver(m); handled != nil {
			<-handled
		}
	})
	late := time.NewTimer(d.times.Defer)
	defer late.Stop()
	select {
	case <-done:
	case <-late.C:
		d.deferAnswer(ctx, a)
		<-done
	}
	d.drop(m.ID)
	if a.press {
		return d.takeButtons(ctx, a, m)
	}
	return d.finish(ctx, a)
}

// takeButtons takes the buttons off a post of which one was pressed: they are
// over. They stay where the press was not taken.
func (d *Discord) takeButtons(ctx context.Context, a *asking, m chat.Message) error {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.scolded || a.replaced || m.Post == "" {
		return nil
	}
	return d.Strip(ctx, m.Channel, m.Post)
}

// deferAnswer shows that an answer is being worked on.
func (d *Discord) deferAnswer(ctx context.Context, a *asking) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.answered || a.deferred {
		return
	}
	a.private = d.isPrivate(commandOf(a.i.Data).Name)
	flags := 0
	if a.private {
		flags = flagPrivate
	}
	err := d.first(ctx, a.i, callback{answerDefer, map[string]int{"flags": flags}}, nil, nil)
	if err != nil && rest.Status(err)/100 != 4 { // it may have come through: what stands there says so
		err = d.original(ctx, http.MethodGet, a, nil)
	}
	if err != nil && !rest.Refused(err, rest.AnsweredAlready) {
		d.log.Warn("command not deferred", "err", err)
		a.answered = true // its answer is a post of its own
		return
	}
	a.deferred = true
}

func (d *Discord) isPrivate(command string) bool {
	i := slices.IndexFunc(d.specs, func(s chat.Spec) bool { return s.Name == command })
	return i >= 0 && d.specs[i].Private
}

// finish answers a command that has caused nothing to say.
func (d *Discord) finish(ctx context.Context, a *asking) error {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.answered || d.o.Texts.Nothing == "" {
		return nil
	}
	a.answered = true
	body := pieces(chat.Post{Text: d.o.Texts.Nothing})[0]
	body.Flags |= flagPrivate
	if a.deferred {
		return d.instead(ctx, a, body, nil, nil)
	}
	return d.first(ctx, a.i, callback{answerMessage, body}, nil, nil)
}

func (d *Discord) drop(cause string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.calls, cause)
}

// answer posts p as the answer to the command or press that caused it. It is
// false if p is to be posted like any other.
func (d *Discord) answer(ctx context.Context, p chat.Post) (id string, done bool, err error) {
	d.mu.Lock()
	a, ok := d.calls[p.Cause]
	d.mu.Unlock()
	if !ok {
		if _, _, isMessage := cutID(p.Cause); p.Private && !isMessage && !p.Due {
			return "", true, nil // nobody is there any more to whom it could be shown
		}
		return "", false, nil
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	switch {
	case !a.answered:
		id, err = d.answerFirst(ctx, a, p)
	case p.Private:
		a.scolded = true
		id, err = d.followUp(ctx, a, p)
	default:
		return "", false, nil // a post of its own has a nonce, a follow-up has none
	}
	if rest.Refused(err, rest.UnknownAsking, rest.UnknownWebhook, rest.ExpiredToken) || rest.Status(err) == http.StatusNotFound {
		return "", p.Private, nil // too late for an answer, not for a post
	}
	return id, true, err
}

// answerFirst gives the first answer to a command. The caller holds a.mu.
func (d *Discord) answerFirst(ctx context.Context, a *asking, p chat.Post) (id string, err error) {
	a.answered = true
	parts := pieces(p)
	for i, body := range parts {
		if p.Private {
			body.Flags |= flagPrivate
		}
		files := body.carried(p.Files)
		var posted wireMessage
		switch {
		case i > 0:
			err = d.more(ctx, a, body, files, &posted)
		case a.deferred && a.private != p.Private:
			// It was to be shown to others than is right now.
			if err = d.original(ctx, http.MethodDelete, a, nil); err == nil {
				err = d.more(ctx, a, body, files, &posted)
			}
		case a.deferred:
			err = d.instead(ctx, a, body, files, &posted)
		default:
			err = d.answerNow(ctx, a, body, files, &posted)
		}
		if err != nil && !errors.Is(err, rest.ErrUnread) {
			return "", err
		}
		id = idOf(p.Thread, posted.ID)
	}
	return id, nil
}

// answerNow answers within the time that the platform gives. One that the
// platform says it has already came through on an earlier try.
func (d *Discord) answerNow(ctx context.Context, a *asking, body outgoing, files []chat.File, posted *wireMessage) error {
	var said struct {
		Resource struct {
			Message wireMessage `json:"message"`
		} `json:"resource"`
	}
	err := d.first(ctx, a.i, callback{answerMessage, body}, files, &said)
	if *posted = said.Resource.Message; posted.ID != "" {
		return nil
	}
	if err != nil && !errors.Is(err, rest.ErrUnread) && rest.Status(err)/100 == 4 && !rest.Refused(err, rest.AnsweredAlready) {
		return err
	}
	// It may have come through: what stands there says so.
	return d.original(ctx, http.MethodGet, a, posted)
}

// first sends the first answer to an interaction.
func (d *Discord) first(ctx context.Context, i wireInteraction, c callback, files []chat.File, out any) error {
	ctx, cancel := context.WithTimeout(ctx, d.times.Answer)
	defer cancel()
	path := "/interactions/" + i.ID + "/" + i.Token + "/callback"
	if out != nil {
		path += "?with_response=true"
	}
	return d.rest.Do(ctx, rest.Call{Method: http.MethodPost, Path: path, Body: c, Files: files, Bare: true}, out)
}

// webhook is where an interaction's answers lie.
func (d *Discord) webhook(a *asking) string { return "/webhooks/" + a.i.AppID + "/" + a.i.Token }

// original does something with an interaction's first answer.
func (d *Discord) original(ctx context.Context, method string, a *asking, out any) error {
	return d.rest.Do(ctx, rest.Call{Method: method, Path: d.webhook(a) + "/messages/@original", Bare: true}, out)
}

// instead puts body in the place of what was deferred.
func (d *Discord) instead(ctx context.Context, a *asking, body outgoing, files []chat.File, out any) error {
	body.Flags &= flagNoEmbeds
	return d.rest.Do(ctx, rest.Call{Method: http.MethodPatch, Path: d.webhook(a) + "/messages/@original", Body: body, Files: files, Bare: true}, out)
}

// more sends a further answer. It has no nonce, so it is not sent again where
// it may have come through.
func (d *Discord) more(ctx context.Context, a *asking, body outgoing, files []chat.File, out any) error {
	return d.rest.Do(ctx, rest.Call{Method: http.MethodPost, Path: d.webhook(a) + "?wait=true", Body: body, Files: files, Bare: true, Once: true}, out)
}

// followUp answers somebody alone.
func (d *Discord) followUp(ctx context.Context, a *asking, p chat.Post) (id string, err error) {
	for _, body := range pieces(p) {
		body.Flags |= flagPrivate
		var posted wireMessage
		if err := d.more(ctx, a, body, body.carried(p.Files), &posted); err != nil && !errors.Is(err, rest.ErrUnread) {
			return "", err
		}
		id = idOf(p.Thread, posted.ID)
	}
	return id, nil
}

// suggest answers somebody who is typing.
func (d *Discord) suggest(ctx context.Context, i wireInteraction, m chat.Message) error {
	ask := chat.Asking{
		Channel: m.Channel, From: m.From, Command: chat.Command{Name: m.Command.Name}, Option: focusedOption(i.Data.Options),
	}
	for _, o := range m.Command.Options {
		if o.Name == ask.Option {
			ask.Typed = o.Value
		} else {
			ask.Command.Options = append(ask.Command.Options, o)
		}
	}
	choices := []map[string]string{}
	for _, s := range d.o.Desk.Suggest(ask) {
		if name := markup.Label(s, maxChoice); name != "" && markup.Length(s) <= maxChoice && len(choices) < manyChoices {
			choices = append(choices, map[string]string{"name": name, "value": s})
		}
	}
	return d.first(ctx, i, callback{answerChoices, map[string]any{"choices": choices}}, nil, nil)
}

func focusedOption(options []wireOption) string {
	for _, o := range options {
		if o.Focused {
			return o.Name
		}
		if name := focusedOption(o.Options); name != "" {
			return name
		}
	}
	return ""
}

// messageOf makes a message of an interaction.
func (d *Discord) messageOf(ctx context.Context, i wireInteraction) (chat.Message, bool) {
	user := i.User
	if i.Member != nil && i.Member.User != nil {
		user = i.Member.User
	}
	if user == nil || i.ID == "" || i.GuildID == "" {
		return chat.Message{}, false // a conversation in private is no bar
	}
	m := chat.Message{
		ID: interactionMark + i.ID, Kind: chat.Called, Alone: true, At: timeOf(i.ID),
		From: chat.Person{ID: user.ID, Name: shown(user, i.Member)}, Locale: i.Locale, Home: i.Home,
	}
	if i.Member != nil {
		m.Manager = manages(number(i.Member.Permissions))
		m.Manages = d.world.managed(i.GuildID, user.ID, i.Member.Roles)
	}
	if i.Channel != nil && i.Channel.ID != "" {
		if c, known := d.world.channel(i.Channel.ID); !known || c.Name == "" {
			i.Channel.GuildID = i.GuildID
			d.world.addChannel(*i.Channel)
		}
	}
	var err error
	if m.Channel, m.Thread, err = d.place(ctx, i.ChannelID); err != nil {
		d.log.Warn("channel not known", "channel", i.ChannelID, "err", err)
		return m, false
	}
	c, _ := d.world.channel(m.Channel)
	m.Title = markup.Label(c.Name, maxThread)
	switch i.Type {
	case askedPress:
		m.Kind, m.Press = chat.Pressed, i.Data.CustomID
		if i.Message != nil {
			m.Post = idOf(m.Thread, i.Message.ID)
		}
	case askedFormDone:
		command, ok := filled(i.Data)
		m.Command = command
		return m, ok
	default:
		m.Command = commandOf(i.Data)
	}
	return m, true
}

// commandOf reads a command, its subcommands in its name, with its options.
func commandOf(data wireData) chat.Command {
	c := chat.Command{Name: data.Name}
	options := data.Options
	for len(options) == 1 && (options[0].Type == optionSub || options[0].Type == optionGroup) {
		c.Name += " " + options[0].Name
		options = options[0].Options
	}
	for _, o := range options {
		if text := strings.TrimSpace(o.text()); text != "" || o.Focused {
			c.Options = append(c.Options, chat.Option{Name: o.Name, Value: text})
		}
	}
	return c
}
