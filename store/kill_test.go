package store

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shothand/advisor/bar"
)

// openThis names the variable by which the test's own program is told to open
// a file and do nothing else.
const openThis = "SHOTHAND_TEST_OPEN"

// TestMain lets the test's own program be the one that is killed.
func TestMain(m *testing.M) {
	path := os.Getenv(openThis)
	if path == "" {
		os.Exit(m.Run())
	}
	fmt.Println("opening")
	s, err := Open(path)
	if err == nil {
		err = s.Close()
	}
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
}

// ofVersion1 returns the bytes of a file with many bars as the first version
// kept it.
func ofVersion1(t *testing.T) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "old.db")
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	update(t, s, func(tx *Tx) error {
		for n := range 400 {
			name := fmt.Sprint("bar ", n)
			if _, err := tx.AddBar(name, bar.Bar{Name: name}); err != nil {
				return err
			}
		}
		bars := tx.tx.Bucket([]byte(bucketBars))
		return errors.Join(setVersion(tx.tx, 1), bars.ForEachBucket(func(key []byte) error {
			_, err := bars.Bucket(key).CreateBucket([]byte("posteriors"))
			return errors.Join(err, bars.Bucket(key).DeleteBucket([]byte(bucketDays)))
		}))
	})
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A migration that is killed has been done or not begun, and the next start
// does it.
func TestKilledMigration(t *testing.T) {
	old := ofVersion1(t)
	path := fileWith(t, old)
	before := contents(t, path)
	if !strings.Contains(before, `"version" = `+"`1`") {
		t.Fatal("it is not of the first version")
	}
	began := time.Now()
	closeChecked(t, reopen(t, path))
	takes := time.Since(began)
	want := contents(t, path)
	dice := rand.New(rand.NewPCG(1, 3))
	n := ordered(t, "SHOTHAND_KILLS", 10)
	killed, done := 0, 0
	for i := 0; killed < n; i++ {
		if i > 20+20*n {
			t.Fatalf("%d of %d were killed", killed, i)
		}
		path := fileWith(t, old)
		if killOpening(t, path, time.Duration(1.2*dice.Float64()*float64(takes))) {
			killed++
		}
		switch contents(t, path) {
		case want:
			done++
		case before:
		default:
			t.Fatal("neither as before nor migrated")
		}
		s := reopen(t, path)
		closeChecked(t, s)
		if contents(t, path) != want {
			t.Fatal("not migrated by the next start")
		}
	}
	t.Logf("%d kills, %d migrations were done by then, one takes %v", killed, done, takes)
}

// killOpening opens a file in a program of its own, kills it so long after it
// began, and reports whether it was still at it.
func killOpening(t *testing.T, path string, after time.Duration) bool {
	t.Helper()
	command := exec.CommandContext(t.Context(), os.Args[0])
	command.Env = append(os.Environ(), openThis+"="+path)
	out, err := command.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(out)
	if said, err := lines.ReadString('\n'); said != "opening\n" {
		t.Fatalf("it says %q, %v", said, err)
	}
	time.Sleep(after)
	_ = command.Process.Kill() // it may have ended
	rest, _ := lines.ReadString('\n')
	if rest != "" {
		t.Error(rest)
	}
	return command.Wait() != nil
}
