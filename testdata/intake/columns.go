package main

// columns are tables in which other columns change what the named ones mean.
func columns() {
	add("outcome.csv", usual+" --outcome outcome", text("trainee,attempt,seconds,outcome\nT1,1,138.4,done\nT1,2,300,timeout\nT1,3,,void\nT1,4,99,failed\n"), "T1 1 138.4 done; T1 2 300 timeout; T1 3 - void; T1 4 99 failed")
	warn("outcome-not-named.csv", usual, text("trainee,attempt,seconds,outcome\nT1,1,138.4,done\nT1,2,121,failed\nT1,3,98,done\n"), "outcome-used", "T1 1 138.4 done; T1 2 121 failed; T1 3 98 done")
	refuse("result-not-named.csv", usual, text("trainee,attempt,seconds,result\nT1,1,138.4,OK\nT1,2,121,fail\nT1,3,98,OK\n"), "--outcome result")
	add("result-ignored.csv", usual+" --ignore result", text("trainee,attempt,seconds,result\nT1,1,138.4,OK\nT1,2,121,fail\nT1,3,98,OK\n"), "T1 1 138.4 done; T1 2 121 done; T1 3 98 done")
	add("result-codes.csv", usual+" --outcome result --code OK=done --code fail=failed", text("trainee,attempt,seconds,result\nT1,1,138.4,OK\nT1,2,121,fail\nT1,3,98,OK\n"), "T1 1 138.4 done; T1 2 121 failed; T1 3 98 done")
	refuse("outcome-word.csv", usual+" --outcome outcome", text("trainee,attempt,seconds,outcome\nT1,1,138.4,DQ\n"), "DQ")
	refuse("done-without-time.csv", usual+" --outcome outcome", text("trainee,attempt,seconds,outcome\nT1,1,,done\nT1,2,98,done\n"), "since the outcome is done")
	refuse("two-tasks.csv", usual, text("trainee,task,attempt,seconds\nT1,knot,1,138.4\nT1,cut,2,121\nT1,knot,3,98\n"), "--where task=knot")
	warn("two-tasks-chosen.csv", usual+" --where task=knot", text("trainee,task,attempt,seconds\nT1,knot,1,138.4\nT1,cut,1,121\nT1,knot,2,98\n"), "rows-chosen", "T1 1 138.4 done; T1 2 98 done")
	refuse("long-measures.csv", "--trainee trainee --attempt attempt --response value --measure time --limit 300", text("trainee,attempt,measure,value\nT1,1,seconds,138.4\nT1,1,errors,2\nT1,2,seconds,121\nT1,2,errors,1\n"), "--where measure=seconds")
	warn("long-measures-chosen.csv", "--trainee trainee --attempt attempt --response value --measure time --limit 300 --where measure=seconds", text("trainee,attempt,measure,value\nT1,1,seconds,138.4\nT1,1,errors,2\nT1,2,seconds,121\nT1,2,errors,1\n"), "rows-chosen", "T1 1 138.4 done; T1 2 121 done")
	refuse("examiners-inside.csv", usual, text("trainee,role,attempt,seconds\nT1,trainee,1,138.4\nE1,examiner,1,50\nT1,trainee,2,121\n"), "--where role=trainee")
	warn("examiners-left-out.csv", usual+" --where role=trainee", text("trainee,role,attempt,seconds\nT1,trainee,1,138.4\nE1,examiner,1,50\nT1,trainee,2,121\n"), "rows-chosen", "T1 1 138.4 done; T1 2 121 done")
	refuse("where-nobody.csv", usual+" --where role=nurse", text("trainee,role,attempt,seconds\nT1,trainee,1,138.4\n"), "all were left out")
	refuse("where-no-column.csv", usual+" --where part=trainee", text("trainee,role,attempt,seconds\nT1,trainee,1,138.4\n"), "a column of this name")
	warn("totals.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT2,1,155.5\nTotal,,414.9\nMean,,138.3\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done")
	warn("means-inside.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,Mean,129.7\nT1,SD,12.3\nT2,1,155.5\nT2,2,140\nT2,Mean,147.75\nT2,SD,10.96\n"), "summary-rows", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	add("called-max.csv", usual, text("trainee,attempt,seconds\nMax,1,138.4\nMax,2,121\nMin,1,155.5\n"), "Max 1 138.4 done; Max 2 121 done; Min 1 155.5 done")
	refuse("total-without-name.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\n,,259.4\n"), "a trainee code")
	refuse("blank-codes.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\n,2,121\nT2,1,155.5\n,2,140\n"), "--fill-down trainee")
	add("blank-codes-filled.csv", usual+" --fill-down trainee", text("trainee,attempt,seconds\nT1,1,138.4\n,2,121\nT2,1,155.5\n,2,140\n"), "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	refuse("attempt-twice.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,1,98\n"), "each attempt of trainee T1 once; it is also on line 2")
	refuse("restart-unsaid.csv", usual, text("trainee,day,attempt,seconds\nT1,1,1,138.4\nT1,1,2,121\nT1,2,1,98.25\nT1,2,2,87.5\n"), "--session day")
	warn("restart.csv", usual+" --session day", text("trainee,day,attempt,seconds\nT1,1,1,138.4\nT1,1,2,121\nT1,2,1,98.25\nT1,2,2,87.5\n"), "numbered-through-sessions", "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T1 4 87.5 done")
	warn("restart-unordered.csv", usual+" --session day", text("trainee,day,attempt,seconds\nT1,10,1,87.5\nT1,9,1,138.4\nT1,9,2,121\n"), "numbered-through-sessions", "T1 1 138.4 done; T1 2 121 done; T1 3 87.5 done")
	refuse("crossover.csv", usual+" --arm arm", text("trainee,arm,period,attempt,seconds\nT1,box,1,1,138.4\nT1,sim,2,2,121\nT2,sim,1,1,155.5\nT2,box,2,2,140\n"), `--where "period=1"`)
	warn("crossover-first.csv", usual+" --arm arm --where period=1", text("trainee,arm,period,attempt,seconds\nT1,box,1,1,138.4\nT1,sim,2,1,121\nT2,sim,1,1,155.5\nT2,box,2,1,140\n"), "rows-chosen", "T1 1 138.4 done; T2 1 155.5 done")
	warn("attempt-words.csv", usual, text("trainee,attempt,seconds\nT1,Trial 1,138.4\nT1,Trial 2,121\n"), "attempt-words", "T1 1 138.4 done; T1 2 121 done")
	add("attempt-decimals.csv", usual, text("trainee,attempt,seconds\nT1,1.0,138.4\nT1,2.0,121\n"), "T1 1 138.4 done; T1 2 121 done")
	refuse("attempt-half.csv", usual, text("trainee,attempt,seconds\nT1,1.5,138.4\n"), "whole number")
	refuse("attempt-zero.csv", usual, text("trainee,attempt,seconds\nT1,0,138.4\nT1,1,121\n"), "--counted-from-zero")
	add("attempt-zero-said.csv", usual+" --counted-from-zero", text("trainee,attempt,seconds\nT1,0,138.4\nT1,1,121\n"), "T1 1 138.4 done; T1 2 121 done")
	warn("attempt-zero-left-out.csv", usual+" --without attempt=0", text("trainee,attempt,seconds\nT1,0,138.4\nT1,1,121\n"), "rows-left-out", "T1 1 121 done")
	warn("attempt-zero-nowhere.csv", usual+" --counted-from-zero", text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\n"), "no-attempt-zero", "T1 2 138.4 done; T1 3 121 done")
	refuse("wide-zero.csv", "--trainee trainee --response seconds --measure time --limit 300", text("trainee,A0,A1\nT1,138.4,121\n"), "--counted-from-zero")
	add("wide-zero-said.csv", "--trainee trainee --response seconds --measure time --limit 300 --counted-from-zero", text("trainee,A0,A1\nT1,138.4,121\n"), "T1 1 138.4 done; T1 2 121 done")
	warn("attempt-gap.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,3,121\n"), "attempt-gaps", "T1 1 138.4 done; T1 3 121 done")
	add("series.csv", "--attempt attempt --response seconds --measure time", text("attempt,seconds\n1,138.4\n2,121\n"), " 1 138.4 done;  2 121 done")
}

