package main

import (
	"errors"
	"fmt"
	"io"
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
	text spool
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
	defer o.text.discard()
	same, err := o.there()
	switch {
	case errors.Is(err, os.ErrNotExist):
		err = writeFileBy(a.ctx, o.path, func(w io.Writer) error { _, err := o.text.WriteTo(w); return err })
	case err == nil && !same, err != nil:
		err = fmt.Errorf("nothing was written: %s is there already, and is not this answer; move it away, or choose another name with --out", o.path)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(a.talk(), "wrote %s\n", reports.Printable(o.path))
	return nil
}

// there reports whether the file is there, with the same content.
func (o *oneFile) there() (bool, error) {
	f, err := os.Open(o.path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	return o.text.is(f)
}
