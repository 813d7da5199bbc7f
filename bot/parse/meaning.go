package parse

import (
	"shothand/advisor/bar"
	"shothand/bot/chat"
)

// A Meaning is what a message says: Shot, Words, Call, Correction, Happened,
// CallIt, Set or Chatter.
//
//sumtype:decl
type Meaning interface{ isMeaning() }

func (Shot) isMeaning()       {}
func (Words) isMeaning()      {}
func (Call) isMeaning()       {}
func (Correction) isMeaning() {}
func (Happened) isMeaning()   {}
func (CallIt) isMeaning()     {}
func (Chatter) isMeaning()    {}

// A Shot is what a message says of a shot. What it does not say is zero.
type Shot struct {
	Coffee  bar.CoffeeID  // 0: not named
	Grinder bar.GrinderID // 0: not named
	Dose    Number        // g
	Yield   Number        // g
	Time    Number        // s
	Ratio   Number        // yield : dose
	Grind   Grind
	TDS     Number // %
	Water   Number // °C
	Drip    Number // s to the first drip
	Marks   bar.Marks
	Words   []bar.Word
	Unread  []string // words nobody could place, as typed
	Tastes  bool     // where nothing else is said of its taste: "same taste", as the one before
	Same    bool     // "same": dose and yield as in this coffee's last shot
	// Swapped is set where three bare numbers fit the recipe much better in
	// the other order of dose, yield and time; the numbers are as the bar's
	// own order reads them, and the bot asks. As typed they may then be
	// impossible: see Check.
	Swapped bool
	Better  Trio      // where Swapped: the numbers as they fit the recipe
	Refers  bool      // "it ran 24": it may be of the shot before
	Instead bool      // it takes the place of the last one, which was another coffee: "oops, meant tide 18 40 27"
	Weight  bool      // what went in or came out, and no more: it may be of the shot before as well
	Two     bool      // another coffee is named as well
	Volume  bool      // Yield was said as a volume
	Gushed  bool      // "gusher": it ran far too fast
	Over    string    // a word that the numbers deny, as typed: "choked" of 36 g
	Dialled bool      // the message also calls the coffee dialled in
	By      string    // whose shot it is said to be, "jo's harbour 18 36 24"; empty for the writer's
	Event   bar.Event // what happened just before, "new bag, 18 36 24"; 0 for nothing
	Roasted string    // where Event is a new bag: when it was roasted, as typed

	Aside    []string     // numbers that are none of the shot's, as typed: "table 4"
	Count    bool         // its numbers go up like a count, "15 30 45", and nothing else shows a shot. The bot asks
	Half     bool         // where Doubt: so little was said that it may be something else, "18 36", "27 sour"
	Doubt    []string     // why it may be no shot: what could not be read, as typed. The bot asks
	Stranger string       // what stands where a coffee's name does and is none, as typed. The bot asks
	Guess    bool         // where Stranger: it may be anything, in a bar that has no coffee yet
	Near     bar.CoffeeID // where Stranger: the coffee whose name is misspelt so, or 0
}

// A Number is one number of a message.
type Number struct {
	X     float64
	Said  bool
	Rough bool // a range, an "ish", a volume or by eye
}

// A Grind is a dial position of a message.
type Grind struct {
	X        float64 // dial position; or steps, + is finer, where Relative
	Said     bool
	Relative bool    // "2 finer", "a touch coarser"
	Rough    bool    // the middle of "5-6"
	Odd      bool    // Text is no plain number, "2.3.5", "5+", "much finer": X is 0; see Place
	Beyond   bool    // where Odd: the dial does not go so far
	Back     bool    // where Odd: X steps against the last move, "went back one"
	Up       float64 // where Back: not that, but up the numbers of the dial, 1, or down them, -1: "down one"
	Again    bool    // where Odd: X steps as the last move went, "another notch"
	Behind   float64 // X stands behind "finer", 1, or "coarser", -1: it may be steps as well as where the dial stands
	Way      float64 // X was said to be finer, 1, or coarser, -1, than where it stood: "finer to 3.2"
	Text     string  // as typed, without its label
}

