// Package demo is the bundled demo study: invented trainees in two curricula
// who practise ultrasound-guided vein cannulation on a gel phantom. No row of
// it was observed; the truth behind it is in files/truth.md.
package demo

import (
	"embed"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"
)

//go:embed files
var files embed.FS

// Names lists the files of the study.
func Names() []string {
	return []string{"study.yaml", "attempts.csv", "experts.csv", "ratings.csv", "truth.md"}
}

// Write puts the study's files into a folder, making it when needed.
func Write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, name := range Names() {
		data, err := fs.ReadFile(files, "files/"+name)
		if err != nil {
			return err
		}
		if err := renameio.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
