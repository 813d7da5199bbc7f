package fake

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"time"
)

// stamp is how Discord writes an instant.
func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000000+00:00") }

func userJSON(u User) object {
	return object{
		"id": u.ID, "username": u.Name, "global_name": u.Name, "discriminator": "0", "avatar": nil,
		"bot": u.Bot, "public_flags": 0, "flags": 0, "primary_guild": nil,
	}
}

// memberJSON is a member without its user, as in a message event.
func (st *State) memberJSON(g *Guild, user string) object {
	roles := []string{}
	if g.Members[user] {
		roles = []string{g.Lead}
	}
	return object{
		"roles": roles, "nick": nil, "avatar": nil, "banner": nil, "communication_disabled_until": nil, "flags": 0,
		"joined_at": stamp(time.UnixMilli(epochMillis)), "pending": false, "premium_since": nil, "mute": false, "deaf": false,
	}
}

func (st *State) fullMemberJSON(g *Guild, u User) object {
	m := st.memberJSON(g, u.ID)
	m["user"] = userJSON(u)
	return m
}

// permissions returns what a member may do.
func (g *Guild) permissions(user string) int64 {
	if g.Members[user] || g.Owner == user {
		return everyonePermissions | ManageChannels
	}
	return everyonePermissions
}

func (st *State) messageJSON(m *Message) object {
	o := object{
		"id": m.ID, "channel_id": m.Channel, "type": m.Type, "content": m.Content, "author": userJSON(m.Author),
		"timestamp": stamp(m.Created), "edited_timestamp": nil, "tts": false, "pinned": false,
		"mentions": st.mentionsJSON(m), "mention_roles": []string{}, "mention_everyone": slices.Contains(m.Pings, "everyone"),
		"attachments": st.filesJSON(m), "embeds": orEmpty(m.Embeds), "components": orEmpty(m.Components), "flags": m.flags,
	}
	if !m.Edited.IsZero() {
		o["edited_timestamp"] = stamp(m.Edited)
	}
	if m.Nonce != "" {
		o["nonce"] = m.Nonce
	}
	if m.Webhook != "" {
		o["webhook_id"] = m.Webhook
	}
	if m.ReplyTo != "" {
		st.addReference(o, m)
	}
	if m.flags&flagHasThread != 0 {
		if thread := st.channelByID(m.ID); thread != nil {
			o["thread"] = st.channelJSON(thread)
		}
	}
	if m.Interaction != "" {
		o["application_id"] = st.Bot.ID
		o["interaction_metadata"] = st.metadataJSON(m)
	}
	if len(m.Reactions) > 0 {
		o["reactions"] = st.reactionsJSON(m)
	}
	return o
}

func orEmpty(list []object) []object {
	if list == nil {
		return []object{}
	}
	return list
}

func (st *State) mentionsJSON(m *Message) []object {
	all := []object{}
	for _, id := range m.Pings {
		if u := st.findUser(id); u != nil {
			all = append(all, userJSON(*u))
		}
	}
	return all
}

func (st *State) addReference(o object, m *Message) {
	o["message_reference"] = object{"type": 0, "channel_id": m.Channel, "message_id": m.ReplyTo, "guild_id": st.guildOf(m.Channel)}
	if to := st.message(m.ReplyTo); to != nil && !to.Deleted {
		o["referenced_message"] = st.referencedJSON(to)
	} else {
		o["referenced_message"] = nil
	}
}

// referencedJSON leaves out what the message itself answers: Discord goes one deep.
func (st *State) referencedJSON(m *Message) object {
	plain := *m
	plain.ReplyTo = ""
	return st.messageJSON(&plain)
}

func (st *State) metadataJSON(m *Message) object {
	o := object{"id": m.Interaction, "type": interactionCommand, "authorizing_integration_owners": object{}}
	i, there := st.Interaction(m.Interaction)
	if !there {
		return o
	}
	o["type"] = int(i.Kind)
	o["user"] = userJSON(*st.mustUser(i.User))
	switch i.Kind {
	case interactionButton:
		o["interacted_message_id"] = i.Message
	case interactionModal:
		o["triggering_interaction_metadata"] = object{"id": m.Interaction, "type": interactionCommand, "authorizing_integration_owners": object{}}
	case interactionCommand, interactionAutocomplete:
	}
	return o
}

func (st *State) reactionsJSON(m *Message) []object {
	var emojis []string
	count, mine := map[string]int{}, map[string]bool{}
	for _, r := range m.Reactions {
		emoji, user, _ := cutReaction(r)
		if count[emoji] == 0 {
			emojis = append(emojis, emoji)
		}
		count[emoji]++
		mine[emoji] = mine[emoji] || user == st.Bot.ID
	}
	all := []object{}
	for _, e := range emojis {
		all = append(all, object{
			"emoji": object{"id": nil, "name": e}, "count": count[e], "count_details": object{"burst": 0, "normal": count[e]},
			"burst_colors": []string{}, "me_burst": false, "me": mine[e],
		})
	}
	return all
}

