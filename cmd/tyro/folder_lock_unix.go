//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package main

import (
	"errors"
	"os"
	"syscall"
)

// tryLock takes the lock, or says that another run holds it.
func tryLock(path string) (unlock func(), busy bool, err error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, false, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) || errors.Is(err, syscall.EINTR) {
			return nil, true, nil
		}
		return nil, false, err
	}
	// The run that held the lock may have taken the file away meanwhile.
	held, err := f.Stat()
	there, gone := os.Stat(path)
	if err != nil || gone != nil || !os.SameFile(held, there) {
		f.Close()
		return nil, true, err
	}
	return func() { os.Remove(path); f.Close() }, false, nil
}
