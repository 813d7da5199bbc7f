package say

// What is said around a channel that is no bar yet.
const (
	SetUpFirst English = "I read nothing here yet. Whoever manages this channel makes it a bar with /setup zone:Europe/Berlin (or your zone)."
	SetUpZone  English = "Which clock does this bar go by? Give its zone, as: /setup zone:Europe/Berlin"
)
