package main

import (
	"archive/zip"
	"bytes"
	"strings"
	"time"

	"github.com/parquet-go/parquet-go"
	"github.com/xuri/excelize/v2"
)

// strangers are files made by somebody who had not seen how files are read: what a
// secretary, a phone, a database or a careless hand leaves.
func strangers() {
	strangeNumbers()
	strangeText()
	strangeColumns()
	strangeCodes()
	strangeDates()
	strangeBooks()
	columnFiles()
}

const (
	wideTimes = "--trainee trainee --response seconds --measure time --limit 300"
	scores    = "--trainee trainee --attempt attempt --response score --measure score"
)

func secondsOf(cells ...string) []byte { return listed("seconds", cells) }

func listed(name string, cells []string) []byte {
	var b strings.Builder
	b.WriteString("trainee\tattempt\t" + name + "\n")
	for i, c := range cells {
		b.WriteString("T1\t" + string(rune('1'+i)) + "\t" + c + "\n")
	}
	return []byte(b.String())
}

const three = "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done"

// strangeNumbers are ways in which people write times and scores.
func strangeNumbers() {
	add("apostrophe-thousands.tsv", scores, listed("score", []string{"1'384.5", "1'210.0", "985.0"}), "T1 1 1384.5 done; T1 2 1210 done; T1 3 985 done")
	add("true-minus.tsv", scores, listed("score", []string{"\u22123.5", "2.5", "\u22121"}), "T1 1 -3.5 done; T1 2 2.5 done; T1 3 -1 done")
	add("full-width-digits.tsv", usual, secondsOf("１３８．４", "１２１", "９８．２５"), three)
	add("unit-word.tsv", usual, secondsOf("138.4 seconds", "121 seconds", "98.25 sec"), three)
	add("minutes-seconds-words.tsv", usual, secondsOf("2 min 18.4 s", "2 min 1 s", "1 min 38.25 s"), three)
	add("minutes-seconds-and.tsv", usual, secondsOf("2 minutes and 18.4 seconds", "2 minutes 1 second", "98.25 seconds"), three)
	add("minute-tick-tenths.tsv", usual, secondsOf(`2'18"4`, `2'01"0`, `1'38"25`), three)
	refuse("about.tsv", usual, secondsOf("~138", "121", "98"), "--code")
	refuse("value-and-note.tsv", usual, secondsOf("138.4 (slip)", "121", "98.25"), "--code")
	refuse("value-and-star.tsv", usual, secondsOf("138.4*", "121", "98.25"), "--code")
	refuse("value-slash-errors.tsv", usual, secondsOf("138/2", "121/1", "98/0"), "column")
	add("bare-marks.tsv", usual, secondsOf("138.", "+121", "98.25"), "T1 1 138 done; T1 2 121 done; T1 3 98.25 done")
	refuse("letter-for-digit.tsv", usual, secondsOf("138.4", "l21", "98.25"), "l21")
	refuse("two-points.tsv", usual, secondsOf("138..4", "121", "98.25"), "138..4")
	refuse("minutes-point-comma.tsv", usual, secondsOf("2.18,4", "2.01,0", "1.38,3"), "--times")
	refuse("three-points.tsv", usual, secondsOf("2.18.4", "2.01.0", "1.38.3"), "--times")
	add("milliseconds-after-colon.tsv", usual, secondsOf("02:18:400", "02:01:000", "01:38:250"), three)
	add("hours-zero.tsv", usual, secondsOf("00:02:18", "00:02:01", "00:01:38"), "T1 1 138 done; T1 2 121 done; T1 3 98 done")
	add("space-percent.tsv", scores, listed("score", []string{"85 %", "90 %", "87,5 %"}), "T1 1 85 done; T1 2 90 done; T1 3 87.5 done")
	refuse("code-888.tsv", usual, secondsOf("138.4", "888", "98.25"), "888")
	refuse("code-word-lower.tsv", usual, secondsOf("138.4", "dnf", "98.25"), "--code")
	refuse("hashes.tsv", usual, secondsOf("138.4", "########", "98.25"), "########")
	refuse("error-in-text.tsv", usual, secondsOf("138.4", "#DIV/0!", "98.25"), "#DIV/0!")
	warn("database-null.tsv", usual, secondsOf("138.4", `\N`, "98.25"), "", "T1 1 138.4 done; T1 3 98.25 done")
	refuse("more-than-five.tsv", "--trainee trainee --attempt attempt --response errors --measure count", listed("errors", []string{"5+", "2", "0"}), "5+")
	refuse("tick-or-blank.tsv", "--trainee trainee --attempt attempt --response passed --measure pass-fail", listed("passed", []string{"x", "", "x"}), "--code")
	add("tick-and-cross.tsv", "--trainee trainee --attempt attempt --response passed --measure pass-fail", listed("passed", []string{"✓", "✗", "✓"}), "T1 1 1 done; T1 2 0 done; T1 3 1 done")
	add("letters-pass.tsv", "--trainee trainee --attempt attempt --response passed --measure pass-fail", listed("passed", []string{"P", "F", "P"}), "T1 1 1 done; T1 2 0 done; T1 3 1 done")
	refuse("trainee-in-minutes.csv", usual, text("trainee,attempt,seconds\nT1,1,2.3\nT1,2,2.0\nT1,3,1.6\nT2,1,138\nT2,2,121\nT2,3,98\n"), "minutes")
	refuse("session-in-minutes.csv", usual+" --session day", text("trainee,day,attempt,seconds\nT1,1,1,2.9\nT1,1,2,2.4\nT2,1,1,2.8\nT2,1,2,2.2\nT1,2,3,121\nT1,2,4,98\nT2,2,3,119\nT2,2,4,101\n"), "minutes")
}

