//go:build !linux && !darwin

package main

import "os"

// hush does nothing here: a Windows console echoes only what is being read.
func hush(*os.File) (restore func()) { return func() {} }
