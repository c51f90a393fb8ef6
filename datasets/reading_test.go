package datasets

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A written file is one that somebody writes after its first bytes were read.
type writtenFile struct {
	*os.File
	write func()
}

func (f *writtenFile) Read(b []byte) (int, error) {
	n, err := f.File.Read(b)
	if f.write != nil {
		f.write()
		f.write = nil
	}
	return n, err
}

// A file that grows, shrinks or is written anew while it is read is refused; one that stays is read.
func TestFileWrittenWhileRead(t *testing.T) {
	const text = "trainee,attempt,seconds\nT1,1,40\n"
	path := filepath.Join(t.TempDir(), "log.csv")
	for name, write := range map[string]func() error{
		"grows":    func() error { return os.WriteFile(path, []byte(text+"T1,2,3"), 0o600) },
		"shrinks":  func() error { return os.Truncate(path, 5) },
		"is anew":  func() error { return os.Chtimes(path, time.Time{}, time.Unix(1e9, 0)) },
		"is as it": nil,
	} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		data, err := readBounded(path, func() (fs.File, error) {
			f, err := os.Open(path)
			return &writtenFile{f, func() {
				if write == nil {
					return
				}
				if err := write(); err != nil {
					t.Error(err)
				}
			}}, err
		})
		switch {
		case write == nil && (err != nil || string(data) != text):
			t.Errorf("a file that stays: %q, %v", data, err)
		case write != nil && (data != nil || err == nil || !strings.Contains(err.Error(), "log.csv") || !strings.Contains(err.Error(), "nobody writes")):
			t.Errorf("a file that %s: %q, %v; want it refused", name, data, err)
		}
	}
}
