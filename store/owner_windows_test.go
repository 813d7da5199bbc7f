package store

import "os"

// ownerOf returns nobody: files are not owned by number there.
func ownerOf(os.FileInfo) (uid, gid uint32) { return 0, 0 }
