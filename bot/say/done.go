package say

// What was done.
const (
	Corrected     English = "Corrected."
	Noted         English = "Noted: done, as advised."
	Still         English = "Noted: the dial was not moved."
	NotDone       English = "Noted: that was not done."
	NextShot      English = "For the next shot"
	NextShotBack  English = "Taken back. A shot without a name is of your last coffee."
	Added         English = "Added"
	Changed       English = "Changed"
	Retired       English = "Retired"
	OnTheBarAgain English = "On the bar again, with its history"
)
