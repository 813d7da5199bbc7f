package discord

import (
	"errors"
	"fmt"
	"net/url"
	"os"
	"strconv"
	"strings"
)

// Token reads the bot's token from DISCORD_TOKEN, or from the file that
// DISCORD_TOKEN_FILE names. It is empty if neither is set. No error holds any
// of the token.
func Token(getenv func(string) string) (string, error) {
	token, file := getenv("DISCORD_TOKEN"), getenv("DISCORD_TOKEN_FILE")
	if token == "" && file != "" {
		text, err := os.ReadFile(file)
		if err != nil {
			return "", fmt.Errorf("read DISCORD_TOKEN_FILE: %w", err)
		}
		if token = strings.TrimSpace(string(text)); token == "" {
			return "", fmt.Errorf("read DISCORD_TOKEN_FILE: %s is empty", file)
		}
	}
	token = strings.TrimPrefix(strings.TrimSpace(token), "Bot ")
	if strings.ContainsFunc(token, func(r rune) bool { return r <= ' ' || r > '~' }) {
		return "", errors.New("the Discord token holds a space or another character that no token has")
	}
	return token, nil
}

// A Shard is which part of the servers a process serves, of how many.
type Shard struct{ Number, Of int }

// ParseShard reads "0/4". Empty is the only shard of one.
func ParseShard(s string) (Shard, error) {
	if s == "" {
		return Shard{0, 1}, nil
	}
	number, of, _ := strings.Cut(s, "/")
	n, err1 := strconv.Atoi(number)
	all, err2 := strconv.Atoi(of)
	if err1 != nil || err2 != nil || n < 0 || n >= all || all > 10000 {
		return Shard{}, fmt.Errorf("shard %q is not of the form 0/4, the first number below the second", s)
	}
	return Shard{n, all}, nil
}

// ParseRoot reads the root of the server that stands in for the platform's, or
// nil for the platform's own.
func ParseRoot(s string) (*url.URL, error) {
	if s == "" {
		return nil, nil
	}
	root, err := url.Parse(s)
	if err != nil || root.Host == "" || root.Scheme != "http" && root.Scheme != "https" || root.User != nil {
		return nil, fmt.Errorf("the Discord URL %q is not of the form http://127.0.0.1:8080", s)
	}
	return root, nil
}
