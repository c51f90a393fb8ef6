package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"tyro/reports"
)

//go:embed style.css
var style string

//go:embed director.gohtml
var directorText string

var directorTemplate = template.Must(template.New("director").Parse(directorText))

// Style is what all pages look like.
func (*director) Style() template.CSS { return template.CSS(style + colourMark) }

// The trainees on the printed page, which is one page, and the characters of the sentence
// that lists those who met the rule: what does not fit stands on the screen and in
// standings.csv.
const (
	mostPrintedRows = 12
	mostPrintedMet  = 700
)

// Printed is the number of rows on the printed page.
func (*director) Printed() int { return mostPrintedRows }

// MetLong reports whether too many met the rule for all of them to be printed.
func (d *director) MetLong() bool { return len(d.Who.Met) > mostPrintedMet }

// Left says where those are who are not on the printed page.
func (d *director) Left() string { return leftText(len(d.Who.Rows) - mostPrintedRows) }

func leftText(n int) string {
	return fmt.Sprintf("And %s more: see director.html or standings.csv.", reports.Count(n, "trainee"))
}

func (d *director) writeHTML(w io.Writer) error {
	var b strings.Builder
	if err := directorTemplate.Execute(&b, d); err != nil {
		return err
	}
	_, err := io.WriteString(w, reports.PrintableBut(dressed(b.String()), "\n\t"))
	return err
}
