package bot

import (
	"errors"
	"fmt"
)

const (
	// NoTokenText asks for a token.
	NoTokenText = "no token for Discord: set DISCORD_TOKEN, or DISCORD_TOKEN_FILE to a file that holds it"
	// NoHomeText says that there is no place for the records.
	NoHomeText = "there is no place for the records: name a file with -db"
)

// NothingSaidText answers a command that leaves nothing to say.
const NothingSaidText = nothingSaidText

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
