package main

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode/utf16"
)

// long is the base as a long table, with this separator and decimal mark.
func long(sep, mark string) string {
	s := "trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,3,98.25\nT1,4,87.5\nT2,1,155.5\nT2,2,140\nT2,3,119.75\nT2,4,101\n"
	s = strings.ReplaceAll(s, ",", sep)
	return strings.ReplaceAll(s, ".", mark)
}

// wide16 is a text as UTF-16.
func wide16(s string, order binary.ByteOrder, mark bool) []byte {
	units := utf16.Encode([]rune(s))
	if mark {
		units = append([]uint16{0xfeff}, units...)
	}
	var b bytes.Buffer
	check(binary.Write(&b, order, units))
	return b.Bytes()
}

// delimited are text files: separators, encodings, line ends, what stands around the table.
func delimited() {
	add("comma.csv", usual, text(long(",", ".")), base)
	add("semicolon.csv", usual, text(long(";", ",")), base)
	add("semicolon-points.csv", usual, text(long(";", ".")), base)
	add("tab.tsv", usual, text(long("\t", ".")), base)
	add("tab-commas.txt", usual, text(long("\t", ",")), base)
	add("bar.csv", usual, text(long("|", ".")), base)
	add("byte-order-mark.csv", usual, []byte("\ufeff"+long(",", ".")), base)
	add("windows-lines.csv", usual, []byte(strings.ReplaceAll(long(",", "."), "\n", "\r\n")), base)
	add("old-mac-lines.csv", usual, []byte(strings.ReplaceAll(long(",", "."), "\n", "\r")), base)
	add("no-last-line-end.csv", usual, []byte(strings.TrimSuffix(long(",", "."), "\n")), base)
	add("utf16-little.csv", usual, wide16(long("\t", "."), binary.LittleEndian, true), base)
	add("utf16-big.csv", usual, wide16(long(",", "."), binary.BigEndian, true), base)
	add("utf16-no-mark.csv", usual, wide16(long("\t", "."), binary.LittleEndian, false), base)
	add("utf16-big-no-mark.csv", usual, wide16(long("\t", "."), binary.BigEndian, false), base)
	warn("windows-1252.csv", strings.Replace(usual, "trainee trainee", "trainee stagi\u00e8re", 1), []byte("stagi\xe8re,attempt,seconds\nZo\xeb,1,90.5\nZo\xeb,2,80\n"), "encoding-taken", "Zoë 1 90.5 done; Zoë 2 80 done")
	add("windows-1252-said.csv", strings.Replace(usual, "trainee trainee", "trainee stagi\u00e8re", 1)+" --encoding windows-1252", []byte("stagi\xe8re,attempt,seconds\nZo\xeb,1,90.5\nZo\xeb,2,80\n"), "Zoë 1 90.5 done; Zoë 2 80 done")
	add("sep-line.csv", usual, []byte("sep=;\n"+long(";", ",")), base)
	add("sep-line-quoted.csv", usual, []byte("\"sep=,\"\n"+long(",", ".")), base)
	add("all-quoted.csv", usual, text(`
"trainee","attempt","seconds"
"T1","1","138.4"
"T1","2","121"
`), "T1 1 138.4 done; T1 2 121 done")
	warn("single-quoted.csv", usual, text(`
'trainee','attempt','seconds'
'O'Brien, T',1,'138.4'
'T2','1',''
'T2','2','121'
`), "single-quotes", "O'Brien, T 1 138.4 done; T2 2 121 done")
	add("spaces-around.csv", usual, text(`
trainee , attempt , seconds
T1 , 1 , 138.4
T1 , 2 , 121
`), "T1 1 138.4 done; T1 2 121 done")
	add("blank-lines.csv", usual, text("\n\ntrainee,attempt,seconds\n\nT1,1,138.4\n\n\nT1,2,121\n\n"), "T1 1 138.4 done; T1 2 121 done")
	add("blank-rows-and-columns.csv", usual, text(`
trainee,attempt,seconds,,
T1,1,138.4,,
,,,,
T1,2,121,,
,,,,
`), "T1 1 138.4 done; T1 2 121 done")
	warn("comments.csv", usual, []byte("# skills lab, week 3\n# exported by the timer\n"+long(",", ".")), "comment-lines", base)
	warn("title.csv", usual, []byte("Cannulation on a gel phantom\n\n"+long(",", ".")), "title-lines", base)
	warn("title-and-facts.csv", usual, []byte("Study;Cannulation\nMade;2026-02-02\n\n"+long(";", ",")), "title-lines", base)
	add("skip-rows.csv", usual+" --skip-rows 2", []byte("a,b,c\nd,e,f\n"+long(",", ".")), base)
	warn("note-below.csv", usual, []byte(long(",", ".")+"\nTimes by two examiners\n"), "notes-below", base)
	warn("note-below-filled.csv", usual, []byte(long(",", ".")+",,\n* T2 used the left hand,,\n"), "notes-below", base)
	warn("repeated-head.csv", usual, text(`
trainee,attempt,seconds
T1,1,138.4
T1,2,121
trainee,attempt,seconds
T2,1,155.5
`), "repeated-head", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done")
	warn("index-column.csv", usual, text(`
,trainee,attempt,seconds
0,T1,1,138.4
1,T1,2,121
2,T2,1,155.5
`), "index-column", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done")
	warn("row-names.csv", usual, text(`
"trainee","attempt","seconds"
"1","T1",1,138.4
"2","T1",2,121
"3","T2",1,155.5
`), "index-column", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done")
	refuse("short-row.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2\nT1,3,90\n"), "3 cells, found 2")
	refuse("long-row.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4,x\nT1,2,90\n"), "3 cells, found 4")
	refuse("empty.csv", usual, nil, "the file is empty")
	refuse("only-head.csv", usual, text("trainee,attempt,seconds\n"), "rows of data below the header")
	refuse("open-quote.csv", usual, text("trainee,attempt,seconds\nT1,1,\"138.4\nT1,2,121\n"), "unreadable")
	refuse("page.csv", usual, text("<!DOCTYPE html>\n<html><table><tr><td>trainee</td></tr></table></html>\n"), "a web page (HTML)")
	refuse("json.csv", usual, text("[{\"trainee\": \"T1\", \"attempt\": 1}]\n"), "a JSON file")
	refuse("old-workbook.xls", usual, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 not much"), "save it as XLSX")
	refuse("document.csv", usual, []byte("%PDF-1.7\n"), "a PDF document")
	refuse("picture.csv", usual, []byte("\x89PNG\r\n\x1a\n"), "a picture")
	refuse("packed.csv", usual, []byte("\x1f\x8b\x08\x00"), "a GZIP archive")
	refuse("text-named.xlsx", usual, []byte(long(",", ".")), "rename it to .csv")
	refuse("null-byte.csv", usual, []byte("trainee,attempt,seconds\nT1,1,3\x000\n"), "byte 0x00")
	refuse("one-column.csv", usual, []byte("trainee:attempt:seconds\nT1:1:138.4\n"), "a column of this name")
	add("separator-said.csv", usual+" --separator space", []byte("trainee attempt seconds\nT1 1 138.4\nT1 2 121\n"), "T1 1 138.4 done; T1 2 121 done")
	add("quoted-line-break.csv", usual+" --ignore note", []byte("trainee,attempt,seconds,note\nT1,1,138.4,\"slow\nstart\"\nT1,2,121,\n"), "T1 1 138.4 done; T1 2 121 done")
	add("semicolon-in-note.csv", usual, []byte("trainee,attempt,seconds,note\nT1,1,138.4,one; two; three; four\nT1,2,121,five; six\n"), "T1 1 138.4 done; T1 2 121 done")
	add("comma-in-code.csv", usual, []byte("trainee;attempt;seconds\nSmith, J;1;138,4\nSmith, J;2;121\n"), "Smith, J 1 138.4 done; Smith, J 2 121 done")
	add("guarded.csv", usual, []byte("trainee,attempt,seconds\n'=T1,1,138.4\n'=T1,2,121\n"), "=T1 1 138.4 done; =T1 2 121 done")
}

// numbers are decimal marks, thousands, units and what people write for no number.
func numbers() {
	one := func(cells ...string) []byte {
		var b strings.Builder
		b.WriteString("trainee;attempt;seconds\n")
		for i, c := range cells {
			b.WriteString("T1;" + string(rune('1'+i)) + ";" + c + "\n")
		}
		return []byte(b.String())
	}
	refuse("decimal-comma-cut.csv", usual+" --outcome outcome", text("trainee,attempt,seconds,outcome\nT1,1,138,4,\nT1,2,121,,\nT1,3,98,2,\n"), "4 cells, found 5")
	refuse("decimal-comma-cut-all.csv", usual, text("trainee,attempt,seconds,outcome\nT1,1,138,4,\nT1,2,121,0,\nT1,3,98,2,\n"), "decimal mark")
	refuse("decimal-comma-cut-short.csv", usual, text("trainee,attempt,seconds\nT1,1,138,4\nT1,2,98,2\n"), "decimal mark")
	add("decimal-comma-quoted.csv", usual, text("trainee,attempt,seconds\nT1,1,\"138,4\"\nT1,2,121\nT1,3,\"98,25\"\n"), "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done")
	refuse("three-after-comma.csv", usual, one("98,200", "101,350", "87,125"), "--decimal comma makes it 98.2")
	add("three-after-comma-said.csv", usual+" --decimal comma", one("98,200", "101,350", "87,125"), "T1 1 98.2 done; T1 2 101.35 done; T1 3 87.125 done")
	add("three-after-comma-shown.csv", usual, one("98,200", "101,35", "87,125"), "T1 1 98.2 done; T1 2 101.35 done; T1 3 87.125 done")
	refuse("thousands-point.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("1.384", "1.210", "985"), "--decimal comma makes it 1384")
	add("thousands-point-said.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1)+" --decimal comma", one("1.384", "1.210", "985"), "T1 1 1384 done; T1 2 1210 done; T1 3 985 done")
	add("thousands-and-comma.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("1.384,5", "1.210", "985"), "T1 1 1384.5 done; T1 2 1210 done; T1 3 985 done")
	add("thousands-english.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("1,384.5", "1,210", "985"), "T1 1 1384.5 done; T1 2 1210 done; T1 3 985 done")
	add("thousands-space.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("1 384,5", "1 210", "985"), "T1 1 1384.5 done; T1 2 1210 done; T1 3 985 done")
	refuse("both-marks.csv", usual, one("98,2", "101.35", "87.1"), "--decimal point or --decimal comma")
	add("three-decimals.csv", usual, text("trainee,attempt,seconds\nT1,1,138.400\nT1,2,121.125\nT1,3,98.250\n"), "T1 1 138.4 done; T1 2 121.125 done; T1 3 98.25 done")
	refuse("three-decimals-or-thousands.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), text("trainee,attempt,seconds\nT1,1,1.384\nT1,2,985\nT1,3,1.210\n"), "--decimal point makes it 1.384")
	add("exponent.csv", usual, one("1.384e2", "9.9E1"), "T1 1 138.4 done; T1 2 99 done")
	refuse("infinite.csv", usual, one("138.4", "inf"), "not a number")
	refuse("hexadecimal.csv", usual, one("138.4", "0x1p4"), "not a number")
	refuse("underscore.csv", usual, one("138.4", "1_000"), "not a number")
	refuse("negative-time.csv", usual, one("138.4", "-30"), "above 0")
	refuse("zero-time.csv", usual, one("138.4", "0"), "above 0")
	add("units.csv", usual, one("138.4 s", "121 sec", "98 secs", "1 min 30 s", "1.5 min"), "T1 1 138.4 done; T1 2 121 done; T1 3 98 done; T1 4 90 done; T1 5 90 done")
	add("units-dot.csv", usual, one("98 sec.", "87 sec."), "T1 1 98 done; T1 2 87 done")
	refuse("unit-unknown.csv", usual, one("98 ticks", "87 ticks", "86 ticks"), "--unit-suffix ticks")
	add("unit-said.csv", usual+" --unit-suffix ticks", one("98 ticks", "87 ticks", "86"), "T1 1 98 done; T1 2 87 done; T1 3 86 done")
	refuse("unknown-code.csv", usual, one("98", "DQ", "86"), `"DQ"`)
	add("codes-said.csv", usual+" --code DNF=timeout --code F=failed --code x=void", one("98", "DNF", "F", "x", "86"), "T1 1 98 done; T1 2 300 timeout; T1 3 - failed; T1 4 - void; T1 5 86 done")
	refuse("code-999.csv", usual, one("98", "999", "86", "999"), "999")
	refuse("code-999-no-limit.csv", strings.Replace(usual, " --limit 300", "", 1), one("98", "999", "86", "999"), "--code 999=timeout")
	add("code-999-said.csv", usual+" --code 999=timeout", one("98", "999", "86"), "T1 1 98 done; T1 2 300 timeout; T1 3 86 done")
	refuse("code-99-score.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("7", "8", "99", "9"), "--code 99=timeout")
	refuse("code-minus-nine.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("7", "8", "-9", "9"), "--code -9=timeout")
	add("value-999.csv", strings.Replace(usual, " --limit 300", "", 1)+" --code 999=value", one("98", "999", "86"), "T1 1 98 done; T1 2 999 done; T1 3 86 done")
	add("over-text.csv", usual, one(">300", "300+", "98"), "T1 1 300 timeout; T1 2 300 timeout; T1 3 98 done")
	refuse("slipped-point.csv", usual, one("98.2", "982", "86.1"), "divided by 10 it is 98.2")
	refuse("far-over-limit.csv", usual, one("98.2", "450", "86.1"), "--over-limit timeout")
	add("far-over-limit-said.csv", usual+" --over-limit timeout", one("98.2", "450", "86.1"), "T1 1 98.2 done; T1 2 300 timeout; T1 3 86.1 done")
	warn("little-over-limit.csv", usual, one("98.2", "301.5", "86.1"), "over-limit", "T1 1 98.2 done; T1 2 300 timeout; T1 3 86.1 done")
	warn("timeout-early.csv", usual+" --outcome outcome", text("trainee,attempt,seconds,outcome\nT1,1,150,timeout\nT1,2,98,done\n"), "timeout-before-limit", "T1 1 150 timeout; T1 2 98 done")
	warn("missing-words.csv", usual+" --outcome outcome", text("trainee,attempt,seconds,outcome\nT1,1,98,done\nT1,2,NA,void\nT1,3,n/a,failed\n"), "missing-words", "T1 1 98 done; T1 2 - void; T1 3 - failed")
	warn("blank-rows.csv", usual, text("trainee,attempt,seconds\nT1,1,98\nT1,2,\nT1,3,86\n"), "blank-rows", "T1 1 98 done; T1 3 86 done")
	warn("percent.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("85%", "90 %"), "percentages", "T1 1 85 done; T1 2 90 done")
	refuse("percent-mixed.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), one("85%", "0.9"), "one kind of number")
	refuse("formula-text.csv", usual, one("98", "#DIV/0!"), "not a number")
	add("pass-words.csv", strings.Replace(usual, " --measure time --limit 300", " --measure pass-fail", 1), one("pass", "fail", "Pass"), "T1 1 1 done; T1 2 0 done; T1 3 1 done")
	refuse("pass-not-said.csv", "--trainee trainee --attempt attempt --response seconds", one("1", "0", "1", "1"), "--measure pass-fail")
	refuse("measure-not-said.csv", "--trainee trainee --attempt attempt --response seconds", one("98", "87"), "--measure time")
	refuse("count-parts.csv", strings.Replace(usual, " --measure time --limit 300", " --measure count", 1), one("2", "1.5"), "whole number")
}
