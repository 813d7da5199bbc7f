// Package file keeps a bbolt file that one program has open, whatever lies in it.
//
// A file is opened whole or refused with an [Error] in one sentence: it is locked
// and every page in use is looked at first (pages.go). While it is open, what waits
// shares a commit, and a file that somebody cuts, overwrites or replaces takes
// nothing more. It is copied, compacted and restored while others read and write.
// What was written has its name in the directory only once it is whole.
//
// A [Format] says what the file is: how an older one is brought to this version, and
// how all of it is checked.
package file
