// Package command is the table of the commands there are: what each is called,
// what it takes, what each option is for and which values it has, whose right it
// needs and who sees the answer. What is read of a line, what is suggested while
// somebody types, what the help says and what a service shows come from it.
package command
