package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"strings"
	"testing"
)

func TestRunServesUntilTold(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	out, in := io.Pipe()
	ended := make(chan error, 1)
	go func() { ended <- run(ctx, []string{"-addr", "127.0.0.1:0"}, func(string) string { return "" }, in) }()
	root := ""
	for lines := bufio.NewScanner(out); root == "" && lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "http://") {
			root = lines.Text()
		}
	}
	go io.Copy(io.Discard, out) //nolint:errcheck // the rest of what it says
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, root+"/fake/status", nil)
	if err != nil {
		t.Fatal(err)
	}
	response, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close() //nolint:errcheck // only its status is wanted
	if response.StatusCode != http.StatusOK {
		t.Errorf("status %d", response.StatusCode)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

func TestRunRefuses(t *testing.T) {
	for _, args := range [][]string{{"-addr", "nowhere"}, {"-nothing"}} {
		if err := run(t.Context(), args, func(string) string { return "" }, io.Discard); err == nil {
			t.Errorf("%q runs", args)
		}
	}
	missing := func(string) string { return "no/such/file.json" }
	if err := run(t.Context(), nil, missing, io.Discard); err == nil {
		t.Error("it runs without the description it was told of")
	}
}