// identity are codes that look alike.
func identity() {
	rows := func(a, b string) []byte {
		return []byte("trainee,arm,attempt,seconds\n" + a + ",box,1,138.4\n" + b + ",box,1,121\n")
	}
	truth := func(a, b string) string { return a + " 1 138.4 done; " + b + " 1 121 done" }
	warn("codes-zero.csv", usual, rows("T1", "T01"), "similar-codes", truth("T1", "T01"))
	add("codes-joined.csv", usual+" --same T01=T1", []byte("trainee,attempt,seconds\nT1,1,138.4\nT01,2,121\n"), "T1 1 138.4 done; T1 2 121 done")
	warn("codes-case.csv", usual, rows("smith", "Smith"), "similar-codes", truth("smith", "Smith"))
	warn("codes-order.csv", usual, []byte("trainee;attempt;seconds\nSmith, J;1;138.4\nsmith j;1;121\n"), "similar-codes", truth("Smith, J", "smith j"))
	warn("codes-decimal.csv", usual, rows("1", "1.0"), "similar-codes", truth("1", "1.0"))
	warn("codes-dash.csv", usual, rows("T-1", "T 1"), "similar-codes", truth("T-1", "T 1"))
	add("codes-zero-width.csv", usual, []byte("trainee,attempt,seconds\nT1,1,138.4\nT1\u200b,2,121\n"), "T1 1 138.4 done; T1 2 121 done")
	add("codes-composed.csv", usual, []byte("trainee,attempt,seconds\nZo\u00eb,1,138.4\nZoe\u0308,2,121\n"), "Zoë 1 138.4 done; Zoë 2 121 done")
	add("codes-no-break.csv", usual, []byte("trainee,attempt,seconds\nA B,1,138.4\nA\u00a0B,2,121\n"), "A B 1 138.4 done; A B 2 121 done")
	warn("codes-full-width.csv", usual, rows("T1", "Ｔ１"), "similar-codes", truth("T1", "Ｔ１"))
	add("codes-leading-zero.csv", usual, rows("007", "008"), truth("007", "008"))
	warn("arms-case.csv", usual+" --arm arm", text("trainee,arm,attempt,seconds\nT1,Box,1,138.4\nT2,box,1,121\n"), "similar-codes", truth("T1", "T2"))
}

