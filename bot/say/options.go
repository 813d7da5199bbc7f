package say

// What commands and their options are for.

// CommandHelp says in one line what a command does.
func CommandHelp(name string) string {
	switch name {
	case "shot":
		return "Post a shot in parts"
	case "coffee add":
		return "Add a coffee to the bar"
	case "coffee edit":
		return "Change a coffee's recipe, grinder or name"
	case "coffee list":
		return "The coffees on bar and their recipes"
	case "coffee show":
		return "One coffee and its recipe"
	case "coffee retire":
		return "Take a coffee off the bar; its history stays"
	case "grinder add":
		return "Add a grinder and tell of its dial"
	case "grinder edit":
		return "Change what is known of a grinder"
	case "grinder list":
		return "The grinders and their dials"
	case "dialled":
		return "Call a coffee dialled in"
	case "undo":
		return "Take back your last entry of today"
	case "today":
		return "Where each coffee stands today"
	case "why":
		return "The account behind the last advice"
	case "review":
		return "Looking back: what worked, what it cost, what tasted best"
	case "setup":
		return "Make this channel a bar, or change how it counts"
	case "mention":
		return "Whether an alert may mention you"
	case "export":
		return "The bar's shots in a file"
	case "layers start":
		return "Split one shot or brew over three cups and taste them apart"
	case "layers taste":
		return "Say how your cups taste, for nobody else to see yet"
	case "layers reveal":
		return "Show what everybody tasted"
	case "layers strike":
		return "Leave one split out of the account"
	case "layers pair":
		return "Compare a shot that ends where the cups say with one as before, blind"
	case "layers stop":
		return "End the tasting"
	case "layers show":
		return "What the last tasting of a coffee said"
	case "layers mine":
		return "How you taste beside the others, for you alone"
	case "forget":
		return "Take your name off everything you posted here"
	case "help":
		return "What one can type"
	}
	return name
}

// OptionHelp says in one line what an option of a command is.
func OptionHelp(command, name string) string {
	switch command + " " + name {
	case "shot time":
		return "How long it ran, in seconds, as 28"
	case "shot grind":
		return "Where the dial stood, as 5.2, or a move, as 2 finer"
	case "shot text":
		return "All of it as you would type it, as 18.1 36.4 24 sour thin"
	case "coffee add name", "coffee edit name", "coffee show name", "coffee retire name":
		return "What the coffee is called"
	case "grinder add name", "grinder edit name":
		return "What the grinder is called, as left"
	case "setup name":
		return "What the bar is called"
	case "layers taste order":
		return "The order you would put blind cups in, early first, as BCA"
	case "layers start yield":
		return "What is in the cups in all, in grams"
	case "layers pair yield":
		return "Where the new shot ends, in grams; without it, where the cups say"
	case "layers start time":
		return "How long it runs in all, in seconds, or 3:00"
	}
	if help := deviceHelp(name); command == "setup" && help != "" {
		return help
	}
	switch name {
	case "dose":
		return "Dry coffee in grams, as 18 or 18.2"
	case "yield":
		return "What is in the cup in grams, as 36 or 36.4"
	case "time":
		return "The window in seconds, as 25-31"
	case "grind":
		return "Where the dial stands, as 5.2"
	case "coffee":
		return "Which coffee; its beginning will do"
	case "grinder":
		return "Which grinder it is on"
	case "taste":
		return "How it tasted, as sour, thin"
	case "purged":
		return "Whether the grinder was purged after the last change"
	case "roasted":
		return "When it was roasted, as 2026-03-01"
	case "rename":
		return "A new name"
	case "finer":
		return "Whether a lower or a higher number is finer"
	case "step":
		return "The smallest move of its dial, as 0.1, or none without numbers"
	case "min":
		return "Where its dial begins, as 0"
	case "max":
		return "Where its dial ends, as 10"
	case "worth":
		return "What one step changes a shot by, in seconds, if known"
	case "person":
		return "me, for your own shots and for you alone"
	case "since":
		return "Which days, as last week, 1 March or this bag"
	case "pictures":
		return "no for words alone"
	case "look":
		return "Whether pictures are light or dark"
	case "more":
		return "yes for all of it"
	case "zone":
		return "The clock it goes by, as Europe/Berlin"
	case "order":
		return "The order of three bare numbers"
	case "ends":
		return "What ends your shots"
	case "clock":
		return "When your clock starts: with the pump, or at the first drip"
	case "roast":
		return "How it is roasted: light, medium or dark"
	case "aim":
		return "What you want of it: bright, round or rich"
	case "for":
		return "Whether this recipe is for black or for milk"
	case "basket":
		return "What its basket holds, in grams from low to high, as 17-19"
	case "preinfusion":
		return "How long it is wetted before the pump is at full pressure, in seconds"
	case "price":
		return "What a kg costs, in the bar's currency, as 24"
	case "currency":
		return "The currency of your prices, as EUR"
	case "doser":
		return "How it doses: by weight, by a timer, or by hand"
	case "purge":
		return "How many grams to purge after a change"
	case "small":
		return "How many small steps make one big step"
	case "wraps":
		return "How many numbers its dial has before it begins anew"
	case "opens":
		return "When service begins, as 07:00"
	case "closes":
		return "When service ends, as 18:00"
	case "days":
		return "Which days you are open, as mon-sat"
	case "remind":
		return "When the morning's reminder comes, as 06:30"
	case "levers":
		return "What the crew may move, as grind,yield; the rest goes to the lead"
	case "word":
		return "A word of your own for how a cup tastes"
	case "means":
		return "What it means here, as sour; nothing for no taste, or forget"
	case "me":
		return "yes or no"
	case "format":
		return "csv holds the shots, jsonl everything"
	case "method":
		return "espresso or pour-over"
	case "tasters":
		return "How many of you taste"
	case "blind":
		return "yes to hide which cup is which"
	case "water":
		return "How much water is poured over, in grams"
	case "early", "middle", "late", "whole", "a", "b", "c":
		return "What you find in this cup, in your own words; its weight if you have it"
	case "split":
		return "Which split, by its number"
	case "better":
		return "Which cup of the pair is better"
	case "topic":
		return "What about, or nothing"
	}
	return name
}