func (st *State) filesJSON(m *Message) []object {
	all := []object{}
	for _, f := range m.Files {
		o := object{
			"id": f.ID, "filename": f.Name, "size": len(f.Data), "content_type": f.Type,
			"url": st.fileURL(m, f), "proxy_url": st.fileURL(m, f),
		}
		if f.Description != "" {
			o["description"] = f.Description
		}
		all = append(all, o)
	}
	return all
}

func (st *State) fileURL(m *Message, f File) string {
	return fmt.Sprintf("%s/attachments/%s/%s/%s", st.url, m.Channel, f.ID, url.PathEscape(f.Name))
}

func (st *State) guildOf(channel string) string {
	if c := st.channelByID(channel); c != nil {
		return c.Guild
	}
	return ""
}

func (st *State) channelJSON(c *Channel) object {
	o := object{"id": c.ID, "guild_id": c.Guild, "name": c.Name, "flags": 0, "last_message_id": st.lastMessage(c.ID), "rate_limit_per_user": 0}
	if c.Parent == "" {
		o["type"], o["position"], o["parent_id"], o["topic"], o["nsfw"] = 0, 0, nil, nil, false
		o["permission_overwrites"] = st.overwritesJSON(c)
		return o
	}
	o["type"], o["parent_id"], o["owner_id"] = 11, c.Parent, c.Owner
	count := 0
	for _, m := range st.messages {
		if m.Channel == c.ID && !m.Deleted {
			count++
		}
	}
	o["message_count"], o["total_message_sent"], o["member_count"] = count, count, 1
	changed := c.Created
	if !c.ArchivedAt.IsZero() {
		changed = c.ArchivedAt
	}
	o["thread_metadata"] = object{
		"archived": c.Archived, "locked": c.Locked, "auto_archive_duration": c.ArchiveMinutes,
		"archive_timestamp": stamp(changed), "create_timestamp": stamp(c.Created),
	}
	return o
}

func (st *State) overwritesJSON(c *Channel) []object {
	if c.Denied == 0 {
		return []object{}
	}
	return []object{{"id": st.Bot.ID, "type": 1, "allow": "0", "deny": strconv.FormatInt(c.Denied, 10)}}
}

func (st *State) lastMessage(channel string) any {
	for _, m := range slices.Backward(st.messages) {
		if m.Channel == channel && m.For == "" && !m.Deleted {
			return m.ID
		}
	}
	return nil
}

func (st *State) rolesJSON(g *Guild) []object {
	role := func(id, name string, permissions int64) object {
		return object{
			"id": id, "name": name, "permissions": strconv.FormatInt(permissions, 10), "position": 0, "color": 0,
			"colors": object{"primary_color": 0, "secondary_color": nil, "tertiary_color": nil},
			"hoist":  false, "managed": false, "mentionable": false, "icon": nil, "unicode_emoji": nil, "flags": 0,
		}
	}
	return []object{role(g.ID, "@everyone", everyonePermissions), role(g.Lead, "lead", ManageChannels)}
}

func (st *State) guildJSON(g *Guild) object {
	return object{
		"id": g.ID, "name": g.Name, "owner_id": g.Owner, "roles": st.rolesJSON(g), "icon": nil, "description": nil, "home_header": nil,
		"splash": nil, "discovery_splash": nil, "features": []string{}, "banner": nil, "application_id": nil, "region": "us-west",
		"afk_channel_id": nil, "afk_timeout": 300, "system_channel_id": nil, "system_channel_flags": 0, "widget_enabled": false,
		"widget_channel_id": nil, "verification_level": 0, "default_message_notifications": 0, "mfa_level": 0,
		"explicit_content_filter": 0, "max_presences": nil, "max_members": 1000, "max_stage_video_channel_users": 0,
		"max_video_channel_users": 0, "vanity_url_code": nil, "premium_tier": 0, "premium_subscription_count": 0,
		"preferred_locale": g.locale(), "rules_channel_id": nil, "safety_alerts_channel_id": nil, "public_updates_channel_id": nil,
		"premium_progress_bar_enabled": false, "nsfw": false, "nsfw_level": 0, "emojis": []object{}, "stickers": []object{}, "incidents_data": nil,
	}
}

// guildCreateJSON is what the gateway sends after READY: also channels and
// the threads that are not archived.
func (st *State) guildCreateJSON(g *Guild) object {
	o := st.guildJSON(g)
	channels, threads := []object{}, []object{}
	for _, c := range st.channels {
		switch {
		case c.Guild != g.ID || c.Archived:
		case c.Parent == "":
			channels = append(channels, st.channelJSON(c))
		default:
			threads = append(threads, st.channelJSON(c))
		}
	}
	o["channels"], o["threads"] = channels, threads
	o["members"] = []object{st.fullMemberJSON(g, st.Bot)}
	o["member_count"], o["joined_at"], o["large"], o["unavailable"] = len(g.Members), stamp(time.UnixMilli(epochMillis)), false, false
	for _, none := range []string{"presences", "voice_states", "stage_instances", "guild_scheduled_events", "soundboard_sounds"} {
		o[none] = []object{}
	}
	return o
}
