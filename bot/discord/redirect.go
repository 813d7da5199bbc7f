package discord

import (
	"bytes"
	"cmp"
	"encoding/json"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
)

// A redirect sends every call to another server's root, and has it say that
// its gateway is there, too.
type redirect struct {
	root *url.URL // nil: nothing is redirected
	next http.RoundTripper
}

// RoundTrip makes one call.
func (r redirect) RoundTrip(req *http.Request) (*http.Response, error) {
	if r.root == nil {
		return r.next.RoundTrip(req)
	}
	there := req.Clone(req.Context())
	there.URL.Scheme, there.URL.Host, there.Host = r.root.Scheme, r.root.Host, r.root.Host
	there.URL.Path = strings.TrimSuffix(r.root.Path, "/") + req.URL.Path
	there.URL.RawPath = ""
	resp, err := r.next.RoundTrip(there)
	if err == nil && resp.StatusCode == http.StatusOK && strings.HasSuffix(req.URL.Path, "/gateway") {
		err = r.moveGateway(resp)
	}
	return resp, err
}

// CloseIdleConnections closes what is open and unused, which a client asks of
// its outermost transport alone.
func (r redirect) CloseIdleConnections() {
	if next, ok := r.next.(interface{ CloseIdleConnections() }); ok {
		next.CloseIdleConnections()
	}
}

// moveGateway rewrites the answer that says where the gateway is.
func (r redirect) moveGateway(resp *http.Response) error {
	body, err := io.ReadAll(io.LimitReader(resp.Body, 1<<16))
	if err = cmp.Or(err, resp.Body.Close()); err != nil {
		return err
	}
	var said struct {
		URL string `json:"url"`
	}
	if json.Unmarshal(body, &said) == nil {
		if at, err := url.Parse(said.URL); err == nil && said.URL != "" {
			at.Host, at.Scheme = r.root.Host, "ws"
			if r.root.Scheme == "https" {
				at.Scheme = "wss"
			}
			said.URL = at.String()
			if body, err = json.Marshal(said); err != nil {
				return err
			}
		}
	}
	resp.Body = io.NopCloser(bytes.NewReader(body))
	resp.ContentLength = int64(len(body))
	resp.Header.Set("Content-Length", strconv.Itoa(len(body)))
	return nil
}
