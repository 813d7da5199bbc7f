package discord

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/markup"
	"shothand/bot/discord/rest"
)

// Send posts p: as the answer to the command or press that caused it, else in
// the channel or thread.
func (d *Discord) Send(ctx context.Context, p chat.Post) (string, error) {
	ctx, cancel := detach(ctx, d.times.Grace)
	defer cancel()
	if !d.world.isBound(p.Channel) { // perhaps it just became a bar: whoever reads so may write at once
		_, cause, _ := cutID(p.Cause)
		if err := d.rebind(number(cause)); err != nil {
			return "", err
		}
	}
	if p.Again && p.Thread == "" { // after a restart only the cause tells where it stood
		p.Thread, _, _ = cutID(p.Cause)
	}
	if len(p.Files) > maxFiles {
		p.Files = p.Files[:maxFiles]
	}
	id, done, err := d.answer(ctx, p)
	if err == nil && !done {
		id, err = d.post(ctx, p)
	}
	if err != nil {
		return "", err
	}
	if p.Opens != "" && id != "" {
		d.openThread(ctx, p.Channel, id, p.Opens)
	}
	return id, nil
}

// detach returns a context that outlives ctx for a while, so that what is under
// way when the program stops can be finished.
func detach(ctx context.Context, grace time.Duration) (context.Context, context.CancelFunc) {
	longer, cancel := context.WithCancel(context.WithoutCancel(ctx))
	stop := context.AfterFunc(ctx, func() {
		if rest.Sleep(longer, grace) == nil {
			cancel()
		}
	})
	return longer, func() { stop(); cancel() }
}

// post puts p into its channel or thread. A thread that is gone or closed for
// good is no reason to keep silent.
func (d *Discord) post(ctx context.Context, p chat.Post) (string, error) {
	id, err := d.postIn(ctx, p)
	if p.Thread != "" && rest.Refused(err, rest.UnknownChannel, rest.ThreadLocked, rest.Archived) {
		p.Thread = ""
		return d.postIn(ctx, p)
	}
	return id, err
}

func (d *Discord) postIn(ctx context.Context, p chat.Post) (id string, err error) {
	where := cmp.Or(p.Thread, p.Channel)
	parts := pieces(p)
	if p.Again {
		if old, err := d.find(ctx, p, parts); err != nil || old != "" {
			return old, err
		}
	}
	for i, part := range parts {
		part.Nonce, part.Enforce = nonce(p, i), true
		if p.Quiet() {
			part.Flags |= flagSilent
		}
		if thread, message, ok := cutID(p.Cause); ok && thread == p.Thread && i == 0 && !p.More {
			part.Answers = &answers{MessageID: message, ChannelID: where}
		}
		var posted wireMessage
		c := rest.Call{Method: http.MethodPost, Path: "/channels/" + where + "/messages", Body: part, Files: part.carried(p.Files)}
		err := d.rest.Do(ctx, c, &posted)
		if errors.Is(err, rest.ErrUnread) && posted.ID == "" { // posted, and that is what counts
			if old, err := d.find(ctx, p, parts); err == nil && old != "" {
				return old, nil
			}
		} else if err != nil {
			return "", err
		}
		if posted.ID != "" {
			id = idOf(p.Thread, posted.ID)
		}
	}
	return id, nil
}

// Edit replaces the text, buttons and files of a post.
func (d *Discord) Edit(ctx context.Context, id string, p chat.Post) error {
	ctx, cancel := detach(ctx, d.times.Grace)
	defer cancel()
	d.replaced(id)
	files := attachedTo(p.Files)
	body := outgoing{
		Content: markup.Cut(markup.Plain(p.Text), maxContent), Flags: flagNoEmbeds, Mentions: nobody(), Components: rows(p.Buttons), Files: &files,
	}
	return d.change(ctx, p.Channel, id, body, p.Files)
}

// Strip takes the buttons off a post.
func (d *Discord) Strip(ctx context.Context, channel, post string) error {
	ctx, cancel := detach(ctx, d.times.Grace)
	defer cancel()
	d.replaced(post)
	return d.change(ctx, channel, post, map[string]any{"components": []row{}, "allowed_mentions": nobody()}, nil)
}

// replaced notes that a post is changed: where one of its buttons was pressed, they
// need not be taken off once more.
func (d *Discord) replaced(post string) {
	_, message, _ := cutID(post)
	d.mu.Lock()
	asking := slices.Collect(maps.Values(d.calls))
	d.mu.Unlock()
	for _, a := range asking {
		if a.i.Message != nil && a.i.Message.ID == message {
			a.mu.Lock()
			a.replaced = true
			a.mu.Unlock()
		}
	}
}

// change changes a post. One that somebody has deleted is left deleted.
func (d *Discord) change(ctx context.Context, channel, id string, body any, files []chat.File) error {
	thread, message, ok := cutID(id)
	if !ok {
		return fmt.Errorf("edit: %q is no post", id)
	}
	where := cmp.Or(thread, channel)
	c := rest.Call{Method: http.MethodPatch, Path: "/channels/" + where + "/messages/" + message, Body: body, Files: files}
	err := d.rest.Do(ctx, c, nil)
	if rest.Refused(err, rest.Archived) && thread != "" {
		if err := d.rest.Do(ctx, rest.Call{Method: http.MethodPatch, Path: "/channels/" + thread, Body: map[string]bool{"archived": false}}, nil); err != nil {
			return err
		}
		err = d.rest.Do(ctx, c, nil)
	}
	if rest.Refused(err, rest.UnknownMessage, rest.UnknownChannel) {
		d.log.Info("the post is gone", "post", id)
		return nil
	}
	return err
}

// openThread opens a thread on a post. That it is there already is fine; that
// it cannot be is no reason to fail, since the channel is there.
func (d *Discord) openThread(ctx context.Context, channel, post, name string) {
	name = markup.Label(name, maxThread)
	if name == "" {
		name = strconv.Itoa(time.Now().Year())
	}
	body := map[string]any{"name": name, "auto_archive_duration": 1440}
	err := d.rest.Do(ctx, rest.Call{Method: http.MethodPost, Path: "/channels/" + channel + "/messages/" + post + "/threads", Body: body}, nil)
	if err != nil && !rest.Refused(err, rest.ThreadThere) {
		d.log.Error("open thread", "post", post, "err", err)
	}
}
