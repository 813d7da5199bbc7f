//go:build linux || darwin

package main

import (
	"os"
	"os/signal"
	"sync"
	"syscall"

	"golang.org/x/sys/unix"
)

// hush keeps what is typed on a terminal from being echoed into what is drawn there,
// until it is restored: by what it returns, or when the program is told to stop.
func hush(tty *os.File) (restore func()) {
	fd := int(tty.Fd())
	was, err := unix.IoctlGetTermios(fd, getTermios)
	if err != nil || was.Lflag&unix.ECHO == 0 || inBackground(fd) {
		return func() {}
	}
	quiet := *was
	quiet.Lflag &^= unix.ECHO
	stop, ended := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(stop, syscall.SIGINT, syscall.SIGTERM, syscall.SIGQUIT)
	var watching sync.WaitGroup
	watching.Go(func() {
		select {
		case s := <-stop:
			setTermios(fd, was)
			signal.Stop(stop)
			if s == syscall.SIGQUIT { // what else stops the program is heeded elsewhere
				_ = syscall.Kill(os.Getpid(), syscall.SIGQUIT)
			}
		case <-ended:
			signal.Stop(stop)
			setTermios(fd, was)
		}
	})
	setTermios(fd, &quiet)
	return func() {
		close(ended)
		watching.Wait()
	}
}

// setTermios sets how a terminal behaves, unless that is another program's to say.
func setTermios(fd int, to *unix.Termios) {
	if !inBackground(fd) {
		_ = unix.IoctlSetTermios(fd, putTermios, to) // a screen that is gone is no reason to stop
	}
}

// inBackground reports whether another program has the terminal; to set it would
// stop this one.
func inBackground(fd int) bool {
	has, err := unix.IoctlGetInt(fd, unix.TIOCGPGRP)
	return err == nil && has != unix.Getpgrp()
}
