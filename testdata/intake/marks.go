package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// styled gives an area of a book's first sheet a style.
func (b book) styled(area string, style excelize.Style) book {
	id, err := b.NewStyle(&style)
	check(err)
	from, to, _ := strings.Cut(area, ":")
	if to == "" {
		to = from
	}
	check(b.SetCellStyle("Sheet1", from, to, id))
	return b
}

// lines are lines on some sides of a cell, as thick as excelize numbers them: 1 thin, 2 medium, 5 thick.
func lines(thick int, sides ...string) excelize.Style {
	var out excelize.Style
	for _, s := range sides {
		out.Border = append(out.Border, excelize.Border{Type: s, Color: "000000", Style: thick})
	}
	return out
}

// withParts is a workbook to which parts are added, or whose parts are replaced.
func withParts(data []byte, parts map[string]string) []byte {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	check(err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	put := func(name string, text []byte) {
		to, err := w.Create(name)
		check(err)
		_, err = to.Write(text)
		check(err)
	}
	for _, f := range r.File {
		if _, again := parts[f.Name]; again {
			continue
		}
		in, err := f.Open()
		check(err)
		text, err := io.ReadAll(in)
		check(err)
		put(f.Name, text)
	}
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		put(name, []byte(parts[name]))
	}
	check(w.Close())
	return out.Bytes()
}

// eight is a book with two trainees and four attempts each.
func eight() book {
	return newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}, row{"T1", 4, 87.5},
		row{"T2", 1, 155.5}, row{"T2", 2, 140}, row{"T2", 3, 119.75}, row{"T2", 4, 101})
}

