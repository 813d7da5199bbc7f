package fake

import (
	"regexp"
	"slices"
	"strings"
)

// pings returns whom a text notifies under what a bot sent as
// allowed_mentions (nil: nothing was sent). webhook says that the defaults of
// webhooks and interactions hold, which let only users through.
func (st *State) pings(content string, allowed object, webhook bool) []string {
	var all []string
	may := func(kind string) bool {
		if allowed == nil {
			return !webhook || kind == "users"
		}
		return slices.Contains(list(allowed["parse"]), any(kind))
	}
	for _, found := range regexp.MustCompile(`<@([!&]?)(\d+)>`).FindAllStringSubmatch(content, -1) {
		kind := "users"
		if found[1] == "&" {
			kind = "roles"
		}
		if may(kind) || slices.Contains(list(allowed[kind]), any(found[2])) {
			all = append(all, found[2])
		}
	}
	for _, word := range []string{"everyone", "here"} {
		if strings.Contains(content, "@"+word) && may("everyone") {
			all = append(all, word)
		}
	}
	return all
}

// replyPings tells whether an answer notifies the one who is answered.
func replyPings(allowed object) bool { return allowed == nil || allowed["replied_user"] == true }
