package discord

import (
	"cmp"
	"context"
	"net/http"
	"net/url"

	"shothand/bot/chat"
	"shothand/bot/discord/rest"
)

// tickMark is the reaction that stands for a post which says no more.
const tickMark = "✅"

// Tick puts a reaction on the message that p answers. It is false for the answer to
// a command or a press, which has no message, and where the bot may not react: then
// the post is sent. Twice does no harm.
func (d *Discord) Tick(ctx context.Context, p chat.Post) (bool, error) {
	return d.react(ctx, http.MethodPut, p)
}

// Untick takes the reaction off.
func (d *Discord) Untick(ctx context.Context, p chat.Post) error {
	_, err := d.react(ctx, http.MethodDelete, p)
	return err
}

// react puts a reaction or takes it off. On a message that is gone there is
// nothing to be done.
func (d *Discord) react(ctx context.Context, method string, p chat.Post) (bool, error) {
	thread, message, isMessage := cutID(p.Cause)
	if !isMessage || p.Due {
		return false, nil
	}
	ctx, cancel := detach(ctx, d.times.Grace)
	defer cancel()
	path := "/channels/" + cmp.Or(thread, p.Channel) + "/messages/" + message + "/reactions/" + url.PathEscape(tickMark) + "/@me"
	err := d.rest.Do(ctx, rest.Call{Method: method, Path: path}, nil)
	switch {
	case rest.Refused(err, rest.UnknownMessage):
		return true, nil
	case rest.Refused(err, rest.MissingRight, rest.MissingAccess, rest.ReactionBlocked, rest.TooManyReactions, rest.Archived, rest.UnknownChannel):
		return false, nil
	}
	return err == nil, err
}