// strangeText are text files of databases, phones, terminals and merge tools.
func strangeText() {
	refuse("dump.csv", usual, text("CREATE TABLE attempts (trainee text, attempt int, seconds real);\nINSERT INTO attempts VALUES ('T1',1,138.4),('T1',2,121),('T1',3,98.25);\n"), "CSV")
	refuse("dump-lines.csv", usual, text("-- made by the lab\nINSERT INTO attempts (trainee,attempt,seconds) VALUES ('T1',1,138.4);\nINSERT INTO attempts (trainee,attempt,seconds) VALUES ('T1',2,121);\n"), "CSV")
	add("terminal-bars.txt", usual, text(" trainee | attempt | seconds \n---------+---------+---------\n T1      |       1 |   138.4\n T1      |       2 |     121\n T1      |       3 |   98.25\n(3 rows)\n"), three)
	add("terminal-box.txt", usual, text("+---------+---------+---------+\n| trainee | attempt | seconds |\n+---------+---------+---------+\n| T1      |       1 |   138.4 |\n| T1      |       2 |     121 |\n| T1      |       3 |   98.25 |\n+---------+---------+---------+\n"), three)
	add("page-table.md", usual, text("| trainee | attempt | seconds |\n|---------|---------|--------:|\n| T1 | 1 | 138.4 |\n| T1 | 2 | 121 |\n| T1 | 3 | 98.25 |\n"), three)
	add("aligned.txt", usual+" --separator space", text("trainee  attempt  seconds\nT1       1          138.4\nT1       2            121\nT1       3          98.25\n"), three)
	warn("aligned-unsaid.txt", usual, text("trainee  attempt  seconds\nT1       1          138.4\nT1       2            121\n"), "spaces-part-cells", "T1 1 138.4 done; T1 2 121 done")
	refuse("aligned-two-names.txt", usual, text("trainee  attempt  seconds\nT1       1          138.4\nT 2      1            121\nT1       2            117\n"), "--separator space")                     // a space within a code
	refuse("aligned-first-names.txt", "--trainee Name --attempt Try --response Time --measure time", text("Name  Try  Time\nAda Ash  1  138.4\nAda Ash  2  121\nBo Birch  1  99\n"), "--separator space") // a name less than cells, and no row numbers
	refuse("json-lines.csv", usual, text("{\"trainee\": \"T1\", \"attempt\": 1, \"seconds\": 138.4}\n{\"trainee\": \"T1\", \"attempt\": 2, \"seconds\": 121}\n"), "a JSON file")
	refuse("json-spaced.csv", usual, text("[ { \"trainee\" : \"T1\", \"attempt\" : 1 } ]\n"), "a JSON file")
	warn("single-quotes.csv", usual, text("'trainee','attempt','seconds'\n'T1','1','138.4'\n'T1','2','121'\n"), "single-quotes", "T1 1 138.4 done; T1 2 121 done")
	add("backslash-quotes.csv", usual, text("trainee,attempt,seconds,note\n\"T1\",1,138.4,\"said \\\"slow\\\" twice\"\n\"T1\",2,121,\"\"\n\"T1\",3,98.25,\"\"\n"), three)
	add("mixed-line-ends.csv", usual, []byte("trainee,attempt,seconds\r\nT1,1,138.4\nT1,2,121\r\nT1,3,98.25\r"), three)
	add("end-mark.csv", usual, []byte("trainee,attempt,seconds\r\nT1,1,138.4\r\nT1,2,121\r\nT1,3,98.25\r\n\x1a"), three)
	add("row-end-separators.csv", usual, text("trainee;attempt;seconds\nT1;1;138,4;\nT1;2;121;\nT1;3;98,25;\n"), three)
	refuse("mixed-encodings.csv", usual, []byte("trainee,attempt,seconds\nZo\xc3\xab,1,138.4\nZo\xeb,2,121\n"), "--encoding windows-1252")
	warn("read-twice-as-latin.csv", usual, text("trainee,attempt,seconds\nZoë,1,138.4\nZoÃ«,2,121\n"), "similar-codes", "Zoë 1 138.4 done; ZoÃ« 2 121 done")
	warn("quoted-lines.csv", usual, text("\"trainee,attempt,seconds\"\n\"T1,1,138.4\"\n\"T1,2,121\"\n"), "quoted-lines", "T1 1 138.4 done; T1 2 121 done")
	refuse("mail-page.xls", usual, text("MIME-Version: 1.0\nContent-Type: multipart/related\n\n<html>\n"), "a web page")
	refuse("binary-book.xlsb", usual, func() []byte {
		var out bytes.Buffer
		w := zip.NewWriter(&out)
		_, err := w.Create("xl/workbook.bin")
		check(err)
		check(w.Close())
		return out.Bytes()
	}(), "XLSX")
	refuse("zipped.zip", usual, func() []byte {
		var out bytes.Buffer
		w := zip.NewWriter(&out)
		f, err := w.Create("attempts.csv")
		check(err)
		_, err = f.Write([]byte(long(",", ".")))
		check(err)
		check(w.Close())
		return out.Bytes()
	}(), "npack")
	warn("export-line-below.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,3,98.25\n\nExported Monday, 2 February 2026\n"), "notes-below", three)
	refuse("merge-marks.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\n<<<<<<< mine\nT1,2,121\n=======\nT1,2,112\n>>>>>>> theirs\nT1,3,98.25\n"), "merge")
	refuse("hash-row.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\n#T1,2,121\nT1,3,98.25\n"), "--without")
	warn("dashes-row.csv", usual, text("trainee,attempt,seconds\n-------,-------,-------\nT1,1,138.4\nT1,2,121\nT1,3,98.25\n"), "", three)
	refuse("laps-total.csv", "--attempt Lap --response Total --measure time", text("Lap,Split,Total\n1,00:45.32,00:45.32\n2,00:43.10,01:28.42\n3,00:41.05,02:09.47\n4,00:40.00,02:49.47\n"), "--response Split")
	add("laps-split.csv", "--attempt Lap --response Split --measure time", text("Lap,Split,Total\n1,00:45.32,00:45.32\n2,00:43.10,01:28.42\n3,00:41.05,02:09.47\n4,00:40.00,02:49.47\n"), " 1 45.32 done;  2 43.1 done;  3 41.05 done;  4 40 done")
	warn("laps-running.csv", "--attempt Lap --response Time --measure time", text("Lap,Time\n1,45.32\n2,88.42\n3,129.47\n4,169.47\n5,208.02\n6,245.9\n"), "times-only-rise", " 1 45.32 done;  2 88.42 done;  3 129.47 done;  4 169.47 done;  5 208.02 done;  6 245.9 done")
	warn("laps-newest-first.csv", "--attempt Lap --response Split --measure time", text("Lap,Split\n3,41.05\n2,43.10\n1,45.32\n"), "", " 3 41.05 done;  2 43.1 done;  1 45.32 done")
	add("form-answers.csv", "--trainee Code --attempt Attempt --response Time --measure time --limit 300", text("Timestamp,Code,Attempt,Time,\"What went wrong?\"\n2026/02/02 9:30:11 am GMT+1,T1,1,138.4,\"nothing, really\"\n2026/02/02 9:41:40 am GMT+1,T1,2,121,\n2026/02/02 9:50:02 am GMT+1,T1,3,98.25,\n"), three)
}

