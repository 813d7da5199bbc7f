package fake_test

import (
	"bytes"
	"fmt"
	"io"
	"mime/multipart"
	"net/textproto"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"shothand/bot/discord/fake"
)

func TestEveryReadAnswersAsDescribed(t *testing.T) {
	needDescription(t)
	s := start(t, fake.Options{})
	register(t, s)
	channel, guild, bot := s.Channel("dial-in").ID, s.Guild("Harbour Lane"), s.Bot().ID
	id := s.Say("dial-in", "mara", "18.1 36.4 24 sour", "")
	s.Say("dial-in", "jo", "same here", id)
	s.StartThread("dial-in", "mara", "monday")
	for _, path := range []string{
		"/gateway", "/gateway/bot", "/users/@me", "/users/@me/guilds", "/users/" + s.User("jo").ID,
		"/applications/@me", "/oauth2/applications/@me", "/guilds/" + guild, "/guilds/" + guild + "/channels",
		"/guilds/" + guild + "/roles", "/guilds/" + guild + "/members/" + s.User("mara").ID, "/guilds/" + guild + "/threads/active",
		"/channels/" + channel, "/channels/" + s.Channel("monday").ID, "/channels/" + channel + "/messages",
		"/channels/" + channel + "/messages/" + id, "/channels/" + channel + "/threads/archived/public",
		"/applications/" + bot + "/commands", "/applications/" + bot + "/guilds/" + guild + "/commands",
	} {
		if a := send(t, s, "GET", path, ""); a.Status != 200 {
			t.Errorf("GET %s: %d %s", path, a.Status, a.Text)
		}
	}
	noViolations(t, s)
}

func TestMessageIsPostedEditedAndDeleted(t *testing.T) {
	s := start(t, fake.Options{MentionsMustBeOff: true})
	said := s.Say("dial-in", "mara", "18.1 36.4 24 sour", "")
	id := post(t, s, "dial-in", `{"content":"Finer.","allowed_mentions":{"parse":[]},"message_reference":{"message_id":"`+said+`"},
		"embeds":[{"title":"Harbour","description":"third shot","fields":[{"name":"time","value":"24 s"}]}],
		"components":[{"type":1,"components":[{"type":2,"style":1,"label":"did it","custom_id":"v1:did:1"},{"type":2,"style":2,"label":"undo","custom_id":"v1:undo:1"}]}]}`)
	want := []fake.Button{{CustomID: "v1:did:1", Label: "did it"}, {CustomID: "v1:undo:1", Label: "undo"}}
	posts := s.Posts("dial-in")
	if len(posts) != 1 || posts[0].ReplyTo != said || posts[0].Content != "Finer." || !cmp.Equal(posts[0].Buttons(), want) {
		t.Fatalf("posts = %+v", posts)
	}
	path := messagesPath(s, "dial-in") + "/" + id
	if a := send(t, s, "PATCH", path, `{"content":"Coarser.","components":[],"allowed_mentions":{"parse":[]}}`); a.Status != 200 {
		t.Fatal(a)
	}
	m, _ := s.Message(id)
	if m.Content != "Coarser." || len(m.Buttons()) != 0 || len(m.Embeds) != 1 || m.Edited.IsZero() {
		t.Errorf("after the edit: %+v", m)
	}
	if a := send(t, s, "DELETE", path, ""); a.Status != 204 {
		t.Fatal(a)
	}
	if m, _ := s.Message(id); !m.Deleted || len(s.Posts("dial-in")) != 0 {
		t.Error("it is still there")
	}
	if a := send(t, s, "PATCH", messagesPath(s, "dial-in")+"/"+said, `{"content":"no","allowed_mentions":{"parse":[]}}`); a.code() != 50005 {
		t.Errorf("somebody else's message: %+v", a)
	}
	noViolations(t, s)
}

