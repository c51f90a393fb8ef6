package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// A book is a workbook being made.
type book struct{ *excelize.File }

func newBook() book { return book{excelize.NewFile()} }

// rows puts rows into a sheet, from the first.
func (b book) rows(sheet string, rows ...[]any) book {
	if i, _ := b.GetSheetIndex(sheet); i < 0 {
		_, err := b.NewSheet(sheet)
		check(err)
	}
	for i, r := range rows {
		check(b.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &r))
	}
	return b
}

// format gives an area a number format.
func (b book) format(area, code string) book {
	style, err := b.NewStyle(&excelize.Style{CustomNumFmt: &code})
	check(err)
	from, to, _ := strings.Cut(area, ":")
	check(b.SetCellStyle("Sheet1", from, to, style))
	return b
}

func (b book) bytes() []byte {
	var out bytes.Buffer
	check(b.Write(&out))
	return out.Bytes()
}

type row = []any

// inDay is a time in seconds as a spreadsheet holds it: a part of a day.
func inDay(seconds float64) float64 { return seconds / 86400 }

// edited is a workbook whose part was changed.
func edited(data []byte, part string, change func(string) string) []byte {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	check(err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range r.File {
		in, err := f.Open()
		check(err)
		text, err := io.ReadAll(in)
		check(err)
		if f.Name == part {
			text = []byte(change(string(text)))
		}
		to, err := w.Create(f.Name)
		check(err)
		_, err = to.Write(text)
		check(err)
	}
	check(w.Close())
	return out.Bytes()
}

const sheetPart = "xl/worksheets/sheet1.xml"

func replaced(old, new string) func(string) string {
	return func(s string) string {
		if !strings.Contains(s, old) {
			panic("no " + old)
		}
		return strings.Replace(s, old, new, 1)
	}
}

var usualHead = row{"trainee", "attempt", "seconds"}

// workbooks are XLSX files.
func workbooks() {
	plain := func() book {
		return newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}, row{"T1", 4, 87.5},
			row{"T2", 1, 155.5}, row{"T2", 2, 140}, row{"T2", 3, 119.75}, row{"T2", 4, 101})
	}
	spans := func() book {
		return newBook().rows("Sheet1", usualHead, row{"T1", 1, inDay(138.4)}, row{"T1", 2, inDay(121)}, row{"T1", 3, inDay(98.25)})
	}
	spanTruth := "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done"
	add("plain.xlsx", usual, plain().bytes(), base)
	add("span-minutes.xlsx", usual, spans().format("C2:C4", "[m]:ss.00").bytes(), spanTruth)
	add("span-clock.xlsx", usual, spans().format("C2:C4", "mm:ss.0").bytes(), spanTruth)
	add("span-hours.xlsx", usual, spans().format("C2:C4", "[h]:mm:ss").bytes(), spanTruth)
	add("span-time.xlsx", usual, spans().format("C2:C4", "h:mm:ss").bytes(), spanTruth)
	add("span-seconds.xlsx", usual, spans().format("C2:C4", "[s].00").bytes(), spanTruth)
	add("span-one-among-numbers.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", 1, inDay(138.4)}, row{"T1", 2, 121}, row{"T1", 3, "1:30"}).format("C2:C2", "[m]:ss.0").bytes(), "T1 1 138.4 done; T1 2 121 done; T1 3 90 done")
	refuse("span-as-score.xlsx", "--trainee trainee --attempt attempt --response seconds --measure score", spans().format("C2:C4", "[m]:ss").bytes(), "--measure time")
	refuse("span-general.xlsx", usual, spans().bytes(), "parts of a day")
	hours := func() book {
		return newBook().rows("Sheet1", usualHead, row{"T1", 1, inDay(5400)}, row{"T1", 2, inDay(4860)}, row{"T1", 3, inDay(3480)}).format("C2:C4", "h:mm")
	}
	warn("hours-typed.xlsx", usual, hours().bytes(), "hours-as-minutes", "T1 1 90 done; T1 2 81 done; T1 3 58 done")
	refuse("hours-unsure.xlsx", noLimit, hours().bytes(), "--times m:ss")
	add("hours-said.xlsx", noLimit+" --times m:ss", hours().bytes(), "T1 1 90 done; T1 2 81 done; T1 3 58 done")
	add("hours-meant.xlsx", noLimit+" --times h:mm:ss", hours().bytes(), "T1 1 5400 done; T1 2 4860 done; T1 3 3480 done")
	refuse("time-of-day.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", 1, inDay(33240)}, row{"T1", 2, inDay(34000)}).format("C2:C3", "h:mm AM/PM").bytes(), "a time of day")
	refuse("date-with-time.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", 1, 46055 + inDay(90)}, row{"T1", 2, 46055 + inDay(81)}).format("C2:C3", "h:mm:ss").bytes(), "the cell holds a date")
	refuse("date-as-time.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", 1, 46055}, row{"T1", 2, 98}).format("C2:C2", "yyyy-mm-dd").bytes(), "the cell holds a date")
	score := "--trainee trainee --attempt attempt --response seconds --measure score"
	warn("percent.xlsx", score, newBook().rows("Sheet1", usualHead, row{"T1", 1, 0.85}, row{"T1", 2, 0.9}).format("C2:C3", "0%").bytes(), "percentages", "T1 1 85 done; T1 2 90 done")
	refuse("percent-mixed.xlsx", score, newBook().rows("Sheet1", usualHead, row{"T1", 1, 0.85}, row{"T1", 2, 90}).format("C2:C2", "0.0%").bytes(), "one kind of number")
	add("codes-format.xlsx", usual, newBook().rows("Sheet1", usualHead, row{7, 1, 138.4}, row{12, 1, 121}).format("A2:A3", "000").bytes(), "007 1 138.4 done; 012 1 121 done")
	add("codes-letter.xlsx", usual, newBook().rows("Sheet1", usualHead, row{7, 1, 138.4}, row{12, 1, 121}).format("A2:A3", `"T"00`).bytes(), "T07 1 138.4 done; T12 1 121 done")
	add("codes-text.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"007", 1, 138.4}, row{"008", 1, 121}).bytes(), "007 1 138.4 done; 008 1 121 done")
	add("codes-number.xlsx", usual, newBook().rows("Sheet1", usualHead, row{7, 1, 138.4}, row{12, 1, 121}).bytes(), "7 1 138.4 done; 12 1 121 done")
	warn("codes-both.xlsx", usual, newBook().rows("Sheet1", usualHead, row{7, 1, 138.4}, row{"07", 1, 121}).bytes(), "similar-codes", "7 1 138.4 done; 07 1 121 done")
	add("units-format.xlsx", usual, plain().format("C2:C9", `0.0" s"`).bytes(), base)
	add("text-numbers.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", "1", "138,4"}, row{"T1", "2", "121"}, row{"T1", "3", "98,25"}).bytes(), spanTruth)
	uncounted := plain()
	check(uncounted.SetCellFormula("Sheet1", "C3", "C2-17.4"))
	refuse("formula-never.xlsx", usual, edited(uncounted.bytes(), sheetPart, replaced("<f>C2-17.4</f><v>121</v>", "<f>C2-17.4</f>")), "never calculated")
	refuse("formula-empty-value.xlsx", usual, edited(uncounted.bytes(), sheetPart, replaced(` t="str"><f>C2-17.4</f><v>121</v>`, "><f>C2-17.4</f><v></v>")), "never calculated")
	add("formula.xlsx", usual, uncounted.bytes(), base)
	wideNever := newBook().rows("Sheet1", row{"trainee", "A1", "A2"}, row{"T1", 138.4, 121}, row{"T2", 155.5, 140})
	check(wideNever.SetCellFormula("Sheet1", "C3", "B3-15.5"))
	refuse("formula-never-wide.xlsx", "--trainee trainee --response seconds --measure time --limit 300", edited(wideNever.bytes(), sheetPart, replaced("<v>140</v>", "")), "never calculated")
	refuse("formula-error.xlsx", usual, edited(plain().bytes(), sheetPart, replaced(`<c r="C3"><v>121</v></c>`, `<c r="C3" t="e"><f>1/0</f><v>#DIV/0!</v></c>`)), "gives an error")
	hidden := plain()
	check(hidden.SetRowVisible("Sheet1", 4, false))
	warn("hidden-row.xlsx", usual, hidden.bytes(), "hidden-rows", base)
	hiddenColumn := plain()
	check(hiddenColumn.SetColVisible("Sheet1", "B", false))
	warn("hidden-column.xlsx", usual, hiddenColumn.bytes(), "hidden-columns", base)
	warn("other-sheet.xlsx", usual, plain().rows("Notes", row{"Timer", "two examiners"}).bytes(), "sheets-unread", base)
	second := newBook().rows("Sheet1", row{"Cannulation study"}, row{"Timer: two examiners"}).rows("Data", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121})
	warn("second-sheet.xlsx", usual, second.bytes(), "sheets-unread", "T1 1 138.4 done; T1 2 121 done")
	two := func() book {
		b := newBook().rows("T1", row{"attempt", "seconds"}, row{1, 138.4}, row{2, 121}).rows("T2", row{"attempt", "seconds"}, row{1, 155.5}, row{2, 140})
		check(b.DeleteSheet("Sheet1"))
		return b
	}
	sheetFlags := "--attempt attempt --response seconds --measure time --limit 300"
	refuse("sheet-a-trainee.xlsx", sheetFlags, two().bytes(), "--sheets-are trainee|session|arm|task")
	add("sheet-a-trainee-said.xlsx", sheetFlags+" --sheets-are trainee", two().bytes(), "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("sheet-chosen.xlsx", sheetFlags+" --sheet T2", two().bytes(), "sheets-unread", " 1 155.5 done;  2 140 done")
	days := newBook().rows("Day 1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}).rows("Day 2", usualHead, row{"T1", 1, 98.25}, row{"T1", 2, 87.5})
	check(days.DeleteSheet("Sheet1"))
	warn("sheet-a-session.xlsx", usual+" --sheets-are session", days.bytes(), "numbered-through-sessions", "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T1 4 87.5 done")
	secret := plain().rows("Old", usualHead, row{"T9", 1, 55})
	check(secret.SetSheetVisible("Old", false))
	warn("hidden-sheet.xlsx", usual, secret.bytes(), "sheets-unread", base)
	merged := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{nil, 2, 121}, row{"T2", 1, 155.5}, row{nil, 2, 140})
	check(merged.MergeCell("Sheet1", "A2", "A3"))
	check(merged.MergeCell("Sheet1", "A4", "A5"))
	warn("merged-codes.xlsx", usual, merged.bytes(), "merged-cells", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	heads := newBook().rows("Sheet1", row{"id", "Attempt 1", nil, "Attempt 2", nil}, row{nil, "time", "errors", "time", "errors"}, row{"T1", 138.4, 2, 121, 1}, row{"T2", 155.5, 0, 140, 3})
	check(heads.MergeCell("Sheet1", "A1", "A2"))
	check(heads.MergeCell("Sheet1", "B1", "C1"))
	check(heads.MergeCell("Sheet1", "D1", "E1"))
	warn("merged-heads.xlsx", "--trainee id --response time --measure time --limit 300", heads.bytes(), "numbered-columns-unused", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	title := newBook().rows("Sheet1", row{"Cannulation on a gel phantom"}, row{}, usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{}, row{"Times by two examiners"})
	warn("title.xlsx", usual, title.bytes(), "title-lines", "T1 1 138.4 done; T1 2 121 done")
	aside := newBook().rows("Sheet1")
	for i, r := range []row{usualHead, {"T1", 1, 138.4}, {"T1", 2, 121}} {
		check(aside.SetSheetRow("Sheet1", fmt.Sprintf("C%d", i+4), &r))
	}
	add("table-aside.xlsx", usual, aside.bytes(), "T1 1 138.4 done; T1 2 121 done")
	dated := func() book {
		return newBook().rows("Sheet1", row{"trainee", "date", "attempt", "seconds"}, row{"T1", time.Date(2026, 2, 2, 0, 0, 0, 0, time.UTC), 1, 138.4}, row{"T1", time.Date(2026, 2, 9, 0, 0, 0, 0, time.UTC), 2, 121})
	}
	add("dates.xlsx", usual+" --date date", dated().bytes(), "T1 1 138.4 done; T1 2 121 done")
	refuse("dates-as-attempts.xlsx", "--trainee trainee --attempt date --response seconds --measure time", dated().bytes(), "numbers attempts by date")
	warn("dates-number.xlsx", "--trainee trainee --date date --response seconds --measure time", dated().bytes(), "numbered-by-date", "T1 1 138.4 done; T1 2 121 done")
	headDates := newBook().rows("Sheet1", row{"trainee", time.Date(2026, 2, 2, 0, 0, 0, 0, time.UTC), time.Date(2026, 2, 9, 0, 0, 0, 0, time.UTC)}, row{"T1", 138.4, 121})
	warn("date-heads.xlsx", "--trainee trainee --response seconds --measure time", headDates.bytes(), "numbered-by-date", "T1 1 138.4 done; T1 2 121 done")
	add("number-heads.xlsx", "--trainee trainee --response seconds --measure time", newBook().rows("Sheet1", row{"trainee", 1, 2}, row{"T1", 138.4, 121}).bytes(), "T1 1 138.4 done; T1 2 121 done")
	add("rich-text.xlsx", usual, edited(plain().bytes(), "xl/sharedStrings.xml", func(s string) string {
		return strings.ReplaceAll(s, "<si><t>T1</t></si>", `<si><r><t>T</t></r><r><rPr><b/></rPr><t>1</t></r><rPh sb="0" eb="1"><t>x</t></rPh></si>`)
	}), base)
	add("inline-text.xlsx", usual, edited(plain().bytes(), sheetPart, func(s string) string {
		return strings.Replace(s, `<c r="A2" t="s"><v>3</v></c>`, `<c r="A2" t="inlineStr"><is><t>T1</t></is></c>`, 1)
	}), base)
	add("no-references.xlsx", usual, edited(plain().bytes(), sheetPart, func(s string) string {
		for _, c := range []string{"A", "B", "C"} {
			for i := range 9 {
				s = strings.Replace(s, fmt.Sprintf(` r="%s%d"`, c, i+1), "", 1)
			}
		}
		return s
	}), base)
	add("calendar-1904.xlsx", usual+" --date date", edited(dated().bytes(), "xl/workbook.xml", func(s string) string {
		return strings.Replace(s, "<workbookPr", `<workbookPr date1904="1"`, 1)
	}), "T1 1 138.4 done; T1 2 121 done")
	refuse("boolean.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", 1, true}, row{"T1", 2, 98}).bytes(), "true or false")
	refuse("no-sheet-named.xlsx", usual+" --sheet Data", plain().bytes(), "one of the sheets Sheet1")
}