// strangeColumns are tables whose columns mean something else than they seem to.
func strangeColumns() {
	refuse("whose-attempts.csv", "--attempt attempt --response seconds --measure time", []byte("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,3,98.2\nT2,1,150.1\nT2,2,119.7\nT2,3,105\nT3,1,141\nT3,2,133.3\nT3,3,101.5\n"), "whose attempts these are")
	add("pandas-repeats.csv", "--trainee trainee --response time --measure time --limit 300", text("trainee,time,errors,time.1,errors.1,time.2,errors.2\nT1,138.4,2,121,1,98.25,0\n"), three)
	warn("readr-repeats.csv", "--trainee trainee --response time --measure time --limit 300", text("trainee,time...2,errors...3,time...4,errors...5,time...6,errors...7\nT1,138.4,2,121,1,98.25,0\n"), "names-repeat", three)
	warn("same-names.csv", "--trainee trainee --response time --measure time --limit 300", text("trainee,time,errors,time,errors,time,errors\nT1,138.4,2,121,1,98.25,0\n"), "names-repeat", three)
	warn("baseline-beside.csv", wideTimes, text("trainee,Baseline,A1,A2,A3\nT1,155,138.4,121,98.25\n"), "columns-like-attempts", three)
	warn("total-column.csv", wideTimes, text("trainee,1,2,3,Total\nT1,138.4,121,98.25,357.65\nT2,155.5,140,119.75,415.25\n"), "", three+"; T2 1 155.5 done; T2 2 140 done; T2 3 119.75 done")
	warn("pivot.csv", "--trainee Labels --response seconds --measure time --limit 300", text("Average of seconds,attempt,,\nLabels,1,2,Total\nT1,138.4,121,129.7\nT2,155.5,140,147.75\nGrand Total,146.95,130.5,138.725\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	add("roman-heads.csv", wideTimes, text("trainee,I,II,III\nT1,138.4,121,98.25\n"), three)
	add("word-heads.csv", wideTimes, text("trainee,first,second,third\nT1,138.4,121,98.25\n"), three)
	refuse("heads-from-zero.csv", wideTimes, text("trainee,trial0,trial1,trial2\nT1,138.4,121,98.25\n"), "from 1")
	refuse("dates-without-year.csv", wideTimes, text("trainee,2 Feb,9 Feb,16 Feb\nT1,138.4,121,98.25\n"), "year")
	refuse("reps-a-session.csv", wideTimes, text("trainee,day,rep1,rep2,rep3\nT1,1,138.4,121,98.25\nT1,2,90,88,85\n"), "--session day")
	warn("reps-a-session-said.csv", wideTimes+" --session day", text("trainee,day,rep1,rep2,rep3\nT1,1,138.4,121,98.25\nT1,2,90,88,85\n"), "numbered-through-sessions", three+"; T1 4 90 done; T1 5 88 done; T1 6 85 done")
	refuse("tasks-beside.csv", wideTimes, text("trainee,knot1,knot2,cut1,cut2\nT1,138.4,121,55,50\n"), "--heads")
	refuse("two-hands.csv", usual, text("trainee,hand,attempt,seconds\nT1,L,1,138.4\nT1,L,2,121\nT1,R,1,98\nT1,R,2,90\n"), `--where "hand=L"`)
	refuse("two-timers.csv", usual, text("trainee,attempt,rater,seconds\nT1,1,Ash,138.4\nT1,1,Birch,139\nT1,2,Ash,121\nT1,2,Birch,121.3\n"), `--where "rater=Ash"`)
	refuse("limit-a-row.csv", usual, text("trainee,attempt,limit,seconds\nT1,1,300,138.4\nT1,2,300,121\nT1,3,240,240\n"), "limit")
	refuse("success-beside.csv", usual, text("trainee,attempt,seconds,success\nT1,1,138.4,1\nT1,2,121,0\nT1,3,98.25,1\n"), "--outcome success")
	add("success-said.csv", usual+" --outcome success --code 1=done --code 0=failed", text("trainee,attempt,seconds,success\nT1,1,138.4,1\nT1,2,121,0\nT1,3,98.25,1\n"), "T1 1 138.4 done; T1 2 121 failed; T1 3 98.25 done")
	refuse("passed-in-german.csv", usual, text("trainee;attempt;seconds;Ergebnis\nT1;1;138,4;bestanden\nT1;2;121;nicht bestanden\n"), "--outcome Ergebnis")
	warn("note-says-failed.csv", usual, text("trainee,attempt,seconds,remarks\nT1,1,138.4,\nT1,2,121,failed: cut the wire\nT1,3,98.25,\n"), "remarks-unread", three)
	refuse("practice-flag.csv", usual, text("trainee,attempt,seconds,excluded\nT1,1,138.4,0\nT1,2,121,1\nT1,3,98.25,0\n"), "--without")
	warn("practice-flag-said.csv", usual+" --without excluded=1", text("trainee,attempt,seconds,excluded\nT1,1,138.4,0\nT1,2,121,1\nT1,3,98.25,0\n"), "rows-left-out", "T1 1 138.4 done; T1 3 98.25 done")
	refuse("attempt-as-trainee.csv", "--trainee attempt --response seconds --measure time --limit 300", text("attempt,T1,T2,T3\n1,138.4,155.5,120\n2,121,140,99\n3,98.25,119.75,90\n"), "--columns-are trainee")
	refuse("blocks.csv", "--attempt attempt --response seconds --measure time --limit 300", text("Trainee: T1,\nattempt,seconds\n1,138.4\n2,121\n\nTrainee: T2,\nattempt,seconds\n1,155.5\n2,140\n"), "trainee")
	refuse("weeks-below.csv", usual, text("Week 1,,\ntrainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nWeek 2,,\ntrainee,attempt,seconds\nT1,1,98.25\nT1,2,90\n"), "line")
	refuse("last-names.csv", "--trainee last --attempt attempt --response seconds --measure time --limit 300", text("last,first,attempt,seconds\nAdler,Anna,1,138.4\nAdler,Ben,1,121\nAdler,Anna,2,98\nAdler,Ben,2,90\n"), `--where "first=Anna"`)
	refuse("blocks-other-order.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\ntrainee,seconds,attempt\nT1,98.25,3\n"), "blocks-other-order.csv:4")
	refuse("repeat-letter.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,1b,121\nT1,2,98\n"), "1b")
	add("attempt-of.csv", usual, text("trainee,attempt,seconds\nT1,1 of 3,138.4\nT1,2 of 3,121\nT1,3 of 3,98.25\n"), three)
	add("attempt-hash.csv", usual, text("trainee,attempt,seconds\nT1,#1,138.4\nT1,#2,121\nT1,#3,98.25\n"), three)
	add("attempt-number-word.csv", usual, text("trainee,attempt,seconds\nT1,No. 1,138.4\nT1,No. 2,121\nT1,No. 3,98.25\n"), three)
	refuse("head-capital.csv", usual, text("Trainee,Attempt,Seconds\nT1,1,138.4\n"), "did you mean Trainee?")
	warn("count-blank.csv", "--trainee trainee --attempt attempt --response errors --measure count", text("trainee,attempt,errors\nT1,1,4\nT1,2,2\nT1,3,\nT1,4,1\nT1,5,\n"), "blank-rows", "T1 1 4 done; T1 2 2 done; T1 4 1 done")
}

