// Package paper makes of one study's documents what a journal asks for: figures in the
// formats of printers, tables for a word processor, paragraphs of methods and results
// composed from what was really run, references, reporting checklists, and a script that
// runs it again. It computes nothing.
package paper

import (
	"errors"
	"fmt"
	"maps"
	"runtime"
	"sync"

	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// The widths that figures can have, in millimetres: one column of a page, and two.
const (
	OneColumn  = 85
	TwoColumns = 175
)

// A Paper is what was answered of one study. Documents that were not made are nil.
type Paper struct {
	Study       *study.Study
	Check       *reports.Check
	Curves      *reports.Curves
	Standard    *reports.Standard
	Proficiency *reports.Proficiency
	Quota       *reports.Quota
	Ways        *reports.WaysToStop
	Cohort      *reports.Cohort
	Comparison  *reports.Comparison
	Retention   *reports.Retention
	Monitor     *reports.Monitor
	Agreement   *reports.Agreement

	Part *Paper // what is drawn and tabulated, where that is a part; nil for all of it

	Build   reports.Build
	Width   int    // of figures, in millimetres; 0 means TwoColumns
	Command string // that runs it again, with the words that a shell reads
	Hashes  []File // of the data read; names as the command line finds them
}

// A File is a data file with the SHA-256 of what it held.
type File struct{ Name, SHA256 string }

// documents are those to draw and to tabulate, in the order of a paper.
func (p *Paper) documents() []reports.Document {
	if p.Part != nil {
		return p.Part.documents()
	}
	var out []reports.Document
	add := func(made bool, d reports.Document) {
		if made {
			out = append(out, d)
		}
	}
	add(p.Check != nil, p.Check)
	add(p.Standard != nil, p.Standard)
	add(p.Curves != nil, p.Curves)
	add(p.Proficiency != nil, p.Proficiency)
	add(p.Quota != nil, p.Quota)
	add(p.Ways != nil, p.Ways)
	add(p.Cohort != nil, p.Cohort)
	add(p.Comparison != nil, p.Comparison)
	add(p.Retention != nil, p.Retention)
	add(p.Monitor != nil, p.Monitor)
	add(p.Agreement != nil, p.Agreement)
	return out
}

// Files are the whole bundle by name, with slashes for folders.
func (p *Paper) Files() (map[string][]byte, error) {
	width := p.Width
	if width == 0 {
		width = TwoColumns
	}
	figures, err := p.figures(millimetres(width))
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	if err := drawAll(files, figures); err != nil {
		return nil, err
	}
	files["figures/legends.txt"] = legends(figures)
	if err := p.tables(files); err != nil {
		return nil, err
	}
	if err := p.checklists(files); err != nil {
		return nil, err
	}
	if err := p.words(files); err != nil {
		return nil, err
	}
	files["rerun.sh"] = p.script()
	return files, nil
}

// figures are those of all documents, numbered.
func (p *Paper) figures(width float64) ([]figure.Picture, error) {
	var out []figure.Picture
	for _, d := range p.documents() {
		more, err := figure.ForPrint(d, width)
		if err != nil {
			return nil, err
		}
		out = append(out, more...)
	}
	for i := range out {
		out[i].Name = fmt.Sprintf("figure-%02d-%s", i+1, out[i].Name)
	}
	return out, nil
}

// drawAll draws every figure in every format, some at a time.
func drawAll(files map[string][]byte, figures []figure.Picture) error {
	var (
		group sync.WaitGroup
		lock  sync.Mutex
		wrong []error
	)
	places := make(chan struct{}, runtime.GOMAXPROCS(0))
	for _, pic := range figures {
		group.Go(func() {
			places <- struct{}{}
			defer func() { <-places }()
			drawn, err := drawOne(pic)
			lock.Lock()
			defer lock.Unlock()
			maps.Copy(files, drawn)
			wrong = append(wrong, err)
		})
	}
	group.Wait()
	return errors.Join(wrong...)
}

// drawOne draws a figure in every format.
func drawOne(pic figure.Picture) (map[string][]byte, error) {
	out := map[string][]byte{}
	for _, f := range formats {
		data, err := f.draw(pic)
		if err != nil {
			return nil, fmt.Errorf("%s%s: %w", pic.Name, f.ending, err)
		}
		out["figures/"+pic.Name+f.ending] = data
	}
	return out, nil
}
