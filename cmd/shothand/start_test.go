package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// From the start of the program to its first answer, for a bar that is new and
// for one of five weeks at noon: the time that passes, and what the processor does
// for it. Version is what a start alone costs, on the same machine at the same time.
func BenchmarkFirstAnswer(b *testing.B) {
	program := build(b)
	old := filepath.Join(b.TempDir(), "old.db")
	b.Run("version", func(b *testing.B) {
		var used time.Duration
		for b.Loop() {
			command := exec.CommandContext(b.Context(), program, "-version")
			if err := command.Run(); err != nil {
				b.Fatal(err)
			}
			used += spent(command)
		}
		reportSpent(b, used)
	})
	b.Run("new", func(b *testing.B) {
		dir := b.TempDir()
		firstAnswers(b, program, func(n int) string { return filepath.Join(dir, fmt.Sprint(n, ".db")) })
	})
	b.Run("fiveWeeks", func(b *testing.B) {
		if out, err := exec.CommandContext(b.Context(), program, "demo", "-new", "-yes", "-db", old).CombinedOutput(); err != nil {
			b.Fatalf("%v: %s", err, out)
		}
		b.ResetTimer()
		firstAnswers(b, program, func(int) string { return old })
	})
}

func firstAnswers(b *testing.B, program string, db func(n int) string) {
	b.Helper()
	y, m, d := time.Now().Date()
	noon := time.Date(y, m, d, 12, 0, 0, 0, time.UTC) // the day is not summed up first, as in the evening
	var used time.Duration
	for n := range b.N {
		b.StopTimer()
		command := exec.CommandContext(b.Context(), program, "console", "-json", "-db", db(n))
		in, err1 := command.StdinPipe()
		out, err2 := command.StdoutPipe()
		if err := errors.Join(err1, err2); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		if err := command.Start(); err != nil {
			b.Fatal(err)
		}
		if _, err := io.WriteString(in, noon.Format(time.RFC3339)+" @mara tide 18 36 28 sour\n"); err != nil {
			b.Fatal(err)
		}
		if _, err := bufio.NewReader(out).ReadString('\n'); err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		if err := errors.Join(in.Close(), command.Wait()); err != nil {
			b.Fatal(err)
		}
		used += spent(command)
		b.StartTimer()
	}
	reportSpent(b, used)
}

func spent(command *exec.Cmd) time.Duration {
	return command.ProcessState.UserTime() + command.ProcessState.SystemTime()
}

func reportSpent(b *testing.B, used time.Duration) {
	b.Helper()
	b.ReportMetric(float64(used.Microseconds())/1e3/float64(b.N), "cpu-ms/op")
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1e3/float64(b.N), "ms/op")
}
