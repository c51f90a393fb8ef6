package main

import (
	"errors"
	"syscall"
)

// Constants of Windows that package syscall does not name.
const (
	accessDelete          = 0x00010000
	deleteOnClose         = 0x04000000
	errorSharingViolation = syscall.Errno(32)
	errorDeletePending    = syscall.Errno(303)
)

// tryLock takes the lock, or says that another run holds it: a file that nobody else
// can open, and that goes when it is closed.
func tryLock(path string) (unlock func(), busy bool, err error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, false, err
	}
	h, err := syscall.CreateFile(name, syscall.GENERIC_WRITE|accessDelete, 0, nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL|deleteOnClose, 0)
	switch {
	case errors.Is(err, errorSharingViolation), errors.Is(err, errorDeletePending):
		return nil, true, nil
	case err != nil:
		return nil, false, err
	}
	return func() { syscall.CloseHandle(h) }, false, nil
}
