package main

import (
	"maps"
	"slices"
	"strings"
)

// noLimit are the usual flags without a limit.
var noLimit = strings.Replace(usual, " --limit 300", "", 1)

// column is a long table of one trainee with these cells in the column of seconds.
func column(cells ...string) []byte {
	var b strings.Builder
	b.WriteString("trainee\tattempt\tseconds\n")
	for i, c := range cells {
		b.WriteString("T1\t" + strings.Fields("1 2 3 4 5 6 7 8 9 10 11 12")[i] + "\t" + c + "\n")
	}
	return []byte(b.String())
}

// times are the ways in which times are written.
func times() {
	add("clock.tsv", usual, column("1:30", "01:21", "0:58.5"), "T1 1 90 done; T1 2 81 done; T1 3 58.5 done")
	add("clock-comma.tsv", usual, column("1:30,5", "01:21"), "T1 1 90.5 done; T1 2 81 done")
	add("clock-and-seconds.tsv", usual, column("1:30", "81", "58.5"), "T1 1 90 done; T1 2 81 done; T1 3 58.5 done")
	add("clock-three.tsv", usual, column("0:01:30", "0:01:21", "00:00:58"), "T1 1 90 done; T1 2 81 done; T1 3 58 done")
	add("marks.tsv", usual, column("1'30\"", "1m21s", "58s"), "T1 1 90 done; T1 2 81 done; T1 3 58 done")
	add("iso-duration.tsv", usual, column("PT1M30S", "PT81S"), "T1 1 90 done; T1 2 81 done")
	refuse("clock-75.tsv", usual, column("1:75", "1:21"), "not a number")
	add("hundredths.tsv", usual, column("1:38:75", "1:21:40", "0:58:10"), "T1 1 98.75 done; T1 2 81.4 done; T1 3 58.1 done")
	add("hundredths-by-limit.tsv", usual, column("1:38:40", "1:21:40", "1:08:10"), "T1 1 98.4 done; T1 2 81.4 done; T1 3 68.1 done")
	refuse("hundredths-unsure.tsv", noLimit, column("1:38:40", "1:21:40", "0:58:10"), "--times m:ss:hh")
	add("hundredths-said.tsv", noLimit+" --times m:ss:hh", column("1:38:40", "1:21:40", "0:58:10"), "T1 1 98.4 done; T1 2 81.4 done; T1 3 58.1 done")
	refuse("hours-typed.tsv", usual, column("01:30:00", "01:21:00", "00:58:00"), "--times m:ss")
	add("hours-typed-said.tsv", usual+" --times m:ss", column("01:30:00", "01:21:00", "00:58:00"), "T1 1 90 done; T1 2 81 done; T1 3 58 done")
	refuse("minutes-seconds-dot.tsv", usual, column("1.38", "1.21", "1.05", "0.58"), "--times minutes, --times m.ss")
	add("minutes-seconds-dot-said.tsv", usual+" --times m.ss", column("1.38", "1.21", "1.05", "0.58", "1.3"), "T1 1 98 done; T1 2 81 done; T1 3 65 done; T1 4 58 done; T1 5 90 done")
	refuse("minutes-seconds-dot-no-limit.tsv", noLimit, column("2.38", "2.21", "2.05", "1.58", "1.52", "1.44", "1.40", "1.31", "1.22"), "m.ss")
	refuse("minutes.tsv", usual, column("1.7", "1.4", "1.15", "0.9"), "--times minutes")
	add("minutes-said.tsv", usual+" --times minutes", column("1.5", "1.25", "0.9"), "T1 1 90 done; T1 2 75 done; T1 3 54 done")
	refuse("minutes-among-seconds.tsv", noLimit, column("140", "1.5", "95", "90", "1.4"), "minutes among seconds")
	refuse("minutes-in-head.csv", "--trainee trainee --attempt attempt --response time_min --measure time", text("trainee,attempt,time_min\nT1,1,12.5\nT1,2,11.25\n"), "--times minutes")
	refuse("milliseconds.tsv", usual, column("98200", "87125", "76450"), "--times milliseconds")
	warn("milliseconds-in-head.csv", "--trainee trainee --attempt attempt --response time_ms --measure time --limit 300", text("trainee,attempt,time_ms\nT1,1,98200\nT1,2,87125\n"), "unit-from-name", "T1 1 98.2 done; T1 2 87.125 done")
	refuse("milliseconds-in-head-small.csv", "--trainee trainee --attempt attempt --response time_ms --measure time --limit 300", text("trainee,attempt,time_ms\nT1,1,182\nT1,2,171\n"), "--times milliseconds") // reactions, or seconds under a wrong name
	add("milliseconds-said.tsv", usual+" --times milliseconds", column("98200", "87125", "76450"), "T1 1 98.2 done; T1 2 87.125 done; T1 3 76.45 done")
	refuse("milliseconds-standard.tsv", noLimit+" --standard 60", column("98200", "87125", "76450"), "--times milliseconds")
	refuse("day-fractions.tsv", usual, column("0.00113657", "0.00101", "0.00095"), "--times days")
	add("day-fractions-said.tsv", usual+" --times days", column("0.0015", "0.00125"), "T1 1 129.6 done; T1 2 108 done")
	refuse("sixtyfold-one.tsv", usual, column("98", "5400", "86"), "divided by 60 it is 90")
	refuse("sixtyfold-standard.tsv", noLimit+" --standard 60", column("5400", "4860", "4200"), "--times")
	refuse("clock-times.csv", noLimit, text("trainee,attempt,seconds\nT1,1,9:14\nT1,2,9:26\nT1,3,9:41\nT2,1,10:02\nT2,2,10:15\nT2,3,10:31\n"), "time of day")
	add("clock-times-said.csv", noLimit+" --times m:ss", text("trainee,attempt,seconds\nT1,1,9:14\nT1,2,9:26\nT1,3,9:41\nT2,1,10:02\nT2,2,10:15\nT2,3,10:31\n"), "T1 1 554 done; T1 2 566 done; T1 3 581 done; T2 1 602 done; T2 2 615 done; T2 3 631 done")
	refuse("half-day.tsv", usual, column("9:14 AM", "9:26 AM"), "not a number")
	add("epoch-dates.tsv", usual, column("1899-12-31 00:01:30", "1899-12-31 00:01:21"), "T1 1 90 done; T1 2 81 done")
}

