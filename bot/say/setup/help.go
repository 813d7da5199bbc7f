package setup

import (
	"strings"

	"shothand/bot/chat"
	"shothand/bot/command"
	"shothand/bot/say"
)

// ShotForm is the form that an empty /shot opens: five short fields.
func (l Lang) ShotForm() chat.Form {
	return chat.Form{
		Title:   l.Say("A shot"),
		Command: chat.Command{Name: "shot"},
		Fields: []chat.Field{
			{Name: "dose", Label: l.Say("Dose, g"), Hint: l.Say("18.1 (empty: as the recipe)")},
			{Name: "yield", Label: l.Say("Yield, g"), Hint: l.Say("36.4 (empty: as the recipe)")},
			{Name: "time", Label: l.Say("Time, s"), Hint: "24"},
			{Name: "grind", Label: l.Say("Where the grinder stood"), Hint: l.Say("5.2, or 2 finer (empty: as before)")},
			{Name: "taste", Label: l.Say("How it tasted"), Hint: l.Say("sour, thin")},
		},
	}
}

// AllHelp says in one screen, also of a narrow terminal, what one can type.
const AllHelp say.English = `Type a shot: dose, yield, time, taste.
  18.1 36.4 24 sour thin
  harbour 18 36 28 grind 5.2 balanced
Put it right: was 5.1, no 27 s, or /undo
Tell what happened: new bag, descaled
/today  where each coffee stands
/why  the account behind the last advice
/dialled  call a coffee dialled in
/coffee  its recipe: add, edit, list, show
/grinder  its dial: add, edit, list
/review  what worked, with pictures
/layers  taste a coffee cup by cup
/setup  the bar's clock and hours
/mention  be named in alerts
/export  all shots as a table
/forget  take your name out of all records
/help shot  more ways to say a shot
/help coffee  what that command takes
/help words  the bar's own taste words`

// shotHelpText says in what ways a shot can be told.
const shotHelpText say.English = `A shot is read as people say it:
  18.1 36.4 24 sour thin
  harbour 18 in, 36 out, 28 s, grind 5.2, purged, balanced
  18/36/28 balanced
  1:2 in 28
  same, 27, sweeter
  choked
What is missing comes from the recipe. Words may follow within five minutes.
To put it right, edit or delete the message, or say it: was 5.1, that was decaf, ignore that.
Marks: practice, sink, single, first, purged, not purged, for milk.
What happens, alone or beside it: new bag, hopper is low, topped up the hopper, cleaned the grinder, new filter, descaled.`

// Help says what one can type: all of it, or of one command, and nothing of
// one that there is not.
func (l Lang) Help(topic string) string {
	if topic == "" {
		return l.Say(AllHelp)
	}
	var lines, group []string
	for _, c := range command.All() {
		switch name, _, _ := strings.Cut(c.Name, " "); topic {
		case c.Name:
			return l.ofCommandText(c)
		case name:
			group = append(group, c.Name)
			lines = append(lines, "/"+c.Name+"  "+l.Say(say.English(c.Help)))
			if len(c.Options) > 0 {
				lines = append(lines, "  "+l.Say("takes %s", strings.Join(c.Names(), ", ")))
			}
		}
	}
	if group == nil {
		return ""
	}
	return strings.Join(append(lines, l.Say("What each of these is: /help %s", group[0])), "\n")
}

// ofCommandText says all that one command takes.
func (l Lang) ofCommandText(c command.Command) string {
	lines := []string{"/" + c.Name + "  " + l.Say(say.English(c.Help))}
	for _, o := range c.Options {
		lines = append(lines, "  "+o.Name+l.Colon()+l.Say(say.English(o.Help)))
	}
	if c.Name == "shot" {
		lines = append([]string{l.Say(shotHelpText)}, lines...)
	}
	return strings.Join(lines, "\n")
}

// Topics are what there is help on.
func Topics() []string {
	all := []string{"words"}
	for _, c := range command.All() {
		if name, _, _ := strings.Cut(c.Name, " "); name != all[len(all)-1] {
			all = append(all, name)
		}
	}
	return all
}

// NoTopic says that there is no help on something.
func (l Lang) NoTopic(topic string) string {
	return l.Say("There is no help on “%s”. There is %s.", say.Clip(topic), strings.Join(Topics(), ", ")) + l.Meant(topic, Topics())
}
