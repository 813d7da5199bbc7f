package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The unit is what systemd understands, and as closed as its own yardstick
// can tell.
func TestServiceUnit(t *testing.T) {
	tool, err := exec.LookPath("systemd-analyze")
	if err != nil {
		t.Skip("systemd-analyze is not installed")
	}
	unit, err := os.ReadFile("shothand.service")
	if err != nil {
		t.Fatal(err)
	}
	// What is verified has to be there.
	dir := t.TempDir()
	program := filepath.Join(dir, "shothand")
	if err := os.WriteFile(program, []byte("#!/bin/sh\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "shothand.service")
	text := strings.ReplaceAll(string(unit), "/usr/local/bin/shothand\n", program+"\n")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.CommandContext(t.Context(), tool, "verify", "--man=no", file).CombinedOutput(); err != nil || strings.Contains(string(out), "shothand.service:") {
		t.Errorf("verify: %v\n%s", err, out)
	}
	// Of 100; below 20 is what it calls OK. From memory.
	if out, err := exec.CommandContext(t.Context(), tool, "security", "--offline=true", "--threshold=20", file).CombinedOutput(); err != nil {
		t.Errorf("security: %v\n%s", err, out)
	}
}
