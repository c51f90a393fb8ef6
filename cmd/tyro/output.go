package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"

	"tyro/reports"
	"tyro/reports/figure"
)

// show writes a document in the format asked for, to standard output or as
// files into a folder.
func (a app) show(d reports.Document, f commonFlags) error {
	d, err := f.of(d)
	if err != nil {
		return err
	}
	reports.Narrow(d)
	if f.outDir != "" {
		files, err := rendered(d)
		if err != nil {
			return err
		}
		return a.writeFiles(d.Head().Command, f.outDir, files)
	}
	var all spool // nothing is printed unless all of it can be
	defer all.discard()
	b := bufio.NewWriterSize(&all, 1<<16)
	switch f.format {
	case "json":
		err = reports.WriteJSON(b, d)
	case "csv":
		err = reports.WriteCSV(b, d)
	default:
		err = reports.WriteText(b, d)
		fmt.Fprintf(b, "\ntyro %s\n", provenance(d.Head()))
		for _, line := range d.Head().FilesRead {
			fmt.Fprintf(b, "read %s\n", reports.Printable(line))
		}
	}
	if err = errors.Join(err, b.Flush()); err != nil {
		return err
	}
	_, err = all.WriteTo(a.out)
	return err
}

// provenance says what made a result: the version, the seed, and the data where any
// were read.
func provenance(h *reports.Header) string {
	s := fmt.Sprintf("%s, seed %d (%s)", h.Version, h.Seed, h.Generator)
	if h.DataSHA256 == "" {
		return s + ", no data"
	}
	if h.Scoring != "" {
		s += ", scoring rule " + h.Scoring
	}
	return s + fmt.Sprintf(", data %.12s", h.DataSHA256)
}

// rendered is a document as files: JSON, text, one CSV a table, and what is
// attached to it.
func rendered(d reports.Document) (map[string][]byte, error) {
	files := map[string][]byte{}
	render := func(name string, write func(io.Writer) error) error {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			return err
		}
		files[name] = b.Bytes()
		return nil
	}
	command := d.Head().Command
	if err := render(command+".json", func(w io.Writer) error { return reports.WriteJSON(w, d) }); err != nil {
		return nil, err
	}
	if err := render(command+".txt", func(w io.Writer) error { return reports.WriteText(w, d) }); err != nil {
		return nil, err
	}
	for _, t := range d.Tables() {
		if err := render(t.Name+".csv", t.WriteCSV); err != nil {
			return nil, err
		}
	}
	more, err := figure.Files(d)
	if err != nil {
		return nil, err
	}
	maps.Copy(files, more)
	return files, nil
}

// writeFiles puts the files of one run into a folder: all or none.
func (a app) writeFiles(command, dir string, files map[string][]byte) error {
	return a.write(folderWrite{dir: dir, command: command, files: files})
}

func (a app) write(w folderWrite) error {
	n := len(w.files)
	w.reads = a.reads.Paths()
	left, err := w.run(a.ctx)
	if err != nil {
		return err
	}
	for _, name := range left {
		fmt.Fprintf(a.talk(), "left %s as it is: it is of an earlier run, and was changed since\n", reports.Printable(name))
	}
	fmt.Fprintf(a.talk(), "wrote %d files into %s\n", n, reports.Printable(w.dir))
	return nil
}