// markedBooks are XLSX files in which something is shown that is no text.
func markedBooks() {
	font := func(f excelize.Font) excelize.Style { return excelize.Style{Font: &f} }
	fill := func(colour string) excelize.Style {
		return excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}}
	}
	// Rich text: in the list of texts, and within the cell.
	shared := func(letters string) []byte {
		b := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, "@"}, row{"T1", 3, 98.25}, row{"T1", 4, 87.5})
		return edited(b.bytes(), "xl/sharedStrings.xml", replaced("<si><t>@</t></si>", "<si>"+letters+"</si>"))
	}
	inline := func(letters string) []byte {
		b := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}, row{"T1", 4, 87.5})
		return edited(b.bytes(), sheetPart, replaced(`<c r="C3"><v>121</v></c>`, `<c r="C3" t="inlineStr"><is>`+letters+`</is></c>`))
	}
	one := "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T1 4 87.5 done"
	whole := `<r><rPr><strike/></rPr><t>121</t></r>`
	part := `<r><rPr><strike/></rPr><t>1</t></r><r><t>21</t></r>`
	off := `<r><rPr><strike val="0"/></rPr><t>121</t></r>`
	bold := `<r><t>1</t></r><r><rPr><b/><color rgb="FFFF0000"/></rPr><t>21</t></r>`
	warn("struck-text.xlsx", usual, shared(whole), "struck-out", one)
	warn("struck-text-part.xlsx", usual, shared(part), "struck-out", one)
	without("struck-text-off.xlsx", usual, shared(off), "struck-out", one)
	warn("bold-text.xlsx", usual, shared(bold), "lettered-cells", one)
	warn("struck-inline.xlsx", usual, inline(whole), "struck-out", one)
	warn("struck-inline-part.xlsx", usual, inline(part), "struck-out", one)
	without("struck-inline-off.xlsx", usual, inline(off), "struck-out", one)
	warn("bold-inline.xlsx", usual, inline(bold), "lettered-cells", one)

	warn("bold-cell.xlsx", usual, eight().styled("C4", font(excelize.Font{Bold: true})).bytes(), "lettered-cells", base)
	theme := 5
	warn("letters-in-theme-colour.xlsx", usual, eight().styled("C4", font(excelize.Font{ColorTheme: &theme})).bytes(), "lettered-cells", base)
	without("letters-all-bold.xlsx", usual, eight().styled("A1:C9", font(excelize.Font{Bold: true})).bytes(), "lettered-cells", base)
	without("head-bold.xlsx", usual, eight().styled("A1:C1", font(excelize.Font{Bold: true, Strike: true})).styled("A1:C1", fill("FFFF00")).bytes(), "coloured-cells", base)
	without("white-cell.xlsx", usual, eight().styled("C4", fill("FFFFFF")).bytes(), "coloured-cells", base)

	// Boxes: around one cell, around several, thick ones in a table full of lines; and lines that are none.
	all := []string{"left", "right", "top", "bottom"}
	warn("boxed-cell.xlsx", usual, eight().styled("C4", lines(1, all...)).bytes(), "boxed-cells", base)
	warn("boxed-cells.xlsx", usual, eight().styled("A4", lines(2, "left", "top")).styled("B4", lines(2, "top")).styled("C4", lines(2, "right", "top")).
		styled("A5", lines(2, "left", "bottom")).styled("B5", lines(2, "bottom")).styled("C5", lines(2, "right", "bottom")).bytes(), "boxed-cells", base)
	warn("boxed-thick.xlsx", usual, eight().styled("A1:C9", lines(1, all...)).styled("C4", lines(5, all...)).bytes(), "boxed-cells", base)
	without("lines-everywhere.xlsx", usual, eight().styled("A1:C9", lines(1, all...)).styled("A1:C1", lines(2, all...)).bytes(), "boxed-cells", base)
	without("lines-between-trainees.xlsx", usual, eight().styled("A5:C5", lines(2, "bottom")).styled("A9:C9", lines(2, "top", "bottom")).bytes(), "boxed-cells", base)
	without("frame.xlsx", usual, eight().styled("A2:A9", lines(5, "left")).styled("C2:C9", lines(5, "right")).bytes(), "boxed-cells", base)

	// Comments: a note, and a conversation with the note that programs put beside it for others.
	talk := eight()
	check(talk.AddComment("Sheet1", excelize.Comment{Cell: "C4", Author: "Examiner A", Text: "[Threaded comment] see the other part"}))
	rels := `<Relationship Id="rIdTalk" Type="http://schemas.microsoft.com/office/2017/10/relationships/threadedComment" Target="../threadedComments/threadedComment1.xml"/></Relationships>`
	data := edited(talk.bytes(), "xl/worksheets/_rels/sheet1.xml.rels", replaced("</Relationships>", rels))
	data = withParts(data, map[string]string{"xl/threadedComments/threadedComment1.xml": `<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"><threadedComment ref="C4" dT="2026-02-02T10:00:00.00" personId="{1}" id="{2}"><text>needle bent, do not count</text></threadedComment><threadedComment ref="C4" dT="2026-02-02T11:00:00.00" personId="{1}" id="{3}" parentId="{2}"><text>agreed</text></threadedComment></ThreadedComments>`})
	warn("cell-conversation.xlsx", usual, data, "cell-comments", base)
	elsewhere := eight().rows("Notes", row{"Timer", "two examiners"})
	check(elsewhere.AddComment("Notes", excelize.Comment{Cell: "A1", Text: "on another sheet"}))
	without("comment-on-other-sheet.xlsx", usual, elsewhere.bytes(), "cell-comments", base)

	// Rows and columns that are grouped and folded away.
	folded := eight()
	for n := 4; n <= 5; n++ {
		check(folded.SetRowOutlineLevel("Sheet1", n, 1))
		check(folded.SetRowVisible("Sheet1", n, false))
	}
	warn("folded-rows.xlsx", usual, folded.bytes(), "hidden-rows", base)
	foldedColumn := eight()
	check(foldedColumn.SetColOutlineLevel("Sheet1", "B", 1))
	check(foldedColumn.SetColVisible("Sheet1", "B", false))
	warn("folded-column.xlsx", usual, foldedColumn.bytes(), "hidden-columns", base)

	// Merged codes below a row that the file leaves out.
	merged := newBook().rows("Sheet1", row{"Cannulation on a gel phantom"}, row{}, usualHead, row{"T1", 1, 138.4}, row{nil, 2, 121}, row{"T2", 1, 155.5}, row{nil, 2, 140})
	check(merged.MergeCell("Sheet1", "A4", "A5"))
	check(merged.MergeCell("Sheet1", "A6", "A7"))
	warn("merged-below-gap.xlsx", usual, merged.bytes(), "merged-cells", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
}

