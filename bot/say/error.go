package say

// An Error is an error to tell the person who made it.
type Error string

func (e Error) Error() string { return string(e) }
