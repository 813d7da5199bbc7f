package main

import (
	"errors"
	"fmt"
	"strconv"

	"shothand/bot/console"
	"shothand/bot/say"
	"shothand/bot/say/setup"
)

// What the program says beside the conversation.
const (
	// connectText says how to reach Discord, when the console opens without
	// being asked for.
	connectText = "This is the console. With DISCORD_TOKEN set the bot joins Discord; the README says how to get one."
)

// consoleTexts are the sentences of a terminal in a language.
func consoleTexts(l say.Lang) console.Texts {
	return console.Texts{
		Welcome: l.Say(setup.ConsoleWelcome), Keys: l.Say(setup.ConsoleKeys), Empty: l.Say(setup.ConsoleEmpty),
		Private: l.Say(setup.ConsolePrivate), Edited: l.Say(setup.ConsoleEdited),
		BadTime: setup.In(l).BadTime, BadLineNumber: setup.In(l).BadLineNumber, AfterNumber: l.AfterNumber,
		Unread: l.Say(setup.ConsoleUnread), NothingToPress: l.Say(setup.ConsoleNothingToPress),
		Called: setup.In(l).Called, NoSuchNumber: setup.In(l).NoSuchNumber, ButtonChoices: setup.In(l).ButtonChoices,
	}
}

// tokenRefusedText refuses a token.
const tokenRefusedText = "the token is not accepted by Discord: take a new one from the bot's page in the developer portal and put it into DISCORD_TOKEN or DISCORD_TOKEN_FILE"

// A channel that is to become a bar.

const (
	// noTokenText asks for a token.
	noTokenText = "no token for Discord: set DISCORD_TOKEN, or DISCORD_TOKEN_FILE to a file that holds it"
	// oddTokenText refuses what cannot be a token, without showing it.
	oddTokenText = "the token for Discord holds a space or another character that no token has: copy it anew"
	// noHomeText says that there is no place for the records.
	noHomeText = "there is no place for the records: name a file with --db"
)

// badRootText refuses the URL of a server in Discord's place.
func badRootText(url string) string {
	return "--discord-url " + strconv.Quote(url) + " is not of the form http://127.0.0.1:8080"
}

// badShardText refuses a part of the servers.
func badShardText(part string) string {
	return "--shard " + strconv.Quote(part) + " is not of the form 0/4, the first number below the second"
}

// nothingSaidText answers a command that leaves nothing to say.
const nothingSaidText = "Done."

// tokenRefused is the error of a token that Discord does not accept.
func tokenRefused() error { return errors.New(tokenRefusedText) }

// discordClosed is the error of a connection that Discord has closed for good,
// with what to fix. The codes are those of Discord's documentation.
func discordClosed(code int) error {
	switch code {
	case 4004:
		return errors.New(tokenRefusedText)
	case 4010:
		return errors.New("this shard is not taken by Discord: give --shard i/n with i below n, the same n for all")
	case 4011:
		return errors.New("the bot is in too many servers for one process: run several, each with --shard i/n")
	case 4012:
		return errors.New("this version of the gateway is no longer spoken by Discord: install a newer shothand")
	case 4013:
		return errors.New("the events that were asked for are not known to Discord: install a newer shothand")
	case 4014:
		return errors.New("the Message Content intent is not enabled: switch it on under Bot, Privileged Gateway Intents, in the developer portal")
	}
	return fmt.Errorf("closed for good by Discord, code %d", code)
}

// healthAddressText refuses an address for -health.
func healthAddressText(said string) string {
	return "--health " + said + ": only an address of this machine alone is taken, such as 127.0.0.1:8399"
}

// healthFlag describes -health.
const healthFlag = "the loopback `address`, such as 127.0.0.1:8399, at which /health and /metrics tell how the bot is; without it nothing listens"