// markedOpen are ODS files in which something is shown that is no text.
func markedOpen() {
	// Made by LibreOffice from the XLSX files of the same names.
	for _, f := range [][2]string{
		{"struck-out", "struck-out"}, {"struck-text", "struck-out"}, {"struck-inline-part", "struck-out"}, {"bold-inline", "lettered-cells"},
		{"red-cell", "coloured-cells"}, {"bold-cell", "lettered-cells"}, {"boxed-cell", "boxed-cells"}, {"boxed-cells", "boxed-cells"}, {"boxed-thick", "boxed-cells"},
		{"cell-comment", "cell-comments"}, {"hidden-column", "hidden-columns"}, {"folded-rows", "hidden-rows"}, {"folded-column", "hidden-columns"},
	} {
		warn("office-"+f[0]+".ods", usual, kept(f[0]+"-made.ods"), f[1], truthOf(f[0]+".xlsx"))
	}
	for _, f := range [][2]string{
		{"head-bold", "coloured-cells"}, {"letters-all-bold", "lettered-cells"}, {"white-cell", "coloured-cells"},
		{"lines-everywhere", "boxed-cells"}, {"lines-between-trainees", "boxed-cells"}, {"frame", "boxed-cells"}, {"struck-text-off", "struck-out"},
	} {
		without("office-"+f[0]+".ods", usual, kept(f[0]+"-made.ods"), f[1], truthOf(f[0]+".xlsx"))
	}

	// Styles that LibreOffice does not write so: named ones with parents, and those of a column and a row.
	automatic := `<style:style style:name="ce1" style:family="table-cell" style:parent-style-name="Warning"/>` +
		`<style:style style:name="ce2" style:family="table-cell" style:parent-style-name="Warning"><style:text-properties style:text-line-through-style="none"/><style:table-cell-properties fo:background-color="transparent"/></style:style>` +
		`<style:style style:name="ce3" style:family="table-cell"><style:text-properties fo:font-weight="700"/></style:style>` +
		`<number:number-style style:name="N1"><style:text-properties fo:color="#ff0000"/></number:number-style>` +
		`<style:style style:name="T1" style:family="text"><style:text-properties style:text-line-through-type="single"/></style:style>`
	named := `<style:default-style style:family="table-cell"><style:text-properties fo:color="#000000"/></style:default-style>` +
		`<style:style style:name="Warning" style:family="table-cell" style:parent-style-name="Default"><style:text-properties style:text-line-through-style="solid"/><style:table-cell-properties fo:background-color="#ffcc00"/></style:style>`
	of := func(rows ...string) []byte {
		data := ods("<table:table-column/><table:table-column/><table:table-column/>" + strings.Join(rows, ""))
		data = edited(data, "content.xml", func(s string) string {
			s = strings.Replace(s, "<office:body>", "<office:automatic-styles>"+automatic+"</office:automatic-styles><office:body>", 1)
			return strings.Replace(s, "<office:document-content ", `<office:document-content xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" xmlns:number="urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0" `, 1)
		})
		return withParts(data, map[string]string{"styles.xml": `<?xml version="1.0" encoding="UTF-8"?><office:document-styles xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0"><office:styles>` + named + `</office:styles></office:document-styles>`})
	}
	head := odsRow(odsText("trainee"), odsText("attempt"), odsText("seconds"))
	attempt := func(n int, v string) string {
		return odsRow(odsText("T1"), odsNumber(fmt.Sprint(n), fmt.Sprint(n)), odsNumber(v, v))
	}
	styled := func(s, style string) string {
		return strings.Replace(s, "<table:table-cell ", `<table:table-cell table:style-name="`+style+`" `, 1)
	}
	truth := "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T1 4 87.5 done"
	rows := func(second string) []byte {
		return of(head, attempt(1, "138.4"), second, attempt(3, "98.25"), attempt(4, "87.5"))
	}
	with := func(style string) string {
		return odsRow(odsText("T1"), odsNumber("2", "2"), styled(odsNumber("121", "121"), style))
	}
	warn("struck-by-parent.ods", usual, rows(with("ce1")), "struck-out", truth)
	warn("coloured-by-name.ods", usual, rows(with("Warning")), "coloured-cells", truth)
	without("struck-taken-back.ods", usual, rows(with("ce2")), "struck-out", truth)
	without("colour-taken-back.ods", usual, rows(with("ce2")), "coloured-cells", truth)
	warn("bold-by-weight.ods", usual, rows(with("ce3")), "lettered-cells", truth)
	warn("struck-by-row.ods", usual, rows(strings.Replace(attempt(2, "121"), "<table:table-row>", `<table:table-row table:default-cell-style-name="ce1">`, 1)), "struck-out", truth)
	warn("struck-span.ods", usual, rows(odsRow(odsText("T1"), odsNumber("2", "2"), odsText(`<text:span text:style-name="T1">1</text:span>21`))), "struck-out", truth)
	without("struck-blank.ods", usual, rows(odsRow(odsText("T1"), odsNumber("2", "2"), odsText(`<text:span text:style-name="T1"> </text:span>121`))), "struck-out", truth)
	column := edited(rows(attempt(2, "121")), "content.xml", func(s string) string {
		return strings.Replace(s, "<table:table-column/><table:table-column/>", `<table:table-column table:number-columns-repeated="2" table:default-cell-style-name="ce1"/>`, 1)
	})
	warn("struck-by-column.ods", usual, column, "struck-out", truth)
	hidden := func(from, to string) []byte {
		return edited(rows(attempt(2, "121")), "content.xml", replaced(from, to))
	}
	warn("hidden-column.ods", usual, hidden("<table:table-column/><table:table-column/>", `<table:table-column/><table:table-column table:visibility="collapse"/>`), "hidden-columns", truth)
	warn("filtered-column.ods", usual, hidden("<table:table-column/><table:table-column/>", `<table:table-column/><table:table-column table:visibility="filter"/>`), "hidden-columns", truth)
	warn("folded-column.ods", usual, hidden("<table:table-column/><table:table-column/>", `<table:table-column/><table:table-column-group table:display="false"><table:table-column/></table:table-column-group>`), "hidden-columns", truth)
	warn("folded-rows.ods", usual, rows(`<table:table-row-group table:display="false">`+attempt(2, "121")+`</table:table-row-group>`), "hidden-rows", truth)
	without("open-group.ods", usual, rows(`<table:table-row-group><table:table-row-group table:display="false"></table:table-row-group>`+attempt(2, "121")+`</table:table-row-group>`), "hidden-rows", truth)
	note := `<office:annotation><dc:creator xmlns:dc="http://purl.org/dc/elements/1.1/">Examiner A</dc:creator><text:p>needle bent,</text:p><text:p>do not count</text:p></office:annotation>`
	noted := strings.Replace(odsNumber("121", "121"), "<text:p>", note+"<text:p>", 1)
	warn("cell-comment.ods", usual, rows(odsRow(odsText("T1"), odsNumber("2", "2"), noted)), "cell-comments", truth)
	warn("shown-with-words.ods", usual, rows(odsRow(odsText("T1"), odsNumber("2", "2"), odsNumber("121", "121 min"))), "shown-with-words", truth)
}

// truthOf is what a file above means.
func truthOf(name string) string {
	for _, s := range all {
		if s.name == name {
			return s.truth
		}
	}
	panic("no file " + name)
}
