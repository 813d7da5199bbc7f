package say

// Short sentences.
const (
	NotSaved         = "That was not recorded: the disk refuses. Please post it again once there is room."
	Trouble          = "Something went wrong on my side and I could not answer that. It is in my log."
	OldButton        = "That button is over; nothing was changed."
	NothingToUndo    = "There is nothing of yours today to undo."
	NothingToCorrect = "There is no shot of yours today to put right."
	EditedCommand    = "A command that is edited is not run again; undo it with /undo, or type it anew."
	NotManager       = "That needs the right to manage this channel."
	Corrected        = "Corrected."
	Noted            = "Noted."
	Still            = "Noted: the dial was not moved."
	Added            = "Added"
	Changed          = "Changed"
	Retired          = "Retired"
	DialEnds         = "Its dial ends below where it begins. Give both ends, such as min:0 max:10; nothing was changed."
	Hours            = "It cannot open and close at the same time; nothing was changed."
	StepMissing      = "How big is one step of its dial? Add step:0.1, or whatever the smallest mark you use is; nothing was changed."
)