// dates are dates, and attempts that have nothing but dates.
func dates() {
	flags := usual + " --date date"
	numbered := "--trainee trainee --date date --response seconds --measure time --limit 300"
	truth := "T1 1 138.4 done; T1 2 121 done"
	rows := func(a, b string) []byte {
		return []byte("trainee\tdate\tattempt\tseconds\nT1\t" + a + "\t1\t138.4\nT1\t" + b + "\t2\t121\n")
	}
	add("dates.tsv", flags, rows("2026-02-02", "2026-02-09"), truth)
	add("dates-clock.tsv", flags, rows("2026-02-02 09:30", "2026-02-02T10:15:20"), truth)
	add("dates-points.tsv", flags, rows("02.02.2026", "19.02.2026"), truth)
	add("dates-slashes.tsv", flags, rows("02/02/2026", "02/19/2026"), truth)
	add("dates-words.tsv", flags, rows("2 Feb 2026", "19 Feb 2026"), truth)
	refuse("dates-unsure.tsv", flags, rows("02/03/2026", "02/10/2026"), "--dates day-first or --dates month-first")
	add("dates-said.tsv", flags+" --dates month-first", rows("02/03/2026", "02/10/2026"), truth)
	refuse("dates-mixed.tsv", flags, rows("02/19/2026", "19/02/2026"), "unreadable")
	refuse("dates-never.tsv", flags, rows("2026-02-02", "2026-02-30"), "2026-02-30")
	warn("dates-against.tsv", flags, rows("2026-02-09", "2026-02-02"), "dates-out-of-order", truth)
	refuse("dates-as-attempts.csv", usual, text("trainee,attempt,seconds\nT1,2026-02-02,138.4\nT1,2026-02-09,121\n"), "without --attempt numbers attempts by date")
	refuse("day-numbers-as-attempts.csv", usual, text("trainee,attempt,seconds\nT1,46055,138.4\nT1,46062,121\n"), "looks like a date")
	warn("dates-number.csv", numbered, text("trainee,date,seconds\nT1,2026-02-09,121\nT1,2026-02-02,138.4\nT2,2026-02-02,155.5\n"), "numbered-by-date", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done")
	warn("dates-number-clock.csv", numbered, text("trainee,date,seconds\nT1,2026-02-02 10:30:20,121\nT1,2026-02-02 10:30:05,138.4\n"), "numbered-by-date", truth)
	warn("dates-number-ties.csv", numbered, text("trainee,date,seconds\nT1,2026-02-02,138.4\nT1,2026-02-02,121\n"), "same-date", truth)
	warn("retest.csv", flags, text("trainee,date,attempt,seconds\nT1,2026-02-02,1,138.4\nT1,2026-02-03,2,121\nT1,2026-02-04,3,98\nT1,2026-08-05,4,110\n"), "long-break", "T1 1 138.4 done; T1 2 121 done; T1 3 98 done; T1 4 110 done")
	warn("dates-far.csv", flags, text("trainee,date,attempt,seconds\nT1,2022-02-01,1,138.4\nT1,2026-02-03,2,121\n"), "dates-far-apart", truth)
}
