// Package say puts into words what the bot knows: values in, sentences out. It
// reads no records and asks nobody; every sentence of the conversation is here.
//
// The voice:
//
//   - The action comes first: a lock screen shows two lines.
//   - One change, one reason, one line of what was understood.
//   - No number a barista cannot use: whole seconds, no shares of sureness, no
//     extraction yield without a refractometer.
//   - What stays the same is not said.
//   - Plain words, no exclamation marks, nobody is blamed.
//   - Cautions stand where the hazard is, and only there.
package say
