package discord

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"shothand/bot/chat"
	"shothand/bot/discord/markup"
	"shothand/bot/discord/rest"
)

// Types of a command's options.
const (
	optionSub   = 1
	optionGroup = 2
	optionText  = 3
)

// Limits of commands, from the platform's documentation.
const (
	maxHelp     = 100
	maxChoice   = 100
	manyChoices = 25
	maxValue    = 1000 // ours: no option needs more
)

// manyGuilds is how many servers may wait for a look at their commands.
const manyGuilds = 4096

// A command is a command as the platform shows it.
type command struct {
	Name    string          `json:"name"`
	Help    string          `json:"description"`
	Says    chat.Said       `json:"description_localizations,omitempty"`
	Options []commandOption `json:"options"`
	Rights  *string         `json:"default_member_permissions"`
}

type commandOption struct {
	Type     int             `json:"type"`
	Name     string          `json:"name"`
	Help     string          `json:"description"`
	Says     chat.Said       `json:"description_localizations,omitempty"`
	Required bool            `json:"required,omitempty"`
	Most     int             `json:"max_length,omitempty"`
	Suggests bool            `json:"autocomplete,omitempty"`
	Choices  []commandChoice `json:"choices,omitempty"`
	Options  []commandOption `json:"options,omitempty"`
}

type commandChoice struct {
	Name  string    `json:"name"`
	Says  chat.Said `json:"name_localizations,omitempty"`
	Value string    `json:"value"`
}

// commands are the bot's commands. Those of two words share a command with
// subcommands. Only a command as a whole can be kept for those who manage; the
// bot checks each.
func commands(specs []chat.Spec) []command {
	var list []command
	at := map[string]int{}
	for _, s := range specs {
		name, sub, grouped := strings.Cut(s.Name, " ")
		i, known := at[name]
		if !known {
			i = len(list)
			at[name] = i
			rights := strconv.Itoa(rightManageChannels)
			list = append(list, command{Name: name, Help: markup.Label(s.Help, maxHelp), Says: labels(s.Says), Options: []commandOption{}, Rights: &rights})
		}
		c := &list[i]
		if !s.Manage {
			c.Rights = nil
		}
		if !grouped {
			c.Options = options(s.Options)
			continue
		}
		if known {
			c.Help, c.Says = markup.Label(name+": "+subs(specs, name), maxHelp), nil
		}
		c.Options = append(c.Options, commandOption{Type: optionSub, Name: sub, Help: markup.Label(s.Help, maxHelp), Says: labels(s.Says), Options: options(s.Options)})
	}
	return list
}

// subs lists the subcommands of a command.
func subs(specs []chat.Spec, name string) string {
	var list []string
	for _, s := range specs {
		if n, sub, ok := strings.Cut(s.Name, " "); ok && n == name {
			list = append(list, sub)
		}
	}
	return strings.Join(list, ", ")
}

// options are the options of a command, the required ones first. Numbers are
// texts, since phones misread a decimal comma in a number.
func options(specs []chat.OptionSpec) []commandOption {
	var must, may []commandOption
	for _, s := range specs {
		o := commandOption{Type: optionText, Name: s.Name, Help: markup.Label(s.Help, maxHelp), Says: labels(s.Says), Required: s.Required}
		if len(s.Choices) > 0 && len(s.Choices) <= manyChoices {
			o.Choices = choices(s)
		} else {
			o.Suggests, o.Most = s.Suggests, maxValue
		}
		if s.Required {
			must = append(must, o)
		} else {
			may = append(may, o)
		}
	}
	return append(must, may...)
}

// choices are what an option may be. What is sent back is the same in every language.
func choices(s chat.OptionSpec) []commandChoice {
	var list []commandChoice
	for i, c := range s.Choices {
		one := commandChoice{Name: markup.Label(c, maxChoice), Value: c}
		if i < len(s.Named) {
			one.Says = labels(s.Named[i])
		}
		list = append(list, one)
	}
	return list
}

// locales are the platform's, of the languages that the bot may speak besides
// English. It has no Portuguese but Brazil's.
func locales() []string { return []string{"it", "es-ES", "es-419", "de", "fr", "pt-BR"} }

// labels cuts what is said in each locale: what helps and a choice may be as long.
func labels(said chat.Said) chat.Said {
	cut := chat.Said{}
	for locale, text := range said {
		cut[locale] = markup.Label(text, maxHelp)
	}
	return cut
}

// register sees to it that each server has the commands that there are. They
// are sent only where they are not there yet.
func (d *Discord) register(ctx context.Context) {
	done := map[string]bool{}
	want := commands(d.specs)
	for {
		select {
		case <-ctx.Done():
			return
		case guild := <-d.guilds:
			if done[guild] {
				continue
			}
			d.safely("register commands", func() error {
				err := d.registerIn(ctx, guild, want)
				done[guild] = err == nil
				if rest.Refused(err, rest.MissingAccess) {
					done[guild] = true // until somebody invites it anew
				}
				return err
			})
			if err := rest.Sleep(ctx, d.times.Retry); err != nil {
				return
			}
		}
	}
}

func (d *Discord) registerIn(ctx context.Context, guild string, want []command) error {
	me, err := d.self(ctx)
	if err != nil {
		return err
	}
	path := "/applications/" + me.app + "/guilds/" + guild + "/commands"
	var have []command
	if err := d.rest.Do(ctx, rest.Call{Method: http.MethodGet, Path: path + "?with_localizations=true"}, &have); err != nil {
		return err
	}
	if sameCommands(want, have) {
		return nil
	}
	began := time.Now()
	if err := d.rest.Do(ctx, rest.Call{Method: http.MethodPut, Path: path, Body: want}, nil); err != nil {
		return err
	}
	d.log.Info("commands registered", "server", guild, "commands", len(want), "took", time.Since(began).String())
	return nil
}

// asSent is a command as it is sent, where nothing and an empty list are one.
func asSent(c command) []byte {
	if len(c.Options) == 0 {
		c.Options = nil
	}
	data, _ := json.Marshal(c) //nolint:errchkjson // of texts alone
	return data
}

// sameCommands compares commands in any order, since the platform has its own.
func sameCommands(a, b []command) bool {
	byName := func(a, b command) int { return strings.Compare(a.Name, b.Name) }
	return slices.EqualFunc(slices.SortedFunc(slices.Values(a), byName), slices.SortedFunc(slices.Values(b), byName),
		func(a, b command) bool { return bytes.Equal(asSent(a), asSent(b)) })
}