func TestFilesCarryAltText(t *testing.T) {
	s := start(t, fake.Options{})
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	part := func(disposition, kind, data string) {
		p, err := w.CreatePart(textproto.MIMEHeader{"Content-Disposition": {disposition}, "Content-Type": {kind}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(p, data); err != nil {
			t.Fatal(err)
		}
	}
	part(`form-data; name="payload_json"`, "application/json", `{"embeds":[{"image":{"url":"attachment://day.png"}}],"attachments":[{"id":"0","description":"times of the day"}]}`)
	part(`form-data; name="files[0]"; filename="day.png"`, "image/png", "picture")
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if a := sendAs(t, s, "POST", messagesPath(s, "dial-in"), w.FormDataContentType(), body.Bytes()); a.Status != 200 {
		t.Fatal(a)
	}
	m := s.Posts("dial-in")[0]
	if f := m.Files[0]; f.Name != "day.png" || f.Description != "times of the day" || string(f.Data) != "picture" {
		t.Errorf("file = %+v", f)
	}
	image, _ := m.Embeds[0]["image"].(map[string]any)
	if address, _ := image["url"].(string); !strings.HasPrefix(address, s.URL) {
		t.Errorf("the embed's picture is %v", image)
	}
	noViolations(t, s)
}

func TestNonceMakesOnePost(t *testing.T) {
	s := start(t, fake.Options{})
	first := post(t, s, "dial-in", `{"content":"Finer.","nonce":"a-1","enforce_nonce":true}`)
	again := post(t, s, "dial-in", `{"content":"Finer.","nonce":"a-1","enforce_nonce":true}`)
	other := post(t, s, "dial-in", `{"content":"Finer.","nonce":"a-1"}`)
	if first != again || first == other || len(s.Posts("dial-in")) != 2 {
		t.Errorf("ids %s, %s, %s; %d posts", first, again, other, len(s.Posts("dial-in")))
	}
	s.DeleteMessage(first)
	if a := send(t, s, "POST", messagesPath(s, "dial-in"), `{"content":"Finer.","nonce":"a-1","enforce_nonce":true}`); a.Status == 200 {
		t.Error("a nonce whose message was deleted made a new one")
	}
	noViolations(t, s)
}

func TestPagesOfMessages(t *testing.T) {
	s := start(t, fake.Options{})
	var ids []string
	for i := range 5 {
		ids = append(ids, s.Say("dial-in", "mara", fmt.Sprint(i), ""))
	}
	for query, want := range map[string]string{
		"":                                       "43210",
		"?limit=2":                               "43",
		"?limit=2&after=" + ids[0]:               "21", // the two that follow, the newest first
		"?limit=2&before=" + ids[3]:              "21",
		"?after=" + ids[3]:                       "4",
		"?after=" + ids[4]:                       "",
		"?after=" + ids[0] + "&before=" + ids[3]: "21",
	} {
		a := send(t, s, "GET", messagesPath(s, "dial-in")+query, "")
		var got strings.Builder
		for _, piece := range strings.Split(a.Text, `"content":"`)[1:] {
			got.WriteString(piece[:1])
		}
		if got.String() != want {
			t.Errorf("%s = %q, want %q", query, got.String(), want)
		}
	}
	noViolations(t, s)
}

func TestWhoIsPinged(t *testing.T) {
	s := start(t, fake.Options{})
	jo := s.User("jo").ID
	said := s.Say("dial-in", "jo", "hi", "")
	for _, row := range []struct {
		body string
		want []string
	}{
		{`{"content":"@everyone <@` + jo + `>"}`, []string{jo, "everyone"}},
		{`{"content":"@everyone <@` + jo + `>","allowed_mentions":{"parse":[]}}`, nil},
		{`{"content":"<@` + jo + `>","allowed_mentions":{"parse":[],"users":["` + jo + `"]}}`, []string{jo}},
		{`{"content":"x","message_reference":{"message_id":"` + said + `"}}`, []string{jo}},
		{`{"content":"x","message_reference":{"message_id":"` + said + `"},"allowed_mentions":{"parse":[]}}`, nil},
	} {
		m, _ := s.Message(post(t, s, "dial-in", row.body))
		if diff := cmp.Diff(row.want, m.Pings); diff != "" {
			t.Errorf("%s pings (-want +got):\n%s", row.body, diff)
		}
	}
	noViolations(t, s)
}

func TestThreads(t *testing.T) {
	s := start(t, fake.Options{})
	said := s.Say("dial-in", "mara", "the day", "")
	path := messagesPath(s, "dial-in") + "/" + said + "/threads"
	a := send(t, s, "POST", path, `{"name":"monday","auto_archive_duration":1440}`)
	if a.Status != 201 || a.object(t)["id"] != said {
		t.Fatalf("thread: %+v", a)
	}
	if a := send(t, s, "POST", path, `{"name":"monday"}`); a.code() != 160004 {
		t.Errorf("a second thread: %+v", a)
	}
	post(t, s, "monday", `{"content":"Good morning."}`)
	active := send(t, s, "GET", "/guilds/"+s.Guild("Harbour Lane")+"/threads/active", "").Text
	s.Archive("monday", false)
	archived := send(t, s, "GET", "/channels/"+s.Channel("dial-in").ID+"/threads/archived/public?limit=10", "").Text
	if !strings.Contains(active, said) || !strings.Contains(archived, said) {
		t.Errorf("active %s\narchived %s", active, archived)
	}
	if a := send(t, s, "PUT", messagesPath(s, "monday")+"/"+s.Posts("monday")[0].ID+"/reactions/%E2%9C%85/@me", ""); a.code() != 50083 {
		t.Errorf("a reaction in an archived thread: %+v", a)
	}
	post(t, s, "monday", `{"content":"Again."}`)
	if s.Channel("monday").Archived {
		t.Error("writing did not un-archive it")
	}
	s.Archive("monday", true)
	if a := send(t, s, "POST", messagesPath(s, "monday"), `{"content":"Locked."}`); a.code() != 50083 {
		t.Errorf("a post in a locked thread: %+v", a)
	}
	noViolations(t, s)
}

func TestPermissionsCount(t *testing.T) {
	s := start(t, fake.Options{})
	path := messagesPath(s, "dial-in")
	for _, row := range []struct {
		denied int64
		want   int
	}{{fake.ViewChannel, 50001}, {fake.SendMessages, 50013}, {fake.SendMessagesInThread, 0}} {
		s.Deny("dial-in", row.denied)
		if a := send(t, s, "POST", path, `{"content":"x"}`); a.code() != row.want {
			t.Errorf("without %x: %+v", row.denied, a)
		}
	}
	s.Deny("dial-in", fake.ReadMessageHistory)
	if a := send(t, s, "GET", path, ""); a.Text != "[]" {
		t.Errorf("without history: %+v", a)
	}
	noViolations(t, s)
}
