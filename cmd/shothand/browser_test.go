//go:build browser

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"time"
)

// measure is a page that holds the report at a width and tells how it is laid
// out: what is wider than the window, and which text is cut or lies on another.
const measure = `<!DOCTYPE html><meta charset="utf-8"><body style="margin:0">
<iframe id="f" src="/report" style="border:0;width:%dpx;height:900px"></iframe><pre id="out"></pre>
<script>
document.getElementById("f").onload = function () {
  const d = this.contentDocument, wide = d.documentElement.clientWidth, out = {wide: wide, scroll: d.documentElement.scrollWidth, beyond: [], cut: [], over: [], texts: 0, smallest: 1000};
  for (const e of d.querySelectorAll("body *")) {
    const r = e.getBoundingClientRect();
    if (r.width > 0 && r.right > wide + 1) out.beyond.push(e.tagName + " " + (e.textContent || "").slice(0, 40));
  }
  for (const svg of d.querySelectorAll("svg")) {
    const frame = svg.getBoundingClientRect();
    if (frame.width === 0) continue;
    const boxes = [];
    for (const t of svg.querySelectorAll("text")) {
      const r = t.getBoundingClientRect(), text = t.textContent;
      out.texts++;
      out.smallest = Math.min(out.smallest, parseFloat(getComputedStyle(t).fontSize) * frame.width / svg.viewBox.baseVal.width);
      if (r.left < frame.left - 1 || r.right > frame.right + 1 || r.top < frame.top - 1 || r.bottom > frame.bottom + 1) out.cut.push(text);
      const high = r.height * 0.25;
      for (const b of boxes) if (r.left < b.right - 1 && b.left < r.right - 1 && r.top + high < b.bottom - high && b.top + high < r.bottom - high) out.over.push(text + " on " + b.text);
      boxes.push({left: r.left, right: r.right, top: r.top, bottom: r.bottom, text: text});
    }
  }
  document.getElementById("out").textContent = JSON.stringify(out);
};
</script>`

// A laidOut is what the page told.
type laidOut struct {
	Wide, Scroll      int
	Beyond, Cut, Over []string
	Texts             int
	Smallest          float64 // px, of the type in the pictures
}

// The report is read on a phone and at a desk: nothing runs out of the window,
// no text in a picture is cut or lies on another, and none is tiny.
func TestReportInABrowser(t *testing.T) {
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal("this test needs Chromium: ", err)
	}
	page := filepath.Join(t.TempDir(), "report.html")
	if err := run(t.Context(), []string{"report", "-db", madeDemo(t, 24), "-o", page}, nil, nil, io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	report, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	for _, width := range []int{320, 390, 820, 1440} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			got := layOut(t, browser, report, width)
			t.Logf("%d texts, the smallest %.1f px", got.Texts, got.Smallest)
			if got.Scroll > got.Wide || len(got.Beyond) > 0 {
				t.Errorf("the page is %d wide in a window of %d: %q", got.Scroll, got.Wide, got.Beyond)
			}
			if len(got.Cut) > 0 || len(got.Over) > 0 {
				t.Errorf("cut: %q; over each other: %q", got.Cut, got.Over)
			}
			if got.Texts < 40 || !(got.Smallest >= 8.5) {
				t.Errorf("%d texts, the smallest %.1f px", got.Texts, got.Smallest)
			}
		})
	}
}

// layOut opens the report in a window of a width.
func layOut(t *testing.T, browser string, report []byte, width int) laidOut {
	t.Helper()
	mux := http.NewServeMux()
	mux.HandleFunc("/report", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write(report)
	})
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = fmt.Fprintf(w, measure, width)
	})
	server := httptest.NewServer(mux)
	defer server.Close()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	dom, err := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir="+t.TempDir(),
		fmt.Sprintf("--window-size=%d,1000", max(width+20, 500)), "--virtual-time-budget=10000", "--dump-dom", server.URL).Output()
	if err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`(?s)<pre id="out">(.*?)</pre>`).FindSubmatch(dom)
	if found == nil || len(found[1]) == 0 {
		t.Fatalf("the page told nothing: %.300s", dom)
	}
	var got laidOut
	if err := json.Unmarshal([]byte(html.UnescapeString(string(found[1]))), &got); err != nil {
		t.Fatal(err)
	}
	return got
}
