package demo

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the demo study's files from the generator")

// The embedded files are what the generator makes, so the truth table beside
// them is the truth behind them.
func TestFilesAreGenerated(t *testing.T) {
	for name, want := range generate() {
		path := filepath.Join("files", name)
		if *update {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := files.ReadFile("files/" + name)
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s differs from what the generator makes; run with -update, then again (%v)", name, err)
		}
	}
}
