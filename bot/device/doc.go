// Package device takes what a grinder, a scale or a machine posts: which device it
// is, whether it came before, and of which shot it is that a person told.
package device
