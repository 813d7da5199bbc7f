//go:build unix

package store

import (
	"os"
	"syscall"
)

// ownerOf returns whose a file is.
func ownerOf(info os.FileInfo) (uid, gid uint32) {
	owner, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, 0
	}
	return owner.Uid, owner.Gid
}
