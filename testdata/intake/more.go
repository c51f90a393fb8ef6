package main

import "strings"

// more are shapes that came up while others were tried.
func more() {
	flags := "--trainee trainee --response seconds --measure time --limit 300"
	refuse("unit-column.csv", "--trainee trainee --attempt attempt --response time --measure time", text("trainee,attempt,time,unit\nT1,1,12.5,min\nT1,2,11,min\n"), "--times minutes")
	warn("minutes-seconds-few.csv", noLimit, text("trainee;attempt;seconds\nT1;1;1.38\nT1;2;1.21\nT1;3;1.05\n"), "unit-not-sure", "T1 1 1.38 done; T1 2 1.21 done; T1 3 1.05 done")
	warn("minutes-unlabelled.csv", noLimit, text("trainee;attempt;seconds\nT1;1;2.7\nT1;2;1.95\nT1;3;1.8\n"), "unit-not-sure", "T1 1 2.7 done; T1 2 1.95 done; T1 3 1.8 done")
	warn("arm-blank.csv", usual+" --arm arm", text("trainee,arm,attempt,seconds\nT1,box,1,138.4\nT2,,1,121\n"), "arms-missing", "T1 1 138.4 done; T2 1 121 done")
	warn("class-average.csv", flags, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nClass average,146.95,130.5\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	refuse("mean-unlabelled.csv", flags, text("trainee,A1,A2\nT1,138.4,121\nT2,155.5,140\nT3,120.1,99\nall,138,120\n"), "the mean or the sum")
	warn("group-lines.csv", flags, text("trainee,A1,A2\nBox group,,\nT1,138.4,121\nSim group,,\nT2,155.5,140\n"), "blank-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	warn("date-heads-points.csv", flags, text("trainee;02.02.2026;09.02.2026;16.02.2026\nT1;138,4;121;98,25\n"), "numbered-by-date", "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done")
	refuse("date-heads-unsure.csv", flags, text("trainee;02/02/2026;09/02/2026\nT1;138,4;121\n"), "--dates day-first")
	warn("codes-power.csv", usual, text("trainee,attempt,seconds\n1E+05,1,138.4\n2E+05,1,121\n"), "codes-changed", "1E+05 1 138.4 done; 2E+05 1 121 done")
	warn("codes-dates.xlsx", usual, newBook().rows("Sheet1", usualHead, row{46055, 1, 138.4}, row{"T2", 1, 121}).format("A2:A2", "d-mmm").bytes(), "codes-changed", "2026-02-02 1 138.4 done; T2 1 121 done")
	warn("score-percent-standard.csv", "--trainee trainee --attempt attempt --response score --measure score --standard 0.8", text("trainee,attempt,score\nT1,1,75\nT1,2,82\n"), "far-from-standard", "T1 1 75 done; T1 2 82 done")
	warn("heads-time-errors.csv", "--trainee trainee --response time --measure time --limit 300", text("trainee,T1 time,T1 errors,T2 time,T2 errors\nT1,138.4,2,121,1\nT2,155.5,0,140,3\n"), "numbered-columns-unused", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	refuse("before-after.csv", flags, text("trainee,before,after\nT1,138.4,121\nT2,155.5,140\n"), "a column with attempt numbers")
	refuse("roman.csv", usual, text("trainee,attempt,seconds\nT1,I,138.4\nT1,II,121\n"), "an attempt number")
	refuse("out-of-ten.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), text("trainee,attempt,seconds\nT1,1,7/10\nT1,2,8/10\n"), "not a number")
	warn("joined-files.csv", usual, []byte("\ufefftrainee,attempt,seconds\nT1,1,138.4\n\ufefftrainee,attempt,seconds\nT2,1,155.5\n"), "repeated-head", "T1 1 138.4 done; T2 1 155.5 done")
	add("mark-and-sep.csv", usual, []byte("\ufeffsep=;\r\ntrainee;attempt;seconds\r\nT1;1;138,4\r\n"), "T1 1 138.4 done")
	refuse("years-as-attempts.csv", usual, text("trainee,attempt,seconds\nT1,20260202,138.4\n"), "--date COL")
	refuse("limit-in-minutes.csv", strings.Replace(usual, "300", "5", 1), text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\n"), "near the limit of 5")
	refuse("side-by-side.xlsx", usual, newBook().rows("Sheet1", row{"trainee", "attempt", "seconds", nil, "trainee", "attempt", "seconds"}, row{"T1", 1, 138.4, nil, "T2", 1, 155.5}).bytes(), "every column to have its own name")
	refuse("exact-copies.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,1,138.4\n"), "it is also on line 2")
	refuse("spreadsheet-2003.xls", usual, []byte("<?xml version=\"1.0\"?>\n<Workbook><Worksheet/></Workbook>\n"), "an XML file")
	warn("kept-hidden.xlsx", usual, func() []byte {
		b := newBook().rows("Sheet1", usualHead, row{"T1", 1, 138.4}, row{"T1", 2, 121})
		check(b.SetColVisible("Sheet1", "C", false))
		return b.bytes()
	}(), "hidden-columns", "T1 1 138.4 done; T1 2 121 done")
}
