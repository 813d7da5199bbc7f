// Package answer asks for advice on a shot that was recorded or put right, writes
// both down together, and makes the post that says what to do next, with its
// buttons. What drifts, and what two coffees show together, is told with it.
package answer
