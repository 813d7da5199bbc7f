//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"shothand/store"
)

// Who may only read the file can check it, export from it and make a report,
// also while another does so; nothing of it is changed.
func TestReadOnlyFile(t *testing.T) {
	t.Parallel()
	if os.Getuid() != 0 {
		t.Skip("only the superuser can run it as somebody else")
	}
	program := build(t)
	dir := t.TempDir()
	db := filepath.Join(dir, "bar.db")
	if said, err := call(t, at(0, "@mara 18 36 24 sour\n"), "console", "-db", db); err != nil {
		t.Fatal(err, said)
	}
	for name := dir; name != os.TempDir(); name = filepath.Dir(name) {
		if err := os.Chmod(name, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chmod(filepath.Dir(program), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(db, 0o444); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	other, err := store.OpenToRead(db)
	if err != nil {
		t.Fatal(err)
	}
	page := filepath.Join(t.TempDir(), "page.html")
	if err := os.Chmod(filepath.Dir(page), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		args []string
		says string
	}{
		{[]string{"check", "-db", db}, "is whole"},
		{[]string{"export", "-db", db}, ",mara,"},
		{[]string{"report", "-db", db, "-o", page}, page},
	} {
		command := exec.CommandContext(t.Context(), program, test.args...)
		command.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		out, err := command.CombinedOutput()
		if err != nil || !strings.Contains(string(out), test.says) {
			t.Errorf("%s: %v %s", test.args[0], err, out)
		}
	}
	if err := other.Close(); err != nil {
		t.Error(err)
	}
	if after, err := os.ReadFile(db); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file was changed, %v", err)
	}
}