// damaged are workbooks that are broken, and those made to take a machine down.
func damaged() {
	forty := newBook().rows("Sheet1", usualHead)
	for i := range 40 {
		r := row{fmt.Sprintf("T%d", i/4+1), i%4 + 1, 80 + float64(i)}
		check(forty.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+2), &r))
	}
	data := forty.bytes()
	cut := func(s string) string { return s[:strings.Index(s, `<row r="22"`)+40] }
	refuse("cut-sheet.xlsx", usual, edited(data, sheetPart, cut), "save it anew")
	refuse("bad-reference.xlsx", usual, edited(data, sheetPart, replaced(`<c r="A22"`, `<c r="!22"`)), "row 22")
	refuse("other-row-reference.xlsx", usual, edited(data, sheetPart, replaced(`<c r="A22"`, `<c r="A23"`)), "row 22")
	refuse("row-backwards.xlsx", usual, edited(data, sheetPart, replaced(`<row r="22"`, `<row r="12"`)), "row \"12\"")
	refuse("control-character.xlsx", usual, edited(data, sheetPart, replaced(`<c r="A22"`, "\x01<c r=\"A22\"")), "damaged")
	refuse("not-closed.xlsx", usual, edited(data, sheetPart, replaced(`</sheetData>`, ``)), "save it anew")
	refuse("text-missing.xlsx", usual, edited(data, sheetPart, func(s string) string {
		return strings.Replace(s, `<c r="A22" t="s"><v>`, `<c r="A22" t="s"><v>99`, 1)
	}), "which is missing")
	refuse("number-broken.xlsx", usual, edited(data, sheetPart, replaced("<v>90</v>", "<v>9o</v>")), "a number")
	refuse("archive-cut.xlsx", usual, data[:len(data)-300], "damaged")
	refuse("archive-flipped.xlsx", usual, func() []byte {
		c := bytes.Clone(data)
		at := bytes.Index(c, []byte(sheetPart)) + 200
		c[at] ^= 0x55
		return c
	}(), "damaged")
	refuse("other-archive.xlsx", usual, func() []byte {
		var out bytes.Buffer
		w := zip.NewWriter(&out)
		_, err := w.Create("word/document.xml")
		check(err)
		check(w.Close())
		return out.Bytes()
	}(), "this is a text document (DOCX)")
	add("far-column.xlsx", usual, edited(newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}).bytes(), sheetPart, replaced(`<v>138.4</v></c>`, `<v>138.4</v></c><c r="XFD2"><v>1</v></c>`)), "T1 1 138.4 done")
	all[len(all)-1].verdict, all[len(all)-1].says = "warn", "unnamed-columns"
	refuse("bomb.xlsx", usual, edited(data, sheetPart, func(s string) string {
		return strings.Replace(s, "</sheetData>", strings.Repeat(" ", 600<<20)+"</sheetData>", 1)
	}), "million bytes")
}

