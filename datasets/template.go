package datasets

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// templateRows is how many rows of an entry sheet are checked while they are typed.
const templateRows = 2000

// The sheets: the one that is filled in, and the one that says how, with the words of drop-downs.
const (
	entrySheet = "attempts"
	helpSheet  = "how to fill in"
)

// firstList is the column of the help sheet in which the first list of words stands.
const firstList = 4

// A templateColumn is a column of an entry sheet: what may be typed into it.
type templateColumn struct {
	name, help string
	list       []string // a drop-down; nil for none
	listAt     int      // column of the help sheet with the list
	kind       excelize.DataValidationType
	low, high  float64
	format     string
}

// Template is an XLSX workbook in which attempts at the study's tasks are written down: a
// sheet with the columns of the canonical log, whose cells take only what can be read, and
// one that says how to fill it in.
func (s *Study) Template() ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetSheetName("Sheet1", entrySheet); err != nil {
		return nil, err
	}
	columns := s.templateColumns()
	if err := s.templateHelp(f, columns); err != nil {
		return nil, err
	}
	for j, c := range columns {
		if err := addTemplateColumn(f, j+1, c); err != nil {
			return nil, err
		}
	}
	if err := f.SetPanes(entrySheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return nil, err
	}
	err := errors.Join(f.SetDocProps(&excelize.DocProperties{Creator: "tyro"}), f.SetAppProps(&excelize.AppProperties{Application: "tyro"}))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = f.Write(&b)
	return b.Bytes(), err
}

// templateColumns are those of the canonical log that the study uses.
func (s *Study) templateColumns() []templateColumn {
	out := []templateColumn{{name: "trainee", help: "the trainee's code, written the same way every time", format: "@"}}
	if len(s.Arms) > 0 {
		out = append(out, templateColumn{name: "arm", help: "the curriculum as assigned, the same in all rows of a trainee", list: s.Arms, format: "@"})
	}
	var tasks []string
	for _, t := range s.Tasks {
		tasks = append(tasks, t.Name)
	}
	if len(tasks) > 1 {
		out = append(out, templateColumn{name: "task", help: "the task practised", list: tasks, format: "@"})
	}
	out = append(out,
		templateColumn{name: "session", help: "number of the session, or blank", kind: excelize.DataValidationTypeWhole, low: 1, high: 10000},
		templateColumn{name: "date", help: "day of the attempt: year-month-day", kind: excelize.DataValidationTypeDate, low: 1, high: 2958465, format: "yyyy-mm-dd"},
		templateColumn{name: "attempt", help: "number of the attempt at the task, from 1, through all sessions", kind: excelize.DataValidationTypeWhole, low: 1, high: 1e5})
	for _, m := range s.measures() {
		out = append(out, s.templateMeasure(m))
	}
	out = append(out, templateColumn{name: "outcome", help: "done; timeout: stopped at the limit; failed: a hard fail; void: stopped for an outside reason", list: []string{Done.String(), Timeout.String(), Failed.String(), Void.String()}})
	for _, c := range s.Covariates {
		if s.TraineeFile == nil && !slices.ContainsFunc(out, func(o templateColumn) bool { return o.name == c.Name }) {
			out = append(out, templateColumn{name: c.Name, help: "of the trainee, the same in all rows of one"})
		}
	}
	if p := s.Privacy; p != nil && p.Consent != nil && p.Consent.Column != "" {
		help := "what the trainee agreed to: yes, or the purposes (" + strings.Join(purposes, ", ") + "); rows of others are left out"
		if len(p.Consent.Given) > 0 {
			help = "whether the trainee agreed: " + strings.Join(p.Consent.Given, " or ") + "; rows of others are left out"
		}
		out = append(out, templateColumn{name: p.Consent.Column, help: help, format: "@"})
	}
	at := firstList
	for i := range out {
		if out[i].list != nil {
			out[i].listAt = at
			at++
		}
	}
	return out
}

