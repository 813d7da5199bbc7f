package rest

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

// A Redirect sends every call to another server's root, and has it say that
// its gateway is there, too.
type Redirect struct {
	Root *url.URL // nil: nothing is redirected
	Next http.RoundTripper
}

// RoundTrip makes one call.
func (r Redirect) RoundTrip(req *http.Request) (*http.Response, error) {
	if r.Root == nil {
		return r.Next.RoundTrip(req)
	}
	there := req.Clone(req.Context())
	there.URL.Scheme, there.URL.Host, there.Host = r.Root.Scheme, r.Root.Host, r.Root.Host
	there.URL.Path = strings.TrimSuffix(r.Root.Path, "/") + req.URL.Path
	there.URL.RawPath = ""
	resp, err := r.Next.RoundTrip(there)
	if err == nil && resp.StatusCode == http.StatusOK && strings.HasSuffix(req.URL.Path, "/gateway") {
		err = r.moveGateway(resp)
	}
	return resp, err
}

// CloseIdleConnections closes what is open and unused, which a client asks of
// its outermost transport alone.
func (r Redirect) CloseIdleConnections() {
	if next, ok := r.Next.(interface{ CloseIdleConnections() }); ok {
		next.CloseIdleConnections()
	}
}

// moveGateway rewrites the answer that says where the gateway is.
func (r Redirect) moveGateway(resp *http.Response) error {
	body, err := io.ReadAll(io.LimitReader(resp.Body, 1<<16))
	if err = cmp.Or(err, resp.Body.Close()); err != nil {
		return err
	}
	var said struct {
		URL string `json:"url"`
	}
	if json.Unmarshal(body, &said) == nil {
		if at, err := url.Parse(said.URL); err == nil && said.URL != "" {
			at.Host, at.Scheme = r.Root.Host, "ws"
			if r.Root.Scheme == "https" {
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
