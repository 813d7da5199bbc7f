package fake_test

import (
	"bytes"
	"net/http"
	"net/url"
	"testing"
	"time"

	"github.com/bwmarrin/discordgo"

	"shothand/bot/discord/fake"
)

// A detour sends the library's calls to the fake.
type detour struct{ to *url.URL }

func (d detour) RoundTrip(r *http.Request) (*http.Response, error) {
	r = r.Clone(r.Context())
	r.URL.Scheme, r.URL.Host = d.to.Scheme, d.to.Host
	return http.DefaultTransport.RoundTrip(r)
}

func library(t *testing.T, s *fake.Server) *discordgo.Session {
	t.Helper()
	client, err := discordgo.New("Bot x")
	if err != nil {
		t.Fatal(err)
	}
	to, err := url.Parse(s.URL)
	if err != nil {
		t.Fatal(err)
	}
	client.Client = &http.Client{Transport: detour{to}}
	client.Identify.Intents = discordgo.IntentsGuilds | discordgo.IntentsGuildMessages | discordgo.IntentMessageContent
	return client
}

// The library bots use gets along with the fake: what it sends is no
// violation, and it understands what it gets.
func TestLibraryGetsAlong(t *testing.T) {
	s := start(t, fake.Options{MentionsMustBeOff: true})
	client := library(t, s)
	off := &discordgo.MessageAllowedMentions{Parse: []discordgo.AllowedMentionType{}}
	said := make(chan *discordgo.MessageCreate, 10)
	client.AddHandler(func(_ *discordgo.Session, m *discordgo.MessageCreate) { said <- m })
	used := make(chan *discordgo.InteractionCreate, 10)
	client.AddHandler(func(_ *discordgo.Session, i *discordgo.InteractionCreate) { used <- i })
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	client.ShouldReconnectOnError = false
	check(client.Open())
	defer client.Close() //nolint:errcheck // the test is over

	channel, guild := s.Channel("dial-in").ID, s.Guild("Harbour Lane")
	id := s.Say("dial-in", "mara", "18.1 36.4 24 sour", "")
	if m := wait(t, said); m.ID != id || m.Content != "18.1 36.4 24 sour" || m.GuildID != guild || m.Author.Username != "mara" {
		t.Errorf("message = %+v", m)
	}
	manage := int64(discordgo.PermissionManageChannels)
	low := 5.0
	_, err := client.ApplicationCommandBulkOverwrite(s.Bot().ID, guild, []*discordgo.ApplicationCommand{{
		Name: "shot", Description: "A shot", DefaultMemberPermissions: &manage,
		Options: []*discordgo.ApplicationCommandOption{{Type: discordgo.ApplicationCommandOptionNumber, Name: "dose", Description: "Grams", MinValue: &low, MaxValue: 40, Autocomplete: true}},
	}})
	check(err)
	post, err := client.ChannelMessageSendComplex(channel, &discordgo.MessageSend{
		Content: "Finer.", AllowedMentions: off, Reference: &discordgo.MessageReference{MessageID: id},
		Files:  []*discordgo.File{{Name: "day.png", ContentType: "image/png", Reader: bytes.NewReader([]byte("x"))}},
		Embeds: []*discordgo.MessageEmbed{{Title: "Harbour", Fields: []*discordgo.MessageEmbedField{{Name: "a", Value: "b"}}}},
		Components: []discordgo.MessageComponent{discordgo.ActionsRow{Components: []discordgo.MessageComponent{
			discordgo.Button{Label: "did it", CustomID: "did"},
		}}},
	})
	check(err)
	edit := discordgo.NewMessageEdit(channel, post.ID).SetContent("Coarser.")
	edit.AllowedMentions = off
	_, err = client.ChannelMessageEditComplex(edit)
	check(err)
	thread, err := client.MessageThreadStart(channel, post.ID, "monday", 1440)
	check(err)
	if list, err := client.ThreadsActive(channel); err != nil || len(list.Threads) != 1 || list.Threads[0].ID != thread.ID {
		t.Errorf("active threads: %+v, %v", list, err)
	}
	check(client.MessageReactionAdd(channel, id, "✅"))
	list, err := client.ChannelMessages(channel, 100, "", id, "")
	check(err)
	if len(list) != 1 || list[0].Content != "Coarser." || list[0].ReferencedMessage == nil || len(list[0].Attachments) != 1 {
		t.Errorf("history = %+v", list)
	}

	press, err := s.Press(post.ID, "did", "jo")
	check(err)
	i := wait(t, used)
	if i.MessageComponentData().CustomID != "did" || i.Message.ID != post.ID || i.Member.User.Username != "jo" || i.Member.Permissions&manage != 0 {
		t.Errorf("press = %+v", i)
	}
	check(client.InteractionRespond(i.Interaction, &discordgo.InteractionResponse{Type: discordgo.InteractionResponseDeferredChannelMessageWithSource}))
	content := "Noted."
	_, err = client.InteractionResponseEdit(i.Interaction, &discordgo.WebhookEdit{Content: &content, AllowedMentions: off})
	check(err)
	_, err = client.FollowupMessageCreate(i.Interaction, true, &discordgo.WebhookParams{Content: "And.", AllowedMentions: off, Flags: discordgo.MessageFlagsEphemeral})
	check(err)
	if got, _ := s.Interaction(press); len(got.Followups) != 1 {
		t.Errorf("interaction = %+v", got)
	}
	slash, err := s.Slash("monday", "mara", "shot", map[string]any{"dose": 18.0})
	check(err)
	i = wait(t, used)
	if data := i.ApplicationCommandData(); data.Options[0].FloatValue() != 18 || i.Member.Permissions&manage == 0 || i.ChannelID != thread.ID {
		t.Errorf("command = %+v", data)
	}
	check(client.InteractionRespond(i.Interaction, &discordgo.InteractionResponse{Type: discordgo.InteractionResponseModal, Data: &discordgo.InteractionResponseData{
		CustomID: "shot-1", Title: "A shot", Components: []discordgo.MessageComponent{discordgo.ActionsRow{Components: []discordgo.MessageComponent{
			discordgo.TextInput{CustomID: "dose", Label: "Dose", Style: discordgo.TextInputShort},
		}}},
	}}))
	_, err = s.SubmitModal(slash, map[string]string{"dose": "18.1"})
	check(err)
	i = wait(t, used)
	row, isRow := i.ModalSubmitData().Components[0].(*discordgo.ActionsRow)
	if !isRow || row.Components[0].(*discordgo.TextInput).Value != "18.1" { //nolint:forcetypeassert // a panic is a failure too
		t.Errorf("form = %+v", i.ModalSubmitData())
	}
	_, err = s.Autocomplete("dial-in", "mara", "shot", map[string]any{"dose": "1"}, "dose")
	check(err)
	i = wait(t, used)
	check(client.InteractionRespond(i.Interaction, &discordgo.InteractionResponse{Type: discordgo.InteractionApplicationCommandAutocompleteResult, Data: &discordgo.InteractionResponseData{
		Choices: []*discordgo.ApplicationCommandOptionChoice{{Name: "18 g", Value: 18}},
	}}))
	noViolations(t, s)
}

func wait[T any](t *testing.T, c <-chan T) (v T) {
	t.Helper()
	select {
	case v = <-c:
	case <-time.After(testPatience):
		t.Fatal("nothing came")
	}
	return v
}

// The library reconnects by itself and misses nothing that a resume brings.
func TestLibraryResumes(t *testing.T) {
	s := start(t, fake.Options{})
	client := library(t, s)
	said := make(chan *discordgo.MessageCreate, 10)
	client.AddHandler(func(_ *discordgo.Session, m *discordgo.MessageCreate) { said <- m })
	if err := client.Open(); err != nil {
		t.Fatal(err)
	}
	defer client.Close() //nolint:errcheck // the test is over
	s.NextEvents("MESSAGE_CREATE", fake.Cut)
	id := s.Say("dial-in", "mara", "18 36 28", "")
	if m := wait(t, said); m.ID != id {
		t.Errorf("got %+v", m)
	}
	if s.Resumes() != 1 || len(s.Identifies()) != 1 {
		t.Errorf("%d resumes, %d identifies", s.Resumes(), len(s.Identifies()))
	}
}
