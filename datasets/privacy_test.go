package datasets

import (
	"archive/zip"
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
)

// zipped is an archive of these parts.
func zipped(t *testing.T, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		f, err := w.Create(name)
		if err == nil {
			_, err = f.Write([]byte(parts[name]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The key is readable by its owner alone, gives the same codes when it is read again, and
// is refused where others can read it.
func TestKey(t *testing.T) {
	path := filepath.Join(t.TempDir(), "key.csv")
	k, err := OpenKey(path)
	if err != nil {
		t.Fatal(err)
	}
	codes := map[string]string{}
	for _, name := range []string{"Quill", "=1+1", "Brandt", "Quill"} {
		c, err := k.of("trainee", name)
		if err != nil {
			t.Fatal(err)
		}
		if before, seen := codes[name]; seen && before != c {
			t.Errorf("%s is %s and %s", name, before, c)
		}
		codes[name] = c
	}
	if len(codes) != 3 || codes["Quill"] == codes["Brandt"] {
		t.Errorf("codes %v", codes)
	}
	if err := k.Write(path); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); runtime.GOOS != "windows" && (err != nil || info.Mode().Perm() != 0o600) {
		t.Errorf("the key has the mode %v (%v)", info.Mode(), err)
	}
	second, err := OpenKey(path)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range codes {
		if got, _ := second.of("trainee", name); got != want {
			t.Errorf("%s was %s and is %s", name, want, got)
		}
	}
	second.Forget("Quill")
	if got, _ := second.of("trainee", "Quill"); got == codes["Quill"] {
		t.Error("a code outlives its owner's withdrawal")
	}
	if runtime.GOOS == "windows" {
		return
	}
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenKey(path); err == nil {
		t.Error("a key that others can read is used")
	}
}