// strangeCodes are rows and codes that look like trainees, and trainees that look like
// others.
func strangeCodes() {
	warn("letters-of-another-alphabet.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nТ1,2,121\nT1,3,98.25\n"), "similar-codes", "T1 1 138.4 done; Т1 2 121 done; T1 3 98.25 done")
	warn("letter-for-digit-code.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nTl,2,121\nT1,3,98.25\n"), "similar-codes", "T1 1 138.4 done; Tl 2 121 done; T1 3 98.25 done")
	warn("code-and-point.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1.,2,121\n"), "similar-codes", "T1 1 138.4 done; T1. 2 121 done")
	refuse("arm-mistyped.csv", usual+" --arm arm", text("trainee,arm,attempt,seconds\nT1,box,1,138.4\nT1,box,2,121\nT1,bxo,3,98\nT2,sim,1,155\n"), "--same \"bxo=box\"")
	warn("mean-in-german.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nMittelwert,146.95,130.5\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("mean-sign.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nØ,146.95,130.5\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("mean-in-spanish.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nPromedio,146.95,130.5\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("best-row.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nT3,160,90\nBest time,138.4,90\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done; T3 1 160 done; T3 2 90 done")
	refuse("standard-row.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nTarget,90,90\n"), "Target")
	refuse("expert-row.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nExpert,52,50\n"), "Expert")
	warn("n-row.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nN,2,2\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("mean-and-spread.csv", wideTimes, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nM ± SD,147 ± 12,130 ± 13\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("mean-first.csv", wideTimes, text("trainee,A1,A2\nClass mean,146.95,130.5\nT1,138.4,121\nT2,155.5,140\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("subtotals.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1 Average,,129.7\nT2,1,155.5\nT2,2,140\nT2 Average,,147.75\nGrand Average,,138.725\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("test-person.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\ntest,1,60\nT2,1,155.5\n"), "codes-of-nobody", "T1 1 138.4 done; T1 2 121 done; test 1 60 done; T2 1 155.5 done")
	warn("unknown-person.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nunknown,1,99\nT2,1,155.5\n?,1,140\n"), "codes-of-nobody", "T1 1 138.4 done; T1 2 121 done; unknown 1 99 done; T2 1 155.5 done; ? 1 140 done")
}

