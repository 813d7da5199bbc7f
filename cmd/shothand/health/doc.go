// Package health looks at a bot that runs and tells whether it is well: over HTTP at
// /health and /metrics, and as warnings in the log.
package health
