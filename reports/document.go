// Package reports turns a study into documents: it runs the analyses on the
// study's series and shows the answers as text, CSV, JSON and HTML.
//
// A document is plain data with the keys that programs rely on; its Tables are
// the same numbers for people. Rounding happens here and nowhere else.
package reports

import (
	"fmt"
	"io"
	"strings"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
)

// Version is tyro's version, printed with every result.
const Version = "0.1.0"

// A Header opens every document.
type Header struct {
	Tool       string    `json:"tool"`
	Version    string    `json:"version"`
	Command    string    `json:"command"`
	Seed       uint64    `json:"seed"`
	Generator  string    `json:"generator"`
	DataSHA256 string    `json:"data_sha256"`
	Scoring    string    `json:"scoring_version,omitempty"` // of the rule that made the scores, where the measure is one
	Warnings   []Warning `json:"warnings"`
	FilesRead  []string  `json:"files_read,omitempty"` // a line for each file, of what was used of it

	CommandLine string         `json:"command_line"`    // without what never changes an answer
	Flags       map[string]any `json:"flags"`           // those given
	Shown       *Shown         `json:"shown,omitempty"` // nil: everything

	smallestCell int // of people that the study shows to others; 0 where not said
}

// A Warning is an analysis warning in machine output.
type Warning struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// A Document is the answer of one command.
type Document interface {
	Head() *Header
	Tables() []Table
}

// An Appended document has lines for people after its tables that are neither a
// table nor a note.
type Appended interface{ Appendix() string }

// Head lets documents embed a Header.
func (h *Header) Head() *Header { return h }

func (h *Header) Warn(code, text string) {
	for _, w := range h.Warnings {
		if w == (Warning{code, text}) {
			return
		}
	}
	h.Warnings = append(h.Warnings, Warning{code, text})
}

// headerOf opens a document about a study.
func headerOf(command string, s *study.Study) Header {
	h := Header{Tool: "tyro", Version: Version, Command: command, Seed: s.Options.Seed, Generator: resample.Generator, DataSHA256: s.SHA256, Warnings: []Warning{}}
	h.Scoring = ScoredBy(s)
	h.ask(s)
	h.smallestCell = s.SmallestCell
	for _, f := range s.Files {
		h.FilesRead = append(h.FilesRead, fileLine(f))
	}
	for _, n := range s.Notes {
		if n.Code != "read" {
			h.Warn(n.Code, n.Text)
		}
	}
	return h
}

// ScoredBy is the version of the rule that made the scores of which a study's answers are; blank
// where its measure is no score by a rule.
func ScoredBy(s *study.Study) string {
	if s.Task.Response == "score" {
		return s.Task.Scoring
	}
	return ""
}

// fileLine says in a line what was used of a file; the check says more.
func fileLine(f practice.FileRead) string {
	line := fmt.Sprintf("%s: %d of %d rows", f.File, f.RowsUsed, f.Rows)
	if len(f.ColumnsUnused) > 0 {
		line += fmt.Sprintf(", columns not used: %s", shortList(f.ColumnsUnused, 6))
	}
	if len(f.SheetsUnread) > 0 {
		line += fmt.Sprintf(", sheets not read: %s", shortList(f.SheetsUnread, 6))
	}
	return line
}

// shortList joins some of a list.
func shortList(list []string, most int) string {
	if len(list) <= most {
		return strings.Join(list, ", ")
	}
	return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
}

// With adds the warnings of an answer.
func (h *Header) With(ws []analysis.Warning) {
	for _, w := range ws {
		h.Warn(w.Code, w.Text)
	}
}

func warnings(ws []analysis.Warning) []Warning {
	out := []Warning{}
	for _, w := range ws {
		out = append(out, Warning{w.Code, w.Text})
	}
	return out
}

// WriteText writes a document for people: its tables, then its warnings. Nothing in it
// can act on a terminal.
func WriteText(w io.Writer, d Document) error {
	var b strings.Builder
	if err := writeParts(&b, d); err != nil {
		return err
	}
	_, err := io.WriteString(w, PrintableBut(b.String(), "\n"))
	return err
}

func writeParts(w io.Writer, d Document) error {
	for i, t := range d.Tables() {
		if i > 0 {
			io.WriteString(w, "\n")
		}
		if err := t.WriteText(w); err != nil {
			return err
		}
	}
	if a, ok := d.(Appended); ok {
		if _, err := io.WriteString(w, a.Appendix()); err != nil {
			return err
		}
	}
	for i, warning := range d.Head().Warnings {
		if i == 0 {
			io.WriteString(w, "\n")
		}
		if _, err := io.WriteString(w, Wrap("Note: "+warning.Text+".", 96)); err != nil {
			return err
		}
	}
	return nil
}

// WriteCSV writes a document's tables. The first, which the command is asked for,
// stands alone at the top; each further one comes after a blank line and a line with
// its name, as "# curves".
func WriteCSV(w io.Writer, d Document) error {
	for i, t := range d.Tables() {
		if i > 0 {
			if _, err := fmt.Fprintf(w, "\n# %s\n", Printable(t.Name)); err != nil {
				return err
			}
		}
		if err := t.WriteCSV(w); err != nil {
			return err
		}
	}
	return nil
}

// FigureLimit is the number of trainees above which no figure is drawn for each.
const FigureLimit = 200
