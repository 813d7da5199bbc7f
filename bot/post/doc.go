// Package post takes shots that devices post over HTTP, from outside the chat:
// POST /shot with a secret and a small JSON object, answered with the advice.
//
// openapi.yaml describes it, and is served at /openapi.yaml. The server is one
// of its own and not that of /health and /metrics: those tell everything and
// ask nobody who they are, so they stay on the machine; this one is for the
// devices in the room, and lets nobody in without a secret.
package post
