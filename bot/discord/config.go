package discord

import (
	"fmt"
	"net/url"
	"os"
	"strconv"
	"strings"
)

// Token reads the bot's token from DISCORD_TOKEN, or from the file that
// DISCORD_TOKEN_FILE names. It is empty if neither holds one. The error is that
// of reading the file.
func Token(getenv func(string) string) (string, error) {
	token, file := getenv("DISCORD_TOKEN"), getenv("DISCORD_TOKEN_FILE")
	if token == "" && file != "" {
		text, err := os.ReadFile(file)
		if err != nil {
			return "", fmt.Errorf("read DISCORD_TOKEN_FILE: %w", err)
		}
		token = string(text)
	}
	return strings.TrimPrefix(strings.TrimSpace(token), "Bot "), nil
}

// IsToken reports whether s could be a token: it holds no space and nothing
// else that no token has.
func IsToken(s string) bool {
	return s != "" && !strings.ContainsFunc(s, func(r rune) bool { return r <= ' ' || r > '~' })
}

// A Shard is which part of the servers a process serves, of how many.
type Shard struct{ Number, Of int }

// ParseShard reads "0/4", or returns false. Empty is the only shard of one.
func ParseShard(s string) (Shard, bool) {
	if s == "" {
		return Shard{0, 1}, true
	}
	number, of, _ := strings.Cut(s, "/")
	n, err1 := strconv.Atoi(number)
	all, err2 := strconv.Atoi(of)
	if err1 != nil || err2 != nil || n < 0 || n >= all || all > 10000 {
		return Shard{}, false
	}
	return Shard{n, all}, true
}

// ParseRoot reads the root of the server that stands in for the platform's, nil
// for the platform's own, or returns false.
func ParseRoot(s string) (*url.URL, bool) {
	if s == "" {
		return nil, true
	}
	root, err := url.Parse(s)
	if err != nil || root.Host == "" || root.Scheme != "http" && root.Scheme != "https" || root.User != nil {
		return nil, false
	}
	return root, true
}
