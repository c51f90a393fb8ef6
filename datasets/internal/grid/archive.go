package grid

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"tyro/datasets/problem"
)

// An archive is a workbook's ZIP file, read within bounds.
type archive struct {
	file   string
	format string
	parts  map[string]*zip.File
	left   int64 // bytes that may still be unpacked
}

func openArchive(file, format string, data []byte) (*archive, error) {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, problem.Problem{File: file, Err: problem.ErrFormat, Expect: "a whole workbook; this file is damaged or was not copied to its end: get it anew"}
	}
	a := &archive{file: file, format: format, parts: map[string]*zip.File{}, left: MostBytes}
	for _, f := range r.File {
		a.parts[strings.TrimPrefix(f.Name, "/")] = f
	}
	return a, nil
}

// errTooBig is a part that unpacks to more than is read of one file.
var errTooBig = errors.New("too big")

// boundedReader ends with an error where an archive's bound is reached, or where a text
// within its XML is longer than any cell's.
type boundedReader struct {
	a   *archive
	r   io.Reader
	run int // bytes since the last element began
}

func (b *boundedReader) Read(p []byte) (int, error) {
	n, err := b.r.Read(p)
	if last := bytes.LastIndexByte(p[:n], '<'); last >= 0 {
		b.run = n - last
	} else {
		b.run += n
	}
	if b.a.left -= int64(n); b.a.left < 0 || b.run > 2*mostText {
		return 0, errTooBig
	}
	return n, err
}

// walk reads the XML of a part to its end, and gives every token to a function.
// A part that is missing is not read where it may be.
func (a *archive) walk(part string, may bool, see func(xml.Token) error) error {
	f := a.parts[part]
	if f == nil {
		if may {
			return nil
		}
		return a.damaged(part, errors.New("it is missing"))
	}
	r, err := f.Open()
	if err != nil {
		return a.damaged(part, err)
	}
	defer r.Close()
	d := xml.NewDecoder(&boundedReader{a: a, r: r})
	d.Entity = map[string]string{}
	for {
		t, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			if d.InputOffset() == 0 {
				return a.damaged(part, errors.New("it is empty"))
			}
			return nil
		}
		if err == nil {
			err = see(t)
		}
		switch {
		case errors.Is(err, errEnough):
			return nil
		case errors.As(err, new(problem.Problem)):
			return err
		case err != nil:
			return a.damaged(part, err)
		}
	}
}

// errEnough ends the reading of a part of which no more is wanted.
var errEnough = errors.New("enough")

// damaged says that a part of a workbook cannot be read to its end.
func (a *archive) damaged(part string, err error) error {
	switch {
	case errors.Is(err, errTooBig):
		return problem.Problem{File: a.file, Value: part, Err: problem.ErrFormat, Expect: fmt.Sprintf("a workbook that unpacks to at most %d million bytes, with cells of at most %d million characters", MostBytes>>20, mostText>>20)}
	case errors.As(err, new(*cancelled)):
		return err.(*cancelled).error
	}
	var syntax *xml.SyntaxError
	at := ""
	if errors.As(err, &syntax) {
		at = fmt.Sprintf(" (%s)", syntax.Msg)
	} else if err != nil {
		at = fmt.Sprintf(" (%v)", err)
	}
	return problem.Problem{File: a.file, Value: part, Err: problem.ErrFormat, Expect: "a whole " + a.format + " workbook; this part of it is damaged" + at + ": open it in a spreadsheet program and save it anew"}
}

// cancelled marks the end of the context within a part.
type cancelled struct{ error }

// nesting checks that every element is closed by its own end, and that nothing is open
// at the end: what a decoder of raw tokens leaves to its caller.
type nesting []xml.Name

func (n *nesting) see(t xml.Token) error {
	switch e := t.(type) {
	case xml.StartElement:
		if *n = append(*n, e.Name); len(*n) > 200 {
			return errors.New("elements within elements without end")
		}
	case xml.EndElement:
		if len(*n) == 0 || (*n)[len(*n)-1] != e.Name {
			return fmt.Errorf("an element %s is closed that was not opened", e.Name.Local)
		}
		*n = (*n)[:len(*n)-1]
	}
	return nil
}

func (n nesting) closed() error {
	if len(n) > 0 {
		return errors.New("it ends in the middle")
	}
	return nil
}

// attribute is an attribute of an element; blank where it has none.
func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
