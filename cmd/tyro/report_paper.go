package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/page"
	"tyro/reports/paper"
)

// paperFlags ask for the bundle of a journal.
type paperFlags struct {
	dir   string
	width int
}

func (f *paperFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.dir, "paper", "", "also write into this `folder` what a journal asks for: figures as PDF, EPS, SVG and PNG, tables as DOCX and CSV, methods and results, references, checklists, and a script that runs it again")
	fs.IntVar(&f.width, "width", paper.TwoColumns, "with --paper: width of figures in millimetres, 85 (one column) or 175 (two)")
}

// check looks at the flags beside the others.
func (f *paperFlags) check(cmd *cobra.Command) error {
	switch {
	case f.dir == "" && cmd.Flags().Changed("width"):
		return usagef("--width goes with --paper")
	case f.width != paper.OneColumn && f.width != paper.TwoColumns:
		return usagef("--width %d: expected %d or %d millimetres", f.width, paper.OneColumn, paper.TwoColumns)
	}
	return nil
}

// paper writes the bundle from a report that was run; nothing where none is asked for.
func (a app) paper(s *study.Study, r *page.Report, f paperFlags) error {
	if f.dir == "" {
		return nil
	}
	p := paperOf(s, r, f)
	var err error
	if p.Hashes, err = filesHashed(a.reads.Paths()); err != nil {
		return err
	}
	files, err := p.Files()
	if err != nil {
		return err
	}
	if err := a.write(folderWrite{dir: f.dir, command: "paper", files: files}); err != nil {
		return err
	}
	fmt.Fprintf(a.talk(), "%s shows single trainees under the names that the study has for them; before it is given away, code the study (check --pseudonyms) and run this on what that writes\n", reports.Printable(f.dir))
	return nil
}

// paperOf is the paper of a report that was run.
func paperOf(s *study.Study, r *page.Report, f paperFlags) paper.Paper {
	p := paper.Paper{
		Study: s, Check: r.Check, Curves: r.Curves, Standard: r.Standard, Proficiency: r.Proficiency, Quota: r.Quota, Ways: r.Ways,
		Cohort: r.Cohort, Comparison: r.Comparison, Retention: r.Retention, Agreement: r.Agreement,
		Build: reports.ThisBuild(), Width: f.width,
		Command: fmt.Sprintf("%s --out rerun/report --paper rerun/paper --width %d", s.Options.Request.CommandLine, f.width),
	}
	if r.Watch != nil {
		p.Monitor = r.Watch.Monitor
	}
	if part := r.Part(); part != r {
		shown := paperOf(s, part, f)
		p.Part = &shown
	}
	return p
}

// filesHashed are the SHA-256 of files, named from the folder in which the program runs where
// they lie below it.
func filesHashed(paths []string) ([]paper.File, error) {
	here, err := os.Getwd()
	if err != nil {
		here = ""
	}
	var out []paper.File
	seen := map[string]bool{}
	for _, path := range paths {
		if seen[path] {
			continue
		}
		seen[path] = true
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		if rel, err := filepath.Rel(here, path); err == nil && !strings.HasPrefix(rel, "..") {
			path = rel
		}
		sum := sha256.Sum256(data)
		out = append(out, paper.File{Name: path, SHA256: hex.EncodeToString(sum[:])})
	}
	return out, nil
}