// strangeDates are dates.
func strangeDates() {
	flags := usual + " --date date"
	rows := func(a, b string) []byte {
		return []byte("trainee\tdate\tattempt\tseconds\nT1\t" + a + "\t1\t138.4\nT1\t" + b + "\t2\t121\n")
	}
	truth := "T1 1 138.4 done; T1 2 121 done"
	refuse("dates-serial.tsv", flags, rows("46055", "46062"), "--dates days-from-1900")
	add("dates-serial-said.tsv", flags+" --dates days-from-1900", rows("46055", "46062"), truth)
	add("dates-two-digit-year.tsv", flags, rows("02.02.26", "19.02.26"), truth)
	add("dates-american.tsv", flags, rows("Feb 2, 2026", "Feb 19, 2026"), truth)
	add("dates-german.tsv", flags, rows("2. März 2026", "19. März 2026"), truth)
	refuse("dates-autumn.tsv", flags, rows("2. listopada 2026", "19. listopada 2026"), "2026-02-28") // November in Polish, October in Croatian
	add("dates-zone.tsv", flags, rows("2026-02-02T10:30:20Z", "2026-02-09T10:15:20+01:00"), truth)
	add("dates-weekday.tsv", flags, rows("Mon 02.02.2026", "Thu 19.02.2026"), truth)
	add("dates-twelve-hours.tsv", flags, rows("02/02/2026 9:30 AM", "02/19/2026 2:15 PM"), truth)
	warn("dates-other-century.tsv", flags, rows("2026-02-02", "2062-02-09"), "dates-far-apart", truth)
	warn("dates-first-of-1900.tsv", flags, rows("1900-01-01", "2026-02-09"), "dates-far-apart", truth)
	add("dates-compact.tsv", flags, rows("20260202", "20260209"), truth)
	add("dates-slashes-iso.tsv", flags, rows("2026/02/02", "2026/02/19"), truth)
}

