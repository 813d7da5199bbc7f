// Package fake is a Discord to test against: the REST calls and the gateway
// that a bot in a team's channel needs, people who can be made to speak and
// press buttons, and every fault worth surviving.
//
// It shares no code with the service it tests and knows no client library:
// what it says is plain JSON, from Discord's documentation (API versions 9 and
// 10, as of August 2026).
//
// # Tour
//
//   - server.go: [New], [Options], [Server]; world.go: who and what is there.
//   - people.go and use.go: people write, edit, delete; they press buttons,
//     use slash commands and fill in forms.
//   - state.go: what tests look at, and [Server.Await].
//   - rest.go receives every call; messages.go, threads.go, commands.go,
//     callback.go, webhook.go and whoami.go answer them.
//   - gateway.go, link.go and dispatch.go: the socket, its sessions and events.
//   - restfault.go and gatewayfault.go: what may go wrong.
//   - description.go, fields.go and limits.go: what a request and an answer
//     must look like; [Server.Violations] lists what did not.
//   - control.go: the same by HTTP, for curl and the command fakediscord.
package fake
