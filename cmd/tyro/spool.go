package main

import (
	"bytes"
	"io"
	"os"
)

// spooled is how many bytes a spool keeps in memory.
const spooled = 32 << 20

// A spool holds what was written until all of it is there: in memory, and what is too large
// for that in a file of the system's temporary folder. The zero value is an empty one.
type spool struct {
	head bytes.Buffer
	tail *os.File // nil: all is in head
}

// Write implements io.Writer.
func (s *spool) Write(p []byte) (int, error) {
	if s.tail == nil && s.head.Len()+len(p) <= spooled {
		return s.head.Write(p)
	}
	if s.tail == nil {
		f, err := os.CreateTemp("", "tyro-answer-*")
		if err != nil {
			return 0, err
		}
		s.tail = f
		os.Remove(f.Name()) // where the system lets go of a name that is in use, nothing is left behind
	}
	return s.tail.Write(p)
}

// reader gives all that was written, from its beginning.
func (s *spool) reader() (io.Reader, error) {
	if s.tail == nil {
		return bytes.NewReader(s.head.Bytes()), nil
	}
	_, err := s.tail.Seek(0, io.SeekStart)
	return io.MultiReader(bytes.NewReader(s.head.Bytes()), s.tail), err
}

// WriteTo writes all of it out.
func (s *spool) WriteTo(w io.Writer) (int64, error) {
	r, err := s.reader()
	if err != nil {
		return 0, err
	}
	return io.Copy(w, r)
}

// is reports whether a file holds the same bytes.
func (s *spool) is(f io.Reader) (bool, error) {
	r, err := s.reader()
	if err != nil {
		return false, err
	}
	a, b := make([]byte, 1<<16), make([]byte, 1<<16)
	for {
		n, errA := io.ReadFull(r, a)
		m, errB := io.ReadFull(f, b)
		if n != m || !bytes.Equal(a[:n], b[:m]) {
			return false, nil
		}
		if errA != nil { // fewer than asked for: the end, of both
			return end(errA) && end(errB), nil
		}
	}
}

func end(err error) bool { return err == io.EOF || err == io.ErrUnexpectedEOF }

// discard takes the file away.
func (s *spool) discard() {
	if s.tail != nil {
		s.tail.Close()
		os.Remove(s.tail.Name())
	}
}
