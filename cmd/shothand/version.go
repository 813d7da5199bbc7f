package main

import (
	"runtime/debug"
	"strings"
)

// version returns the versions of the program and of Go.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "shothand"
	}
	return "shothand " + info.Main.Version + " " + info.GoVersion
}

// versionText adds from which commit, and of when, it was built, if that is
// known.
func versionText() string {
	said := []string{version()}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return said[0]
	}
	known := map[string]string{}
	for _, s := range info.Settings {
		known[s.Key] = s.Value
	}
	if commit := known["vcs.revision"]; commit != "" {
		said = append(said, "commit "+commit[:min(12, len(commit))])
	}
	if known["vcs.modified"] == "true" {
		said = append(said, "and changes since")
	}
	if at := known["vcs.time"]; at != "" {
		said = append(said, "of "+at)
	}
	return strings.Join(said, " ")
}
