package paper

import (
	"bytes"
	"fmt"
	"strings"

	"tyro/reports"
	"tyro/reports/figure"
)

// longTable is the number of rows above which a table is left to its CSV file: nobody
// prints it.
const longTable = 400

// tables writes every table that people can read as DOCX, and all as CSV.
func (p *Paper) tables(files map[string][]byte) error {
	n := 0
	seen := map[string]bool{}
	for _, d := range p.documents() {
		for _, t := range d.Tables() {
			heads, _, rows := t.Spoken()
			if seen[t.Name] || t.Len() == 0 {
				continue
			}
			seen[t.Name] = true
			n++
			name := fmt.Sprintf("tables/table-%02d-%s", n, strings.ReplaceAll(t.Name, "_", "-"))
			var b bytes.Buffer
			if err := t.WriteCSV(&b); err != nil {
				return err
			}
			files[name+".csv"] = b.Bytes()
			if len(heads) == 0 || len(rows) > longTable {
				continue
			}
			data, err := tableFile(fmt.Sprintf("Table %d. %s", n, tableTitle(t)), t)
			if err != nil {
				return err
			}
			files[name+".docx"] = data
		}
	}
	return nil
}

// tableTitle is what a table is called.
func tableTitle(t reports.Table) string {
	if t.Title != "" {
		return reports.Spoken(t.Title)
	}
	return reports.Capital(strings.NewReplacer("_", " ", "-", " ").Replace(t.Name))
}

// legends say below each figure's number what it shows.
func legends(figures []figure.Picture) []byte {
	var b strings.Builder
	for i, f := range figures {
		fmt.Fprintf(&b, "Figure %d (%s). %s\n\n", i+1, f.Name, reports.Printable(sentence(f.Legend)))
	}
	return []byte(b.String())
}

// sentence ends a text as a sentence, with a capital letter before.
func sentence(text string) string {
	text = reports.Capital(strings.TrimSpace(text))
	if text != "" && !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}
