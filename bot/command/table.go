package command

import "slices"

// All returns the commands there are, in the order in which they are listed.
func All() []Command {
	return slices.Concat(ofShots(), ofCoffees(), ofGrinders(), ofTheDay(), ofTheBar(), ofTastings(), []Command{
		{Name: "help", Help: "What one can type", Private: true, Free: "topic", Options: []Option{
			{Name: "topic", Help: "What about, or nothing", Suggest: Topics},
		}},
	})
}

func ofShots() []Command {
	return []Command{{Name: "shot", Help: "Post a shot in parts", Free: "text", Options: []Option{
		dose(), yield(),
		{Name: "time", Help: "How long it ran, in seconds, as 28"},
		{Name: "grind", Help: "Where the dial stood, as 5.2, or a move, as 2 finer"},
		coffee(),
		{Name: "taste", Help: "How it tasted, as sour, thin", Suggest: Tastes},
		{Name: "text", Help: "All of it as you would type it, as 18.1 36.4 24 sour thin"},
		{Name: "purged", Help: "Whether the grinder was purged after the last change", Choices: yesNo()},
	}}}
}

func ofCoffees() []Command {
	name := Option{Name: "name", Help: "What the coffee is called", Required: true, Suggest: Coffees}
	fresh := name
	fresh.Suggest = Nothing
	facts := []Option{
		grinder(), dose(), yield(),
		{Name: "time", Help: "The window in seconds, as 25-31"},
		{Name: "roasted", Help: "When it was roasted, as 2026-03-01"},
		{Name: "roast", Help: "How it is roasted: light, medium or dark", Choices: []string{"light", "medium", "dark", "none"}},
		{Name: "aim", Help: "What you want of it: bright, round or rich", Choices: []string{"bright", "round", "rich", "none"}},
		{Name: "for", Help: "Whether this recipe is for black or for milk", Choices: []string{"black", "milk"}},
		{Name: "basket", Help: "What its basket holds, in grams from low to high, as 17-19"},
		{Name: "preinfusion", Help: "How long it is wetted before the pump is at full pressure, in seconds"},
		{Name: "price", Help: "What a kg costs, in the bar's currency, as 24"},
	}
	return []Command{
		{Name: "coffee add", Help: "Add a coffee to the bar", Free: "name", Options: slices.Concat([]Option{fresh}, facts)},
		{Name: "coffee edit", Help: "Change a coffee's recipe, grinder or name", Free: "name", Manages: true, Options: slices.Concat([]Option{name}, facts, []Option{rename()})},
		{Name: "coffee list", Help: "The coffees on bar and their recipes"},
		{Name: "coffee show", Help: "One coffee and its recipe", Free: "name", Options: []Option{name, look()}},
		{Name: "coffee retire", Help: "Take a coffee off the bar; its history stays", Free: "name", Manages: true, Options: []Option{name}},
	}
}

func ofGrinders() []Command {
	const called = "What the grinder is called, as left"
	facts := []Option{
		{Name: "finer", Help: "Whether a lower or a higher number is finer", Choices: []string{"lower", "higher"}},
		{Name: "step", Help: "The smallest move of its dial, as 0.1, or none without numbers"},
		{Name: "min", Help: "Where its dial begins, as 0"},
		{Name: "max", Help: "Where its dial ends, as 10"},
		{Name: "worth", Help: "What one step changes a shot by, in seconds, if known"},
		{Name: "doser", Help: "How it doses: by weight, by a timer, or by hand", Choices: []string{"weight", "timer", "hand", "none"}},
		{Name: "purge", Help: "How many grams to purge after a change"},
		{Name: "small", Help: "How many small steps make one big step"},
		{Name: "wraps", Help: "How many numbers its dial has before it begins anew"},
	}
	return []Command{
		{Name: "grinder add", Help: "Add a grinder and tell of its dial", Free: "name", Options: slices.Concat(
			[]Option{{Name: "name", Help: called, Required: true}}, facts)},
		{Name: "grinder edit", Help: "Change what is known of a grinder", Free: "name", Manages: true, Options: slices.Concat(
			[]Option{{Name: "name", Help: called, Suggest: Grinders}}, facts, []Option{rename()})},
		{Name: "grinder list", Help: "The grinders and their dials"},
	}
}

func ofTheDay() []Command {
	return []Command{
		{Name: "dialled", Help: "Call a coffee dialled in", Free: "coffee", Options: []Option{coffee()}},
		{Name: "undo", Help: "Take back your last entry of today"},
		{Name: "today", Help: "Where each coffee stands today"},
		{Name: "why", Help: "The account behind the last advice", Free: "coffee", Options: []Option{coffee(), more(), {Name: "curve", Help: "yes for a picture: how likely a cup is right, by its time", Choices: []string{"yes"}}, look()}},
	}
}