// Words are taste words alone.
type Words struct {
	Words  []bar.Word
	Unread []string
	Marks  bar.Marks
	Coffee bar.CoffeeID // 0: not named
	// Instead says that they take the place of this person's words before.
	Instead bool
	Also    bool       // they stand beside what was said before, whatever that was: "and bitter", "bitter too"
	Was     bool       // "it was bitter": of one's own last shot, for longer
	Same    bool       // it tastes as the one before it: "same taste"
	Both    bool       // it is of two cups: "both sour"
	By      string     // whose words they are said to be, "jo says it's bitter"; empty for the writer's
	Of      string     // whose shot it is of, "jo's harbour is sour"; empty where that is not said
	Tried   bool       // who writes had a taste of somebody else's: "can i try it? sour"
	Own     bool       // it is of the writer's own shot: "mine was fine"
	Which   Which      // of which shot, "the one before was bitter"
	Else    []bar.Word // beside a no that may deny what was said before: "no balanced" as balanced
	At      Grind      // where the dial stood for the shot: "at 5.3 sour"; zero: not said
	Set     Set        // what was done to the dial since, "sour, went 2 finer"; zero: nothing
}

// A Call is a command, or asks what there is to do next, where a dial stands, or what the
// book holds.
type Call struct {
	Command chat.Command
	Next    bool
	Asked   Asked
	Of      bar.CoffeeID    // where one of the others: of which coffee, 0: not named
	Stands  []bar.GrinderID // these stand where, or where Next: on these
}

// A Correction puts the last shot of the person right: "still 5.2",
// "was 5.1", "that was decaf", "dose was 17.5", "no, 27 s", "ignore that".
type Correction struct {
	Grind   Grind
	Coffee  bar.CoffeeID  // 0: not corrected
	Grinder bar.GrinderID // 0: not corrected
	Or      bar.CoffeeID  // where Coffee: the other that was named, "it was tide and harbour"
	Alone   bool          // nothing but Coffee was said
	Next    bool          // where Alone: it is of the next shot, "tide next"
	By      string        // who pulled it, "that was jo's"
	Mine    bool          // who writes pulled it, "that was mine, not jo's"
	Than    string        // where By or Mine: who did not, which may be Me
	Not     bar.CoffeeID  // where Coffee: the one it was not, 0: not said
	Wrong   bool          // it was another coffee, which was not said
	Other   bool          // it was the other grinder, without its name
	Ignore  bool          // take the shot out
	Spoilt  bool          // where Ignore: it was pulled and went wrong: "bin it", "forgot to tamp, ignore that"
	My      bool          // where Ignore: "my last one"
	Vague   bool          // where Ignore: "scratch that", which may be what was said last

	Dose, Yield, Time Number
	Bare              Number // which of the shot's numbers it is was not said
	Was               Number // what the number is not, "27, not 28"
	Only              bool   // where Bare: nothing more was said, so that it may be of something else
	Mass              bool   // Bare was said in g
	Still             bool   // the dial is still there: "still 5.2"
	Weak              bool   // where Bare: only a no stood before it, "no 27"

	Which     Which        // of which shot, "the one before was 26"
	Yesterday bool         // it is of a shot of the day before
	Of        bar.CoffeeID // of the last shot of which coffee, 0: not named
	Last      bool         // where Yesterday: of the last one
	Yours     bool         // it is of a shot of whom it is said to, "watched you"
	To        string       // to which of the bar's people it was said, "that was 19.5 in, jo"
}

// Happened is something that happened to the bar: "new bag", "re-zeroed".
type Happened struct {
	Event   bar.Event
	Coffee  bar.CoffeeID
	Grinder bar.GrinderID
	Roasted string // of a new bag: when it was roasted, as typed
	All     bool   // it is of every grinder: "cleaned both grinders"
	Doubt   bool   // it may be so for long, or no news: "tide is on the right". The bot asks
	Instead bool   // what this person told just before was wrong: "that was a new bag of tide"
	Not     bool   // it did not happen: "not a new bag"
	Weak    bool   // where Instead: nothing new if nothing was told, "it was tide's bag"
	Set     Set    // what was done to the dial since, "new bag, 2 finer"; zero: nothing
}