// columnFiles are Parquet files, as programs for large logs write them.
func columnFiles() {
	type attempt struct {
		Trainee string    `parquet:"trainee,dict"`
		Attempt int32     `parquet:"attempt"`
		Seconds *float64  `parquet:"seconds,optional"`
		When    time.Time `parquet:"when,timestamp(millisecond)"`
		Tags    []string  `parquet:"tags,list"`
	}
	file := func(options ...parquet.WriterOption) []byte {
		v := []float64{138.4, 121, 98.25}
		at := time.Date(2026, 2, 2, 10, 30, 5, 0, time.UTC)
		var out bytes.Buffer
		check(parquet.Write(&out, []attempt{{"T1", 1, &v[0], at, []string{"a", "b"}}, {"T1", 2, &v[1], at.AddDate(0, 0, 7), nil}, {"T1", 3, &v[2], at.AddDate(0, 0, 14), nil}, {"T1", 4, nil, at.AddDate(0, 0, 21), nil}}, options...))
		return out.Bytes()
	}
	warn("columns.parquet", usual, file(parquet.Compression(&parquet.Snappy)), "nested-columns", three)
	warn("columns-zstd.parquet", usual+" --date when", file(parquet.Compression(&parquet.Zstd), parquet.DataPageVersion(2)), "blank-rows", three)
	warn("columns-dated.parquet", "--trainee trainee --date when --response seconds --measure time --limit 300", file(parquet.Compression(&parquet.Gzip)), "numbered-by-date", three)
	refuse("columns-brotli.parquet", usual, file(parquet.Compression(&parquet.Brotli)), "packed by Brotli")
	refuse("columns-cut.parquet", usual, func() []byte { d := file(); return append(d[:200:200], d[240:]...) }(), "damaged")
	refuse("text-named.parquet", usual, []byte(long(",", ".")), "rename it to .csv")
}

