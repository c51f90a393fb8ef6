package main

import (
	"strings"

	"github.com/spf13/cobra"

	"tyro/datasets"
)

// tableFlags say how any table is laid out and written, where the table leaves that open:
// what a study file says with the keys of the same names.
type tableFlags struct {
	layout               datasets.Layout
	where, without, same []string
}

func (f *tableFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.layout.Sheet, "sheet", "", "`sheet` of a workbook to read, by name or number")
	fs.StringVar(&f.layout.SheetsAre, "sheets-are", "", "read all sheets with the columns named; each is a trainee, session, arm or task")
	fs.IntVar(&f.layout.HeadRows, "head-rows", 0, "rows that hold column names (default: found)")
	fs.IntVar(&f.layout.SkipRows, "skip-rows", 0, "lines above the column names that are not read (default: found)")
	fs.BoolVar(&f.layout.Transposed, "transposed", false, "the column names stand below each other in the first column")
	fs.StringVar(&f.layout.Encoding, "encoding", "", "how a text file is encoded, such as windows-1250, windows-1251, shift_jis or gb18030 (default: UTF-8, UTF-16 and Windows-1252 are found)")
	fs.StringVar(&f.layout.Separator, "separator", "", "what stands between cells: comma, semicolon, tab, bar or space (default: found)")
	fs.StringVar(&f.layout.Decimal, "decimal", "", "decimal mark: point or comma, or either where rows differ (default: found)")
	fs.StringArrayVar(&f.where, "where", nil, "only rows with this text in a column: COLUMN=TEXT; may be repeated")
	fs.StringArrayVar(&f.without, "without", nil, "no rows with this text in a column: COLUMN=TEXT; may be repeated")
	fs.StringArrayVar(&f.same, "same", nil, "a spelling and the code that is meant: T01=T1; may be repeated")
	fs.StringArrayVar(&f.layout.Ignore, "ignore", nil, "`column` that is not looked at; may be repeated")
	fs.StringArrayVar(&f.layout.FillDown, "fill-down", nil, "`column` whose blank cells repeat the cell above; may be repeated")
}

// settle turns the flags into what a study file would say.
func (f *tableFlags) settle() (l datasets.Layout, err error) {
	l = f.layout
	if l.Where, err = paired("where", f.where); err != nil {
		return l, err
	}
	for _, pair := range f.without {
		one, err := paired("without", []string{pair})
		if err != nil {
			return l, err
		}
		if l.Without == nil {
			l.Without = map[string][]string{}
		}
		for column, text := range one {
			l.Without[column] = append(l.Without[column], text)
		}
	}
	l.Same, err = paired("same", f.same)
	return l, err
}

// layoutFlags say it of a log of attempts.
type layoutFlags struct {
	tableFlags
	log             datasets.LogFile
	codes, prefixes []string
}

func (f *layoutFlags) register(cmd *cobra.Command) {
	f.tableFlags.register(cmd)
	fs := cmd.Flags()
	fs.StringVar(&f.log.ColumnsAre, "columns-are", "", "trainee: the table has one column a trainee, and one row an attempt")
	fs.StringVar(&f.log.Times, "times", "", "how times are written: seconds, minutes, hours, days, milliseconds, m.ss, m:ss, h:mm:ss or m:ss:hh with hundredths (default: found)")
	fs.StringVar(&f.log.UnitSuffix, "unit-suffix", "", "what follows the numbers of the measure, such as sec.")
	fs.StringVar(&f.log.Dates, "dates", "", "whether dates such as 03/04/2026 are day-first or month-first, or 26-03-04 year-first (default: found); days-from-1900 or days-from-1904 where a text file counts days")
	fs.BoolVar(&f.log.FromZero, "counted-from-zero", false, "attempts are numbered 0, 1, 2: 0 is the first")
	fs.StringVar(&f.log.OverLimit, "over-limit", "", "timeout: times far above the limit are of attempts that were stopped late")
	fs.StringArrayVar(&f.codes, "code", nil, "what a word in a cell means: WORD=done, timeout, failed, void, blank (no value) or value (a number like others); may be repeated")
	fs.StringArrayVar(&f.prefixes, "heads", nil, "what numbered columns hold: PREFIX=MEASURE, such as T=seconds for T1, T2; may be repeated")
}

// layoutFlagNames are the flags that layoutFlags registers.
func layoutFlagNames() []string {
	return registered(func(c *cobra.Command) { new(layoutFlags).register(c) })
}

// tableFlagNames are those that tableFlags registers.
func tableFlagNames() []string {
	return registered(func(c *cobra.Command) { new(tableFlags).register(c) })
}

// settle turns the flags into what a study file would say.
func (f *layoutFlags) settle() (datasets.LogFile, map[string]string, error) {
	lf := f.log
	var err error
	if lf.Layout, err = f.tableFlags.settle(); err != nil {
		return lf, nil, err
	}
	if lf.Wide, err = paired("heads", f.prefixes); err != nil {
		return lf, nil, err
	}
	codes, err := paired("code", f.codes)
	if err != nil {
		return lf, nil, err
	}
	for word, means := range codes {
		if err := datasets.CheckCode(word, means); err != nil {
			return lf, nil, usagef("--code %s=%s: expected done, timeout, failed, void, blank or value", word, means)
		}
	}
	return lf, codes, nil
}

// paired reads the NAME=VALUE of a flag; nil for none.
func paired(flag string, pairs []string) (map[string]string, error) {
	var out map[string]string
	for _, pair := range pairs {
		i := strings.LastIndex(pair, "=")
		if i < 1 {
			return nil, usagef("--%s %q: expected NAME=VALUE", flag, pair)
		}
		if out == nil {
			out = map[string]string{}
		}
		out[strings.TrimSpace(pair[:i])] = strings.TrimSpace(pair[i+1:])
	}
	return out, nil
}
