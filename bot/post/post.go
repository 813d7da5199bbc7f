package post

import (
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"shothand/bot"
	"shothand/bot/say/setup"
)

// Limits of what is taken.
const (
	maxBody   = 4096             // bytes
	patience  = 20 * time.Second // for the bar to take a post
	perSecond = 1                // posts of one device in the long run
	atOnce    = 30               // and at once: what a lost network has kept back
	wrong     = 20               // secrets at once that are none, and one a second more
	retry     = 5                // s, after which a busy bar is asked again
)

// A Desk takes posts.
type Desk interface {
	// Admit returns the device whose secret was shown.
	Admit(secret string) (bot.Sender, bool)
	// Post takes a shot, which came at an instant.
	Post(ctx context.Context, from bot.Sender, text string, at time.Time) (bot.PostAnswer, error)
}

// description is the OpenAPI description of what the handler answers.
//
//go:embed openapi.yaml
var description []byte

// A handler answers devices.
type handler struct {
	desk Desk
	log  *slog.Logger
	now  func() time.Time

	wrong *rate.Limiter
	mu    sync.Mutex
	by    map[bot.Sender]*rate.Limiter // of devices that have shown their secret
}

// New returns the handler of a desk.
func New(desk Desk, log *slog.Logger, now func() time.Time) http.Handler {
	h := &handler{desk: desk, log: log, now: now, wrong: rate.NewLimiter(1, wrong), by: map[bot.Sender]*rate.Limiter{}}
	mux := http.NewServeMux()
	mux.Handle("POST /shot", h)
	mux.HandleFunc("GET /openapi.yaml", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/yaml")
		h.wrote(w.Write(description))
	})
	mux.HandleFunc("/shot", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Allow", http.MethodPost)
		h.write(w, http.StatusMethodNotAllowed, errorJSON{string(setup.PostOnly)})
	})
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		h.write(w, http.StatusNotFound, errorJSON{string(setup.NothingHere)})
	})
	return mux
}

// answerJSON is what a device is told. Add fields; never rename them.
type answerJSON struct {
	Recorded bool            `json:"recorded"`
	Repeated bool            `json:"repeated"`
	Text     string          `json:"text"`
	Advice   any             `json:"advice"`
	Shot     *bot.PostedShot `json:"shot"`
}

type errorJSON struct {
	Error string `json:"error"`
}

// ServeHTTP takes one shot.
func (h *handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	secret, _ := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	from, ok := h.desk.Admit(strings.TrimSpace(secret))
	switch {
	case !ok && !h.wrong.AllowN(h.now(), 1):
		h.later(w, http.StatusTooManyRequests, 1, string(setup.TooManySecrets))
		return
	case !ok:
		w.Header().Set("WWW-Authenticate", "Bearer")
		h.write(w, http.StatusUnauthorized, errorJSON{string(setup.NoSuchSecret)})
		return
	case !h.limit(from).AllowN(h.now(), 1):
		h.later(w, http.StatusTooManyRequests, 1, string(setup.TooManyPosts))
		return
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxBody))
	if _, long := errors.AsType[*http.MaxBytesError](err); long {
		h.write(w, http.StatusRequestEntityTooLarge, errorJSON{string(setup.PostTooLong)})
		return
	}
	if err != nil || !json.Valid(body) {
		h.write(w, http.StatusBadRequest, errorJSON{string(setup.PostNoJSON)})
		return
	}
	ctx, cancel := context.WithTimeout(r.Context(), patience)
	defer cancel()
	a, err := h.desk.Post(ctx, from, string(body), h.now())
	h.answer(w, a, err)
}

// limit returns the limiter of a device.
func (h *handler) limit(from bot.Sender) *rate.Limiter {
	h.mu.Lock()
	defer h.mu.Unlock()
	l, ok := h.by[from]
	if !ok {
		l = rate.NewLimiter(perSecond, atOnce)
		h.by[from] = l
	}
	return l
}

// answer tells a device what came of its post.
func (h *handler) answer(w http.ResponseWriter, a bot.PostAnswer, err error) {
	switch {
	case err != nil:
		h.log.Warn("post not taken", "err", err)
		h.later(w, http.StatusServiceUnavailable, retry, string(setup.PostLater))
	case a.Refused:
		h.write(w, http.StatusBadRequest, errorJSON{a.Text})
	default:
		status := http.StatusOK
		if !a.Recorded {
			status = http.StatusAccepted
		}
		h.write(w, status, answerJSON{a.Recorded, a.Repeated, a.Text, a.Advice, a.Shot})
	}
}

// later tells that a post may be sent again after so many seconds.
func (h *handler) later(w http.ResponseWriter, status, seconds int, why string) {
	w.Header().Set("Retry-After", strconv.Itoa(seconds))
	h.write(w, status, errorJSON{why})
}

func (h *handler) write(w http.ResponseWriter, status int, body any) {
	text, err := json.Marshal(body)
	if err != nil {
		h.log.Error("post", "err", err)
		status, text = http.StatusInternalServerError, []byte("{}")
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	h.wrote(w.Write(append(text, '\n')))
}

// wrote notes that a device has gone before it was answered.
func (h *handler) wrote(_ int, err error) {
	if err != nil {
		h.log.Debug("post", "err", err)
	}
}