func ofTheBar() []Command {
	return []Command{
		{Name: "setup", Help: "Make this channel a bar, or change how it counts", Manages: true, Options: []Option{
			{Name: "zone", Help: "The clock it goes by, as Europe/Berlin", Suggest: Zones},
			{Name: "order", Help: "The order of three bare numbers", Choices: []string{"dose-yield-time", "dose-time-yield"}},
			{Name: "name", Help: "What the bar is called"},
			{Name: "ends", Help: "What ends your shots", Choices: []string{"scale", "button", "time", "eye"}},
			{Name: "clock", Help: "When your clock starts: with the pump, or at the first drip", Choices: []string{"pump", "drip"}},
			{Name: "opens", Help: "When service begins, as 07:00"},
			{Name: "closes", Help: "When service ends, as 18:00"},
			{Name: "days", Help: "Which days you are open, as mon-sat"},
			{Name: "remind", Help: "When the morning's reminder comes, as 06:30"},
			{Name: "levers", Help: "What the crew may move, as grind,yield; the rest goes to the lead"},
			{Name: "word", Help: "A word of your own for how a cup tastes"},
			{Name: "means", Help: "What it means here, as sour; nothing for no taste, or forget"},
			{Name: "device", Help: "What posts numbers here: its name, or the id of its webhook"},
			{Name: "lag", Help: "With device: how much later its clock starts, as 1.5 s, or none"},
			{Name: "yield", Help: "With device: how long its scale takes to settle, as settles-2s, or none"},
			{Name: "dose", Help: "With device: recipe, if the dose it posts is not to be read", Choices: []string{"recipe", "posted"}},
			{Name: "secret", Help: "With device: new for a new secret, none to end its use", Choices: []string{"new", "none"}},
			{Name: "allow", Help: "With device: no, if nothing it posts is to be read any more", Choices: yesNo()},
			{Name: "currency", Help: "The currency of your prices, as EUR"},
			{Name: "language", Help: "The language that is answered in, as it for Italian", Choices: []string{"en", "it", "es", "de", "fr", "pt"}},
		}},
		{Name: "mention", Help: "Whether an alert may mention you", Free: "me", Options: []Option{
			{Name: "me", Help: "yes or no", Choices: yesNo()},
		}},
		{Name: "export", Help: "The bar's shots in a file", Free: "format", Manages: true, Options: []Option{
			{Name: "format", Help: "csv holds the shots, jsonl everything", Choices: []string{"csv", "jsonl"}},
		}},
		{Name: "review", Help: "Looking back: what worked, what it cost, what tasted best", Free: FreeWords, Options: []Option{
			coffee(), grinder(),
			{Name: "person", Help: "me, for your own shots and for you alone", Choices: []string{"me"}},
			{Name: "since", Help: "Which days, as last week, 1 March or this bag"},
			more(),
			{Name: "pictures", Help: "no for words alone", Choices: yesNo()},
			look(),
		}},
		{Name: "forget", Help: "Take your name off everything you posted here"},
	}
}

func ofTastings() []Command {
	cup := func(name string) Option {
		return Option{Name: name, Help: "What you find in this cup, in your own words; its weight if you have it"}
	}
	split := Option{Name: "split", Help: "Which split, by its number"}
	return []Command{
		{Name: "layers start", Help: "Split one shot or brew over three cups and taste them apart", Free: "coffee", Options: []Option{
			coffee(),
			{Name: "method", Help: "espresso or pour-over", Choices: []string{"espresso", "pour-over"}},
			{Name: "tasters", Help: "How many of you taste"},
			{Name: "blind", Help: "yes to hide which cup is which", Choices: yesNo()},
			dose(),
			{Name: "yield", Help: "What is in the cups in all, in grams"},
			{Name: "water", Help: "How much water is poured over, in grams"},
			{Name: "time", Help: "How long it runs in all, in seconds, or 3:00"},
		}},
		{Name: "layers taste", Help: "Say how your cups taste, for nobody else to see yet", Private: true, Options: []Option{
			cup("early"), cup("middle"), cup("late"), cup("whole"), cup("a"), cup("b"), cup("c"),
			{Name: "order", Help: "The order you would put blind cups in, early first, as BCA"},
			split,
			{Name: "better", Help: "Which cup of the pair is better"},
		}},
		{Name: "layers reveal", Help: "Show what everybody tasted"},
		{Name: "layers strike", Help: "Leave one split out of the account", Free: "split", Options: []Option{split}},
		{Name: "layers pair", Help: "Compare a shot that ends where the cups say with one as before, blind", Free: "coffee", Options: []Option{
			coffee(),
			{Name: "yield", Help: "Where the new shot ends, in grams; without it, where the cups say"},
		}},
		{Name: "layers stop", Help: "End the tasting"},
		{Name: "layers show", Help: "What the last tasting of a coffee said", Free: "coffee", Options: []Option{coffee(), look()}},
		{Name: "layers mine", Help: "How you taste beside the others, for you alone", Private: true},
	}
}

// Options that several commands have.

func coffee() Option {
	return Option{Name: "coffee", Help: "Which coffee; its beginning will do", Suggest: Coffees}
}

func grinder() Option {
	return Option{Name: "grinder", Help: "Which grinder it is on", Suggest: Grinders}
}
func dose() Option   { return Option{Name: "dose", Help: "Dry coffee in grams, as 18 or 18.2"} }
func yield() Option  { return Option{Name: "yield", Help: "What is in the cup in grams, as 36 or 36.4"} }
func rename() Option { return Option{Name: "rename", Help: "A new name"} }
func more() Option {
	return Option{Name: "more", Help: "yes for all of it", Choices: []string{"yes"}}
}

func look() Option {
	return Option{Name: "look", Help: "Whether pictures are light or dark", Choices: []string{"light", "dark"}}
}
func yesNo() []string { return []string{"yes", "no"} }