// CallIt says in words that a coffee is dialled in: "dialled in", "harbour is
// dialled".
type CallIt struct {
	Coffee bar.CoffeeID
	Grind  Grind // where it was said to stand, "dialled in at 5.2"
	Not    bool  // it is not: "not dialled in"
	Yet    bool  // where Not: "not dialled yet", which is talk where nobody has called it
	Weak   bool  // where Not: only "not yet", of a call just before, or talk
}

// Chatter is anything else. It gets no answer.
type Chatter struct{}

// A Mistake is a message that is meant for the bot and cannot be taken; the
// bot's wording says what was read. Nothing of it is stored.
type Mistake struct {
	Kind  MistakeKind
	What  string // the piece of text it is about, as typed, at most 80 characters
	More  string // what would do, in no language: a limit, the names there are
	Would Would  // the same in words
}

// A Would says in words what would do in the place of what was read: "yes or no".
// The catalogues have each of them.
type Would string

// Error names the mistake for a log.
func (m Mistake) Error() string { return "mistake: " + m.What }

// A MistakeKind is a sort of mistake.
type MistakeKind int

// The kinds of mistake.
const (
	Impossible     MistakeKind = iota + 1 // a number no shot has: 0 s, NaN, 400 g
	Ambiguous                             // a prefix of two coffees: What the prefix, More the names
	UnknownCommand                        // More: the nearest command, if one is near
	UnknownOption                         // of a command that is known
	MissingOption                         // What: the option's name
	GivenTwice                            // What: the option's name
	OpenQuote                             // What: all after it
	BadOption                             // What: name:value
	TooLong                               // the message is longer than any shot
	Twice                                 // What: name:"one two" of an option with words besides, More: these words
	Surplus                               // What: words that a command does not take, More: the command
	Several                               // more than one shot: What the first, More the second
	Unclear                               // What: a number that has no place beside the others
	SeveralDials                          // where two grinders were put: What the first, More the second
	NoCoffee                              // What stands where a coffee's name does, More: the one it is near, or all
	PerhapsCoffee                         // as NoCoffee; but only just after a shot, else it is talk: "that was night owl"
	TurnIt                                // somebody tells the bot to turn a dial
	BadPost                               // of a device: What of it
)

// A Vocab is what a bar's own words are, when a message is read.
type Vocab struct {
	Coffees  []Name[bar.CoffeeID]
	Grinders []Name[bar.GrinderID]
	Gone     []string // coffees that are not on the bar any more
	People   []string // who is known here, lower case
	Order    bar.Order
	Usual    []string   // words this person's shots usually begin with, lower case
	Recipe   bar.Recipe // of the coffee a bare shot would be taken for
	Milk     bar.Recipe // of the same coffee in milk, zero if there is none
	Recipes  map[bar.CoffeeID]Recipes
	Words    []bar.Own                 // the bar's own for how a cup tastes
	Language string                    // that the bar is answered in, empty for English
	Unplaced bool                      // where the dial stood for the shot that who writes has just pulled is not known: it was asked
	Pulled   Pulled                    // the last shot of who writes
	Stands   map[bar.GrinderID]float64 // where dials are known to stand
	Steps    map[bar.GrinderID]float64 // by how much their numbers differ from step to step
	Tasted   []string                  // what who writes has said of its taste, as terms
	Untasted bool                      // who writes has just pulled a shot, and said nothing of its taste
	Righted  bool                      // the last that who writes did is that they put their last shot right
	Answer   bool                      // the message answers another: strange words may stand beside words of taste
	Letters  int                       // how many small steps are lettered on the bar's dials, 0 for none
}

// Recipes are those of one coffee, and its grinder.
type Recipes struct {
	Black, Milk bar.Recipe
	Grinder     bar.GrinderID
}

// A Name is a name of the bar's and what it stands for.
type Name[T any] struct {
	Name string
	ID   T
}
