package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
)

// ods is an ODS workbook with these sheets, each the XML of its rows.
func ods(sheets ...string) []byte {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	part := func(name, text string) {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		check(err)
		_, err = f.Write([]byte(text))
		check(err)
	}
	part("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>`)
	for i, s := range sheets {
		fmt.Fprintf(&b, `<table:table table:name="Sheet%d">%s</table:table>`, i+1, s)
	}
	b.WriteString(`</office:spreadsheet></office:body></office:document-content>`)
	part("content.xml", b.String())
	check(w.Close())
	return out.Bytes()
}

func odsRow(cells ...string) string {
	return "<table:table-row>" + strings.Join(cells, "") + "</table:table-row>"
}

func odsText(s string) string {
	return `<table:table-cell office:value-type="string"><text:p>` + s + `</text:p></table:table-cell>`
}

func odsNumber(v, shown string) string {
	return `<table:table-cell office:value-type="float" office:value="` + v + `"><text:p>` + shown + `</text:p></table:table-cell>`
}

func odsTime(v, shown string) string {
	return `<table:table-cell office:value-type="time" office:time-value="` + v + `"><text:p>` + shown + `</text:p></table:table-cell>`
}

// openDocuments are ODS files.
func openDocuments() {
	head := odsRow(odsText("trainee"), odsText("attempt"), odsText("seconds"))
	one, two := odsNumber("1", "1"), odsNumber("2", "2")
	truth := "T1 1 138.4 done; T1 2 121 done"
	add("plain.ods", usual, ods(head+odsRow(odsText("T1"), one, odsNumber("138.4", "138,4"))+odsRow(odsText("T1"), two, odsNumber("121", "121"))), truth)
	add("spans.ods", usual, ods(head+odsRow(odsText("T1"), one, odsTime("PT00H02M18.4S", "02:18.4"))+odsRow(odsText("T1"), two, odsTime("PT00H02M01S", "02:01.0"))), truth)
	warn("hours-typed.ods", usual, ods(head+odsRow(odsText("T1"), one, odsTime("PT01H30M00S", "01:30"))+odsRow(odsText("T1"), two, odsTime("PT01H21M00S", "01:21"))), "hours-as-minutes", "T1 1 90 done; T1 2 81 done")
	add("codes-format.ods", usual, ods(head+odsRow(odsNumber("7", "007"), one, odsNumber("138.4", "138.4"))+odsRow(odsNumber("12", "012"), one, odsNumber("121", "121"))), "007 1 138.4 done; 012 1 121 done")
	warn("percent.ods", "--trainee trainee --attempt attempt --response seconds --measure score", ods(head+odsRow(odsText("T1"), one, `<table:table-cell office:value-type="percentage" office:value="0.85"><text:p>85 %</text:p></table:table-cell>`)), "percentages", "T1 1 85 done")
	add("repeated.ods", usual, ods(head+odsRow(odsText("T1"), one, odsNumber("138.4", "138.4"))+`<table:table-row table:number-rows-repeated="3"><table:table-cell table:number-columns-repeated="1000"/></table:table-row>`+odsRow(odsText("T1"), two, odsNumber("121", "121"))+`<table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>`), truth)
	warn("hidden-row.ods", usual, ods(head+odsRow(odsText("T1"), one, odsNumber("138.4", "138.4"))+strings.Replace(odsRow(odsText("T1"), two, odsNumber("121", "121")), "<table:table-row>", `<table:table-row table:visibility="filter">`, 1)), "hidden-rows", truth)
	warn("other-sheet.ods", usual, ods(head+odsRow(odsText("T1"), one, odsNumber("138.4", "138.4"))+odsRow(odsText("T1"), two, odsNumber("121", "121")), odsRow(odsText("Timer"), odsText("two examiners"))), "sheets-unread", truth)
	refuse("error.ods", usual, ods(head+odsRow(odsText("T1"), one, odsText("#DIV/0!"))), "gives an error")
	refuse("bomb.ods", usual, ods(head+`<table:table-row table:number-rows-repeated="1048576"><table:table-cell table:number-columns-repeated="16384" office:value-type="float" office:value="1"><text:p>1</text:p></table:table-cell></table:table-row>`), "million cells")
	cut := ods(head + odsRow(odsText("T1"), one, odsNumber("138.4", "138.4")))
	refuse("cut.ods", usual, edited(cut, "content.xml", func(s string) string { return s[:len(s)-90] }), "save it anew")
	refuse("text-document.ods", usual, edited(cut, "content.xml", func(s string) string { return strings.ReplaceAll(s, "office:spreadsheet", "office:text") }), "another kind of document")
}
