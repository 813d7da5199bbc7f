package say

// An Error is an error to tell the person who made it.
type Error string

func (e Error) Error() string { return string(e) }

// Why nothing was done.
const (
	NotSaved         English = "That was not recorded: the disk refuses. Please post it again once there is room."
	Trouble          English = "Something went wrong on my side and I could not answer that. It is in my log."
	OldButton        English = "That button is over; nothing was changed."
	NotManager       English = "That needs the right to manage this channel."
	EditedCommand    English = "A command that is edited is not run again; undo it with /undo, or type it anew."
	NothingToUndo    English = "There is nothing of yours today to undo."
	NothingToCorrect English = "There is no shot of yours today to put right. Somebody else’s is put right by naming its coffee, or by an answer to it. For yesterday’s, say so: yesterday’s was 27 s"
	NothingYesterday English = "There is no such shot of yesterday to put right. Nothing was changed."
	DialEnds         English = "Its dial ends below where it begins. Give both ends, such as min:0 max:10; nothing was changed."
	StepMissing      English = "How big is one step of its dial? Add step:0.1, or whatever the smallest mark you use is; nothing was changed."
	Hours            English = "It cannot open and close at the same time; nothing was changed."
)
