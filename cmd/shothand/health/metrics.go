package health

import (
	"sync/atomic"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"

	"shothand/bot"
)

var _ bot.Meter = (*Meter)(nil)

// A Meter counts what the bot does.
type Meter struct {
	recorded, sent prometheus.Counter
	advice         prometheus.Histogram
	sentAt         atomic.Int64 // ns since 1970, of the last reply; 0: none yet
}

// NewMeter returns one that has counted nothing.
func NewMeter() *Meter {
	return &Meter{
		recorded: prometheus.NewCounter(prometheus.CounterOpts{
			Name: "shothand_shots_recorded_total", Help: "Shots that went into the book.",
		}),
		sent: prometheus.NewCounter(prometheus.CounterOpts{
			Name: "shothand_replies_sent_total", Help: "Replies that the chat took.",
		}),
		advice: prometheus.NewHistogram(prometheus.HistogramOpts{
			Name: "shothand_advice_seconds", Help: "How long an advice took.",
			Buckets: prometheus.ExponentialBuckets(0.0005, 2, 12), // to 1 s
		}),
	}
}

// Recorded counts a shot.
func (m *Meter) Recorded() { m.recorded.Inc() }

// Sent counts a reply.
func (m *Meter) Sent() {
	m.sent.Inc()
	m.sentAt.Store(time.Now().UnixNano())
}

// Advised notes how long an advice took.
func (m *Meter) Advised(d time.Duration) { m.advice.Observe(d.Seconds()) }

// lastSent returns when the last reply was sent, or start if none was yet.
func (m *Meter) lastSent(start time.Time) time.Time {
	if at := m.sentAt.Load(); at != 0 {
		return time.Unix(0, at)
	}
	return start
}

// gauges are what an Observer sees, as Prometheus asks for it.
type gauges struct {
	*Observer
	ok, pending, lag, behind, up, age, sound, bytes *prometheus.Desc
}

func newGauges(o *Observer) gauges {
	desc := func(name, help string) *prometheus.Desc { return prometheus.NewDesc("shothand_"+name, help, nil, nil) }
	return gauges{
		Observer: o,
		ok:       desc("ok", "1 if /health says ok."),
		pending:  desc("replies_pending", "Replies that are written and not known to be sent."),
		lag:      desc("catch_up_lag_seconds", "How far behind what has been said the bot is."),
		behind:   desc("bars_behind", "Bars that are not read up to the present."),
		up:       desc("gateway_up", "1 if the session with Discord is open."),
		age:      desc("last_backup_age_seconds", "How old the newest backup is."),
		sound:    desc("last_backup_ok", "1 if the last try made a backup that was read and found whole."),
		bytes:    desc("store_bytes", "How large the file of the records is."),
	}
}

// Describe names them.
func (g gauges) Describe(list chan<- *prometheus.Desc) {
	for _, d := range []*prometheus.Desc{g.ok, g.pending, g.lag, g.behind, g.up, g.age, g.sound, g.bytes} {
		list <- d
	}
}

// Collect looks. What cannot be told is left out.
func (g gauges) Collect(list chan<- prometheus.Metric) {
	l := g.look()
	send := func(known bool, d *prometheus.Desc, x float64) {
		if known {
			list <- prometheus.MustNewConstMetric(d, prometheus.GaugeValue, x)
		}
	}
	send(true, g.ok, asGauge(len(l.troubles()) == 0))
	send(!l.slow && l.err == nil, g.pending, float64(l.pending))
	send(l.connected, g.lag, l.lag().Seconds())
	send(l.connected, g.behind, float64(l.bars))
	send(l.connected, g.up, asGauge(l.up))
	send(!l.backup.IsZero(), g.age, l.now.Sub(l.backup).Seconds())
	send(l.checked != "", g.sound, asGauge(l.checked == BackupSound))
	send(l.bytes > 0, g.bytes, float64(l.bytes))
}

// asGauge is 1 for yes.
func asGauge(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// registry returns all there is to measure of a bot.
func (o *Observer) registry() *prometheus.Registry {
	r := prometheus.NewRegistry()
	r.MustRegister(o.meter.recorded, o.meter.sent, o.meter.advice, newGauges(o),
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return r
}
