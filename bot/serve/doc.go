// Package serve runs a bot on a service: a queue for each bar, in which its messages
// wait and keep their order, an outbox for what is to be sent, and a clock that wakes
// a bar when something is due. It is the only place where a message meets the network.
package serve