// wide are tables with one row a trainee.
func wide() {
	flags := "--trainee trainee --response seconds --measure time --limit 300"
	truth := "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T2 1 155.5 done; T2 2 140 done"
	rows := "T1,138.4,121,98.25\nT2,155.5,140,\n"
	heads := map[string]string{
		"letter": "A1,A2,A3", "word": "Trial 1,Trial 2,Trial 3", "padded": "Attempt 01,Attempt 02,Attempt 03", "number": "1,2,3",
		"under": "attempt_1,attempt_2,attempt_3", "ordinal": "1st attempt,2nd attempt,3rd attempt", "hash": "Run #1,Run #2,Run #3", "dash": "T-1,T-2,T-3",
		"measure": "seconds_1,seconds_2,seconds_3", "measure-last": "Attempt 1 seconds,Attempt 2 seconds,Attempt 3 seconds", "dot": "seconds.1,seconds.2,seconds.3",
		"bracket": "Versuch (1),Versuch (2),Versuch (3)", "constant": "Task2 try1,Task2 try2,Task2 try3",
	}
	for _, name := range slices.Sorted(maps.Keys(heads)) { // in the same order in every run
		add("wide-"+name+".csv", flags, []byte("trainee,"+heads[name]+"\n"+rows), truth)
	}
	add("wide-unordered.csv", flags, text("trainee,A3,A1,A2\nT1,98.25,138.4,121\nT2,,155.5,140\n"), truth)
	add("wide-clock.csv", flags, text("trainee,A1,A2\nT1,2:18.4,2:01\nT2,1:59,\n"), "T1 1 138.4 done; T1 2 121 done; T2 1 119 done")
	add("wide-codes.csv", flags+" --code DNF=timeout --code F=failed", text("trainee,A1,A2,A3\nT1,DNF,F,98.25\nT2,155.5,DNF,101\n"), "T1 1 300 timeout; T1 2 - failed; T1 3 98.25 done; T2 1 155.5 done; T2 2 300 timeout; T2 3 101 done")
	warn("wide-gap.csv", flags, text("trainee,A1,A2,A3\nT1,138.4,,98.25\nT2,155.5,140,120\n"), "attempt-gaps", "T1 1 138.4 done; T1 3 98.25 done; T2 1 155.5 done; T2 2 140 done; T2 3 120 done")
	warn("wide-missing.csv", flags, text("trainee,A1,A2,A3\nT1,138.4,121,98.25\nT2,155.5,140,NA\n"), "missing-words", truth)
	refuse("wide-two-kinds.csv", flags, text("trainee,T1,E1,T2,E2\nT1,138.4,2,121,1\nT2,155.5,0,140,3\n"), "--heads PREFIX=MEASURE")
	warn("wide-two-kinds-said.csv", flags+" --heads T=seconds", text("trainee,T1,E1,T2,E2\nT1,138.4,2,121,1\nT2,155.5,0,140,3\n"), "numbered-columns-unused", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("wide-two-kinds-named.csv", "--trainee trainee --response T --measure time --limit 300", text("trainee,T1,E1,T2,E2\nT1,138.4,2,121,1\nT2,155.5,0,140,3\n"), "numbered-columns-unused", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	refuse("wide-overwriting.csv", flags, text("trainee,T1,T01,T2\nA,138.4,121,98\n"), "one column for attempt 1")
	warn("wide-programs.csv", flags, text("trainee,seconds,seconds.1,seconds.2\nT1,138.4,121,98.25\nT2,155.5,140,\n"), "first-without-number", truth)
	warn("wide-spreadsheets.csv", flags, text("trainee,seconds,seconds2,seconds3\nT1,138.4,121,98.25\nT2,155.5,140,\n"), "first-without-number", truth)
	refuse("wide-guess.csv", flags, text("trainee,score1,score2,seconds\nT1,5,6,138.4\nT2,7,8,121\n"), "a column with attempt numbers")
	warn("wide-dates.csv", flags, text("trainee,2026-02-02,2026-02-09,2026-02-16\nT1,138.4,121,98.25\nT2,155.5,140,\n"), "numbered-by-date", truth)
	warn("wide-sessions.csv", flags, text("trainee,S1 A1,S1 A2,S2 A1,S2 A2\nT1,138.4,121,98.25,87.5\nT2,155.5,140,119.75,101\n"), "numbered-through-sessions", base)
	warn("wide-summaries.csv", flags, text("trainee,A1,A2,A3,Mean,SD\nT1,138.4,121,98.25,119.2,20.1\nT2,155.5,140,,147.75,10.96\nMean,146.95,130.5,98.25,,\n"), "summary-rows", truth)
	warn("wide-empty-trainee.csv", flags, text("trainee,A1,A2,A3\nT1,138.4,121,98.25\nT2,155.5,140,\nT3,,,\n"), "notes-below", truth)
	warn("trainee-columns.csv", "--attempt attempt --response seconds --measure time --limit 300 --columns-are trainee --trainee trainee", text("attempt,T1,T2\n1,138.4,155.5\n2,121,140\n3,98.25,\n"), "", truth)
	warn("turned.csv", usual, text("trainee,T1,T1,T1,T2,T2\nattempt,1,2,3,1,2\nseconds,138.4,121,98.25,155.5,140\n"), "transposed", truth)
	warn("turned-said.csv", usual+" --transposed", text("trainee,T1,T1,T1,T2,T2\nattempt,1,2,3,1,2\nseconds,138.4,121,98.25,155.5,140\n"), "transposed", truth)
	refuse("wide-two-files.csv", flags, text("trainee,before1,before2,after1,after2\nT1,138.4,121,98.25,90\nT2,155.5,140,120,111\n"), "numbered columns of one kind")
}

// heads are column names over several rows, and rows below them that are no data.
func heads() {
	flags := "--trainee id --response time --measure time --limit 300"
	truth := "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done"
	warn("two-heads.csv", flags, text("id,,Attempt 1,,Attempt 2,\n,group,time,errors,time,errors\nT1,box,138.4,2,121,1\nT2,sim,155.5,0,140,3\n"), "numbered-columns-unused", truth)
	add("two-heads-numbers.csv", "--trainee id --response seconds --measure time --limit 300", text("id,Attempt,,\n,1,2,3\nT1,138.4,121,98.25\nT2,155.5,140,\n"), "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T2 1 155.5 done; T2 2 140 done")
	warn("measure-above.csv", flags, text("id,time,,errors,\n,1,2,1,2\nT1,138.4,121,2,1\nT2,155.5,140,0,3\n"), "numbered-columns-unused", truth)
	warn("groups-above.csv", flags, text(",,Attempt 1,,Attempt 2,\nid,group,time,errors,time,errors\nT1,box,138.4,2,121,1\nT2,sim,155.5,0,140,3\n"), "numbered-columns-unused", truth)
	add("heads-said.csv", flags+" --head-rows 2 --ignore", text("id,Attempt,\n,1 time,2 time\nT1,138.4,121\nT2,155.5,140\n"), truth)
	all[len(all)-1].flags = flags + " --head-rows 2"
	warn("survey.csv", usual, text("trainee,attempt,seconds\nWhich trainee?,Which attempt?,How long did it take?\n\"{\"\"ImportId\"\":\"\"q1\"\"}\",\"{\"\"ImportId\"\":\"\"q2\"\"}\",\"{\"\"ImportId\"\":\"\"q3\"\"}\"\nT1,1,138.4\nT1,2,121\n"), "extra-head-rows", "T1 1 138.4 done; T1 2 121 done")
	warn("unit-row.csv", usual, text("trainee,attempt,seconds\n,no.,s\nT1,1,138.4\nT1,2,121\n"), "extra-head-rows", "T1 1 138.4 done; T1 2 121 done")
	refuse("unit-row-minutes.csv", "--trainee trainee --attempt attempt --response time --measure time", text("trainee,attempt,time\n,,min\nT1,1,13.4\nT1,2,12\n"), "--times minutes")
	add("head-spaces.csv", "--trainee trainee --attempt attempt --response seconds --measure time", []byte("\u00a0trainee,attempt\u200b,seconds \nT1,1,138.4\n"), "T1 1 138.4 done")
	refuse("head-twice.csv", usual, text("trainee,attempt,seconds,seconds\nT1,1,138.4,121\n"), "every column to have its own name")
	add("head-twice-unused.csv", usual, text("trainee,attempt,seconds,note,note\nT1,1,138.4,a,b\n"), "T1 1 138.4 done")
	refuse("head-missing.csv", usual, text("trainee,attempt,time\nT1,1,138.4\n"), "a column of this name; the file has trainee, attempt, time")
	warn("unnamed-column.csv", usual, text("trainee,attempt,seconds,\nT1,1,138.4,left hand\nT1,2,121,\n"), "unnamed-columns", "T1 1 138.4 done; T1 2 121 done")
}
