package discord

import (
	"strings"
	"testing"

	"shothand/bot/discord/fake"
)

// Whatever the gateway says, the process lives, and the session goes on.
func TestStrangeFrames(t *testing.T) {
	t.Parallel()
	f := newFake(t, fake.Options{})
	r := listen(t, f, quick())
	r.connected()
	before := r.say("before")
	for _, text := range []string{
		`null`, ` null `, `[]`, `1`, `"x"`, ``, ` `, `{}`, `{"op":null}`, `{"op":`, `{"op":"x"}`, `nul`, strings.Repeat(" ", 70000) + "null",
		`{"op":3,"d":null}`, `{"op":0}`, `{"op":0,"t":null,"s":null,"d":null}`,
		`{"op":0,"t":"GUILD_CREATE","s":2,"d":null}`, `{"op":0,"t":"GUILD_CREATE","s":2,"d":{}}`, `{"op":0,"t":"GUILD_UPDATE","s":2,"d":null}`,
		`{"op":0,"t":"VOICE_STATE_UPDATE","s":2,"d":null}`, `{"op":0,"t":"VOICE_SERVER_UPDATE","s":2,"d":null}`,
		`{"op":0,"t":"MESSAGE_CREATE","s":2,"d":null}`, `{"op":0,"t":"MESSAGE_CREATE","s":2,"d":{"author":null}}`,
		`{"op":0,"t":"MESSAGE_DELETE","s":2,"d":null}`, `{"op":0,"t":"MESSAGE_DELETE_BULK","s":2,"d":{"ids":null}}`,
		`{"op":0,"t":"THREAD_CREATE","s":2,"d":null}`, `{"op":0,"t":"CHANNEL_CREATE","s":2,"d":null}`, `{"op":0,"t":"READY","s":1,"d":null}`,
		`{"op":0,"t":"INTERACTION_CREATE","s":2,"d":null}`, `{"op":0,"t":"GUILD_ROLE_DELETE","s":2,"d":null}`,
	} {
		f.SayRaw(text)
	}
	f.SayBinary([]byte("null"))
	f.SayBinary([]byte{0x78, 0x9c, 0xcb, 0x2b, 0xcd, 0xc9, 0x01, 0x00, 0x04, 0x64, 0x01, 0xbf}) // null, compressed
	after := f.Say("dial-in", "jo", "after", "")
	r.answered(after)
	if n := len(f.Identifies()); n != 1 {
		t.Errorf("%d sessions were opened", n)
	}
	// A heart without an interval, or none at all, is another try.
	f.NextConnections(
		fake.Opening{Hello: "null"}, fake.Opening{Hello: `{"op":10}`}, fake.Opening{Hello: `{"op":10,"d":null}`},
		fake.Opening{Hello: `{"op":10,"d":{"heartbeat_interval":0}}`}, fake.Opening{Hello: `{"op":10,"d":{"heartbeat_interval":-5}}`},
	)
	f.CutConnections()
	last := f.Say("dial-in", "jo", "last", "")
	r.answered(last)
	r.once(before, after, last)
}