// templateMeasure is the column of a measure.
func (s *Study) templateMeasure(name string) templateColumn {
	r := logReader{study: s}
	kind, limit, _ := r.kindOf(name)
	c := templateColumn{name: name, kind: excelize.DataValidationTypeDecimal, low: -1e9, high: 1e9, help: "a number"}
	switch kind {
	case Time:
		c.low, c.high, c.help = 0.001, 1e9, "how long the attempt took, in seconds: 98.2, not 1:38"
		if limit > 0 {
			c.high = limit
			c.help += fmt.Sprintf("; at most the limit of %g", limit)
		}
	case Count:
		c.kind, c.low, c.high, c.help = excelize.DataValidationTypeWhole, 0, 1e6, "how many; 0 where there were none"
	case PassFail:
		c.kind, c.low, c.high, c.help = excelize.DataValidationTypeWhole, 0, 1, "1 for a pass, 0 for none"
	}
	return c
}

// addTemplateColumn writes a column's name, its format and what its cells take.
func addTemplateColumn(f *excelize.File, number int, c templateColumn) error {
	letter, err := excelize.ColumnNumberToName(number)
	if err != nil {
		return err
	}
	if err := f.SetCellStr(entrySheet, letter+"1", c.name); err != nil {
		return err
	}
	if c.format != "" {
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &c.format})
		if err == nil {
			err = f.SetCellStyle(entrySheet, letter+"2", fmt.Sprintf("%s%d", letter, templateRows+1), style)
		}
		if err != nil {
			return err
		}
	}
	if err := f.SetColWidth(entrySheet, letter, letter, float64(max(12, len(c.name)+2))); err != nil {
		return err
	}
	v := excelize.NewDataValidation(true)
	v.SetSqref(fmt.Sprintf("%s2:%s%d", letter, letter, templateRows+1))
	v.SetInput(c.name, clipTo(c.help, 250))
	v.SetError(excelize.DataValidationErrorStyleStop, c.name, clipTo("Expected: "+c.help, 250))
	switch {
	case c.list != nil: // in cells, where a word may hold commas and the list be long
		letter, err := excelize.ColumnNumberToName(c.listAt)
		if err != nil {
			return err
		}
		v.SetSqrefDropList(fmt.Sprintf("'%s'!$%s$2:$%[2]s$%d", helpSheet, letter, len(c.list)+1))
	case c.kind != 0:
		err = v.SetRange(c.low, c.high, c.kind, excelize.DataValidationOperatorBetween)
	default:
		return nil
	}
	if err != nil {
		return err
	}
	return f.AddDataValidation(entrySheet, v)
}

func clipTo(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most])
	}
	return s
}

// templateHelp writes the sheet that says how to fill in the other.
func (s *Study) templateHelp(f *excelize.File, columns []templateColumn) error {
	if _, err := f.NewSheet(helpSheet); err != nil {
		return err
	}
	rows := [][]any{{"column", "what belongs there"}}
	for _, c := range columns {
		help := c.help
		if c.list != nil {
			help += " (" + strings.Join(c.list, ", ") + ")"
		}
		rows = append(rows, []any{c.name, help})
	}
	rows = append(rows, []any{}, []any{"", "One row an attempt. Leave no means or totals in the sheet; write nothing beside or below the table."},
		[]any{"", "Then: attempts: {file: THIS FILE, sheet: " + entrySheet + "} in the study file."})
	for i, r := range rows {
		if err := f.SetSheetRow(helpSheet, fmt.Sprintf("A%d", i+1), &r); err != nil {
			return err
		}
	}
	for _, c := range columns {
		if c.list == nil {
			continue
		}
		for i, word := range append([]string{"words for " + c.name}, c.list...) {
			at, err := excelize.CoordinatesToCellName(c.listAt, i+1)
			if err == nil {
				err = f.SetCellStr(helpSheet, at, word)
			}
			if err != nil {
				return err
			}
		}
	}
	return f.SetColWidth(helpSheet, "B", "B", 90)
}
