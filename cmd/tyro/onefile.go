package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tyro/reports"
)

// A oneFile catches what would go to standard output, for a file that appears whole or not
// at all.
type oneFile struct {
	path string // blank: there is none
	text bytes.Buffer
}

// fileFormats are the formats by how the names of files end.
var fileFormats = map[string]string{".txt": "text", ".json": "json", ".csv": "csv"}

// oneFile looks at whether --out names a file, which then says the format.
func (a app) oneFile(cmd *cobra.Command, f *mergeFlags) (*oneFile, error) {
	format, is := fileFormats[strings.ToLower(filepath.Ext(f.out))]
	if !is {
		return &oneFile{}, nil
	}
	one := &oneFile{path: f.out}
	if cmd.Flags().Changed("format") && f.format != format {
		return nil, usagef("--format %s --out %s: the name says %s", f.format, f.out, format)
	}
	f.format, f.out = format, ""
	return one, nil
}

// app is the program with its standard output caught.
func (o *oneFile) app(a app) app {
	if o.path != "" {
		a.out = &o.text
	}
	return a
}

// write puts the file into its place. One with other content is never written over.
func (o *oneFile) write(a app) error {
	if o.path == "" {
		return nil
	}
	old, err := os.ReadFile(o.path)
	if err == nil && !bytes.Equal(old, o.text.Bytes()) || err != nil && !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("nothing was written: %s is there already, and is not this answer; move it away, or choose another name with --out", o.path)
	}
	if err := writeFile(a.ctx, o.path, o.text.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(a.talk(), "wrote %s\n", reports.Printable(o.path))
	return nil
}
