package say

import (
	"errors"
	"fmt"
	"strconv"
)

// What is said around a channel that is no bar yet.
const (
	SetUpFirst = "I read nothing here yet. Whoever manages this channel makes it a bar with /setup zone:Europe/Berlin (or your zone)."
	SetUpZone  = "Which clock does this bar go by? Give its zone, as: /setup zone:Europe/Berlin"
)

// tokenRefusedText refuses a token.
const tokenRefusedText = "the token is not accepted by Discord: take a new one from the bot's page in the developer portal and put it into DISCORD_TOKEN or DISCORD_TOKEN_FILE"

// A channel that is to become a bar.

const (
	// NoToken asks for a token.
	NoToken = "no token for Discord: set DISCORD_TOKEN, or DISCORD_TOKEN_FILE to a file that holds it"
	// OddToken refuses what cannot be a token, without showing it.
	OddToken = "the token for Discord holds a space or another character that no token has: copy it anew"
	// NoHome says that there is no place for the records.
	NoHome = "there is no place for the records: name a file with -db"
)

// BadRoot refuses the URL of a server in Discord's place.
func BadRoot(url string) string {
	return "-discord-url " + strconv.Quote(url) + " is not of the form http://127.0.0.1:8080"
}

// BadShard refuses a part of the servers.
func BadShard(part string) string {
	return "-shard " + strconv.Quote(part) + " is not of the form 0/4, the first number below the second"
}

// NothingSaid answers a command that leaves nothing to say.
const NothingSaid = "Done."

// TokenRefused is the error of a token that Discord does not accept.
func TokenRefused() error { return errors.New(tokenRefusedText) }

// DiscordClosed is the error of a connection that Discord has closed for good,
// with what to fix. The codes are those of Discord's documentation.
func DiscordClosed(code int) error {
	switch code {
	case 4004:
		return errors.New(tokenRefusedText)
	case 4010:
		return errors.New("this shard is not taken by Discord: give -shard i/n with i below n, the same n for all")
	case 4011:
		return errors.New("the bot is in too many servers for one process: run several, each with -shard i/n")
	case 4012:
		return errors.New("this version of the gateway is no longer spoken by Discord: install a newer shothand")
	case 4013:
		return errors.New("the events that were asked for are not known to Discord: install a newer shothand")
	case 4014:
		return errors.New("the Message Content intent is not enabled: switch it on under Bot, Privileged Gateway Intents, in the developer portal")
	}
	return fmt.Errorf("closed for good by Discord, code %d", code)
}
