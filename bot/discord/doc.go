// Package discord is the chat service of a Discord server: messages,
// commands and presses in, posts out.
//
// The gateway is taken to be lossy. A session is opened by discordgo and
// watched by a supervisor; on any trouble it is thrown away and a fresh one is
// opened. After each, what was missed is read by REST, from the last message
// that the bot holds: a restart and an outage are mended in the same way. REST
// calls are the package's own, since they have to wait as the platform asks,
// stop when asked to, and never post anything twice.
//
// A message's id is that of the platform, "1234"; of a message in a thread it
// is "THREAD/1234", so that the id says where it stands; of a command or the
// press of a button it is "i1234".
package discord
