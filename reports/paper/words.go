package paper

import (
	"bytes"
	"fmt"
	"strings"

	"tyro/reports"
)

// Methods and Results are the paragraphs, below their headings.
func (p *Paper) Methods() string { return string(plainText(p.methods())) }

// Results see [Paper.Methods].
func (p *Paper) Results() string { return string(plainText(p.results())) }

// words writes methods and results, as text and for a word processor, and the references
// that the methods name.
func (p *Paper) words(files map[string][]byte) error {
	methods, results := p.methods(), p.results()
	var all []string
	for _, s := range methods {
		all = append(all, s.text())
	}
	refs := cited(strings.Join(all, " "), p)
	files["methods.txt"], files["results.txt"] = plainText(methods), plainText(results)
	files["references.bib"], files["references.ris"] = bibTeX(refs), ris(refs)
	var d document
	for _, part := range []struct {
		title    string
		sections []section
	}{{"Methods", methods}, {"Results", results}} {
		d.paragraph(part.title, titleSize, true)
		for _, s := range part.sections {
			d.paragraph(s.title, textSize, true)
			d.paragraph(s.text(), textSize, false)
		}
	}
	if len(refs) > 0 {
		d.paragraph("References", titleSize, true)
		for _, r := range refs {
			d.paragraph(r.text(), textSize, false)
		}
	}
	data, err := d.bytes(false)
	files["methods-and-results.docx"] = data
	return err
}

// plainText is a paragraph a section, below its heading.
func plainText(sections []section) []byte {
	var b strings.Builder
	for _, s := range sections {
		fmt.Fprintf(&b, "%s\n%s\n", s.title, reports.Wrap(s.text(), 96))
	}
	return []byte(reports.PrintableBut(strings.ReplaceAll(b.String(), "\n  ", "\n"), "\n"))
}

// An asked is one thing that a paper should say.
type asked struct {
	number            int
	topic, asks, text string
}

// forAuthors marks what only the authors can write.
const forAuthors = "[for the authors to write]"

// checklists writes the reporting checklists, filled where the data tell; what only the
// authors know is marked.
func (p *Paper) checklists(files map[string][]byte) error {
	if d := p.Agreement; d != nil {
		var rows []asked
		for _, c := range d.Checklist {
			rows = append(rows, asked{c.Number, c.Topic, c.Asks, c.Text})
		}
		if err := checklist(files, "agreement", "What a paper on agreement should say, with what the data tell", rows); err != nil {
			return err
		}
	}
	if d := p.Comparison; d != nil {
		var rows []asked
		for _, c := range d.Checklist {
			rows = append(rows, asked{c.Number, c.Topic, c.Asks, c.Text})
		}
		return checklist(files, "trial", "What a paper on this comparison should say, with what the data tell", rows)
	}
	return nil
}

// checklist is one of them, as DOCX and CSV.
func checklist(files map[string][]byte, name, title string, rows []asked) error {
	t := reports.Table{Name: name, Columns: []reports.Column{
		reports.Counts("number", "no.", rows, func(a asked) int { return a.number }),
		reports.Words("topic", "topic", rows, func(a asked) string { return a.topic }),
		reports.Words("asks", "should say", rows, func(a asked) string { return a.asks }),
		reports.Words("text", "from the data", rows, func(a asked) string {
			if text := strings.TrimSpace(a.text); text == "" || strings.HasSuffix(text, ":") {
				return strings.TrimSpace(text + " " + forAuthors)
			}
			return a.text
		}),
	}}
	data, err := tableFile(title, t)
	if err != nil {
		return err
	}
	files["checklists/"+name+".docx"] = data
	var b bytes.Buffer
	err = t.WriteCSV(&b)
	files["checklists/"+name+".csv"] = b.Bytes()
	return err
}
