// Package demo is the bundled demo study: invented trainees in two curricula
// who practise ultrasound-guided vein cannulation on a gel phantom. No row of
// it was observed; the truth behind it is in files/truth.md.
package demo

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

//go:embed files
var files embed.FS

// Names lists the files of the study.
func Names() []string {
	return []string{"study.yaml", "attempts.csv", "experts.csv", "ratings.csv", "truth.md"}
}

// Files are the study's files by name.
func Files() (map[string][]byte, error) {
	out := map[string][]byte{}
	for _, name := range Names() {
		data, err := fs.ReadFile(files, "files/"+name)
		if err != nil {
			return nil, err
		}
		out[name] = data
	}
	return out, nil
}

// Write puts the study's files into a folder, making it when needed. Where one of them
// is there already and differs nothing is written.
func Write(dir string) error {
	study, err := Files()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(study)) {
		data := study[name]
		path := filepath.Join(dir, name)
		there, err := os.ReadFile(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return err
		case !bytes.Equal(there, data):
			return fmt.Errorf("%s differs from the demo study's and stays as it is", path)
		default:
			delete(study, name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(study)) {
		if err := create(filepath.Join(dir, name), study[name]); err != nil {
			return err
		}
	}
	return nil
}

// create writes a file that is not there yet.
func create(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}