// strangeBooks are workbooks.
func strangeBooks() {
	mixed := newBook().rows("Sheet1", usualHead, row{"T1", 1, inDay(2*3600 + 18*60)}, row{"T1", 2, 121}, row{"T1", 3, 98.25}).format("C2:C2", "h:mm")
	warn("hours-typed-among-seconds.xlsx", usual, mixed.bytes(), "hours-as-minutes", "T1 1 138 done; T1 2 121 done; T1 3 98.25 done")
	beyond := newBook().rows("Sheet1", usualHead, row{"T1", 1, inDay(25*3600 + 30*60)}, row{"T1", 2, inDay(12*3600 + 18*60)}, row{"T1", 3, inDay(9*3600 + 5*60)}).format("C2:C4", "[h]:mm:ss")
	refuse("beyond-a-day.xlsx", strings.Replace(usual, "300", "1800", 1), beyond.bytes(), "--times m:ss")
	struck := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 12.1}, row{"T1", 3, 98.25})
	style, err := struck.NewStyle(&excelize.Style{Font: &excelize.Font{Strike: true}})
	check(err)
	check(struck.SetCellStyle("Sheet1", "A3", "C3", style))
	warn("struck-out.xlsx", usual, struck.bytes(), "struck-out", "T1 1 138.4 done; T1 2 12.1 done; T1 3 98.25 done")
	coloured := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}, row{"T1", 4, 90}, row{}, row{"red: failed"})
	style, err = coloured.NewStyle(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FF0000"}}})
	check(err)
	check(coloured.SetCellStyle("Sheet1", "C3", "C3", style))
	warn("red-cell.xlsx", usual, coloured.bytes(), "coloured-cells", three+"; T1 4 90 done")
	noted := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25})
	check(noted.AddComment("Sheet1", excelize.Comment{Cell: "C3", Text: "stopped the watch late"}))
	warn("cell-comment.xlsx", usual, noted.bytes(), "cell-comments", three)
	across := newBook().rows("Sheet1", row{"trainee", "A1", "A2", "A3"}, row{"T1", 138.4, nil, 98.25}, row{"T2", 155.5, 140, 119.75})
	check(across.MergeCell("Sheet1", "B2", "C2"))
	warn("merged-across.xlsx", wideTimes, across.bytes(), "merged-across", "T1 1 138.4 done; T1 3 98.25 done; T2 1 155.5 done; T2 2 140 done; T2 3 119.75 done")
	warn("long-numbers-as-codes.xlsx", usual, newBook().rows("Sheet1", usualHead, row{1234567890123456789.0, 1, 138.4}, row{1234567890123456000.0, 2, 121}).bytes(), "codes-changed", "1.23456789012345e+18 1 138.4 done; 1.23456789012345e+18 2 121 done")
	strict := edited(edited(newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}).bytes(), sheetPart, func(s string) string {
		return strings.ReplaceAll(s, "http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main")
	}), "xl/workbook.xml", func(s string) string {
		return strings.ReplaceAll(s, "http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main")
	})
	add("strict.xlsx", usual, strict, three)
	german := newBook().rows("Sheet1", row{"trainee", "date", "attempt", "seconds"}, row{"T1", time.Date(2026, 2, 2, 0, 0, 0, 0, time.UTC), 1, 138.4}, row{"T1", time.Date(2026, 2, 9, 0, 0, 0, 0, time.UTC), 2, 121}).format("B2:B3", `[$-407]d/\ mmm\ yyyy;@`)
	add("dates-other-locale.xlsx", usual+" --date date", german.bytes(), "T1 1 138.4 done; T1 2 121 done")
	accounting := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}).format("C2:C4", `_-* #,##0.00\ "s"_-;\-* #,##0.00\ "s"_-;_-* "-"??\ "s"_-;_-@_-`)
	add("accounting.xlsx", usual, accounting.bytes(), three)
	scaled := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138400}, row{"T1", 2, 121000}, row{"T1", 3, 98250}).format("C2:C4", `0.0,`)
	refuse("scaled-format.xlsx", usual, scaled.bytes(), "--times milliseconds")
	rounded := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}).format("C2:C4", `0`)
	add("rounded-format.xlsx", usual, rounded.bytes(), three)
	total := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}, row{"T1", 3, 98.25}, row{"n=1", nil, 119.2})
	warn("n-equals.xlsx", usual, total.bytes(), "summary-rows", three)
	facts := newBook().rows("Sheet1", row{"Trainee:", "T1", nil}, row{"Date:", "2026-02-02", nil}, row{}, row{"attempt", "seconds", "remark"}, row{1, 138.4, nil}, row{2, 121, nil}, row{3, 98.25, nil})
	warn("form.xlsx", "--attempt attempt --response seconds --measure time --limit 300", facts.bytes(), "title-lines", " 1 138.4 done;  2 121 done;  3 98.25 done")
	copies := newBook().rows("Data", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121}).rows("Data (2)", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 112})
	check(copies.DeleteSheet("Sheet1"))
	refuse("copied-sheet.xlsx", usual, copies.bytes(), "--sheet")
	percentTimes := newBook().rows("Sheet1", usualHead, row{"T1", 1, "138.4 "}, row{"T1", 2, " 121\u00a0"}, row{"T1", 3, "98.25\t"})
	add("spaces-in-cells.xlsx", usual, percentTimes.bytes(), three)
	refuse("dates-for-points.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, time.Date(2026, 12, 2, 0, 0, 0, 0, time.UTC)}, row{"T1", 3, 98.25}).format("C3:C3", "d\\.m").bytes(), "a date")
	refuse("attempts-as-dates.xlsx", usual, newBook().rows("Sheet1", usualHead, row{"T1", time.Date(2026, 1, 3, 0, 0, 0, 0, time.UTC), 138.4}, row{"T1", time.Date(2026, 2, 3, 0, 0, 0, 0, time.UTC), 121}).format("B2:B3", "d/m").bytes(), "date")
}