// kept are files made by LibreOffice from workbooks of this corpus.
func kept(name string) []byte {
	data, err := os.ReadFile(filepath.Join("testdata", "intake", "libreoffice", name))
	check(err)
	return data
}

// office are workbooks that LibreOffice 7.4 made: the ODS files from XLSX files of this
// corpus, and XLSX files from those.
//
//	soffice --headless --convert-to ods FILE.xlsx
func office() {
	for _, kind := range []string{".ods", ".xlsx"} {
		add("office-plain"+kind, usual, kept("plain-made"+kind), base)
		add("office-span-minutes"+kind, usual, kept("span-minutes-made"+kind), "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done")
		warn("office-hours-typed"+kind, usual, kept("hours-typed-made"+kind), "hours-as-minutes", "T1 1 90 done; T1 2 81 done; T1 3 58 done")
		warn("office-percent"+kind, "--trainee trainee --attempt attempt --response seconds --measure score", kept("percent-made"+kind), "percentages", "T1 1 85 done; T1 2 90 done")
		add("office-codes-format"+kind, usual, kept("codes-format-made"+kind), "007 1 138.4 done; 012 1 121 done")
		add("office-codes-letter"+kind, usual, kept("codes-letter-made"+kind), "T07 1 138.4 done; T12 1 121 done")
		add("office-formula"+kind, usual, kept("formula-made"+kind), base)
		warn("office-hidden-row"+kind, usual, kept("hidden-row-made"+kind), "hidden-rows", base)
		warn("office-sheet-a-session"+kind, usual+" --sheets-are session", kept("sheet-a-session-made"+kind), "numbered-through-sessions", "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T1 4 87.5 done")
		add("office-dates"+kind, usual+" --date date", kept("dates-made"+kind), "T1 1 138.4 done; T1 2 121 done")
	}
}
