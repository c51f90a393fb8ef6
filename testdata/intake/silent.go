package main

import "strings"

// silent are files that were once read wrongly without a word, each with the general cause:
// commas that cut as many cells as semicolons, rows and columns that sum up others in the
// trade's other languages, and columns that nobody named and that change what counts.
func silent() {
	long := strings.Replace(usual, " --limit 300", " --limit 600", 1)
	wide := "--trainee trainee --response seconds --measure time --limit 300"
	add("semicolon-wide-commas.csv", wide, text("trainee;1. Versuch;2. Versuch;3. Versuch\nT1;138,4;121,0;98,3\nT2;155,5;140,0;119,8\n"), "T1 1 138.4 done; T1 2 121 done; T1 3 98.3 done; T2 1 155.5 done; T2 2 140 done; T2 3 119.8 done")
	add("tab-wide-commas.tsv", wide, text("trainee\tT1\tT2\nA\t138,4\t121,0\nB\t155,5\t140,0\n"), "A 1 138.4 done; A 2 121 done; B 1 155.5 done; B 2 140 done")
	refuse("mean-of-every-attempt.csv", usual, text("trainee;attempt;seconds\nT1;1;138,4\nT1;2;121,0\nT2;1;155,5\nT2;2;140,0\nMittelwert;1;147,0\nMittelwert;2;130,5\n"), `--without "trainee=Mittelwert"`)
	warn("mean-beside-trainees.csv", "--attempt run --columns-are trainee --response seconds --measure time --limit 300", text("run,T1,T2,Mean,SD\n1,138.4,155.5,147,12\n2,121,140,130.5,13\n"), "summary-columns", "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	add("initials-like-sums.csv", wide, text("trainee,T1,T2\nSD,138.4,121\nMW,155.5,140\nN,150,139\n"), "SD 1 138.4 done; SD 2 121 done; MW 1 155.5 done; MW 2 140 done; N 1 150 done; N 2 139 done")
	refuse("unlike-codes-last.csv", wide, text("trainee,T1,T2\nP01,138.4,121\nP02,155.5,140\nP03,150,139\nOberwert,160,150\n"), `--without "trainee=Oberwert"`)
	warn("percentile-row.csv", wide, text("trainee,T1,T2\nP01,138.4,121\nP02,155.5,140\nPerzentil 75,150,139\n"), "summary-rows", "P01 1 138.4 done; P01 2 121 done; P02 1 155.5 done; P02 2 140 done")
	refuse("second-table-below.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\ntrainee,Mean,SD\nT1,129,12\n"), "names of a second one")
	warn("decimals-as-cells.csv", usual, text("trainee,attempt,seconds,remark\nT1,1,138,4\nT1,2,121,0\nT1,3,98,3\nT1,4,87,5\nT2,1,155,9\nT2,2,140,2\n"), "decimals-beside", "T1 1 138 done; T1 2 121 done; T1 3 98 done; T1 4 87 done; T2 1 155 done; T2 2 140 done")
	tail := "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T1 4 87.5 done; T2 1 155.5 done; T2 2 14 done; T2 3 119.75 done; T2 4 101 done"
	warn("digit-lost.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,3,98.25\nT1,4,87.5\nT2,1,155.5\nT2,2,14\nT2,3,119.75\nT2,4,101\n"), "far-from-others", tail)
	warn("stopped-without-limit.csv", strings.Replace(usual, " --limit 300", "", 1), text("trainee,attempt,seconds\nT1,1,120\nT1,2,120\nT1,3,98\nT2,1,120\nT2,2,101\n"), "stopped-at-longest", "T1 1 120 done; T1 2 120 done; T1 3 98 done; T2 1 120 done; T2 2 101 done")
	warn("shares-among-percentages.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), text("trainee,attempt,seconds\nT1,1,0.85\nT1,2,88\nT1,3,0.91\nT1,4,95\n"), "shares-among-percentages", "T1 1 0.85 done; T1 2 88 done; T1 3 0.91 done; T1 4 95 done")
	one := "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done"
	warn("yes-no-unnamed.csv", usual, text("trainee,attempt,seconds,geslaagd\nT1,1,138.4,nee\nT1,2,121,ja\nT1,3,98.25,ja\n"), "yes-no-unread", one)
	refuse("valid-in-german.csv", usual, text("trainee,attempt,seconds,gültig\nT1,1,138.4,nein\nT1,2,121,ja\nT1,3,98.25,ja\n"), "--without")
	refuse("no-consent.csv", usual, text("trainee,attempt,seconds,consent\nT1,1,138.4,yes\nT2,1,121,no\n"), `--without "consent=no"`)
	warn("tasks-in-polish.csv", usual, text("trainee,attempt,seconds,zadanie\nT1,1,138.4,szew\nT1,2,121,szew\nT1,3,98.25,wezel\n"), "column-varies", one)
	refuse("tasks-in-german.csv", usual, text("trainee,attempt,seconds,Aufgabe\nT1,1,138.4,Naht\nT1,2,121,Naht\nT1,3,98.25,Knoten\n"), "--where Aufgabe=Naht")
	refuse("status-in-numbers.csv", usual, text("trainee,attempt,seconds,status\nT1,1,138.4,1\nT1,2,121,1\nT1,3,98.25,9\nT1,4,90,1\nT2,1,97,1\nT2,2,91,1\n"), "--outcome status")
	refuse("rows-counted.csv", usual, text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,3,98.25\nT2,4,155.5\nT2,5,140\nT2,6,119.75\n"), "each trainee's attempts from 1 on")
	refuse("limit-given-in-minutes.csv", strings.Replace(usual, "300", "5", 1), text("trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,3,98.25\nT1,4,87.5\n"), "give the limit in seconds")
	refuse("hours-or-minutes-long.csv", strings.Replace(usual, "300", "7200", 1), text("trainee,attempt,seconds\nT1,1,1:35\nT1,2,1:20\nT1,3,1:25\nT1,4,1:10\n"), "--times h:mm:ss")
	add("hours-said.csv", strings.Replace(usual, "300", "7200", 1)+" --times h:mm:ss", text("trainee,attempt,seconds\nT1,1,1:35\nT1,2,1:20\nT1,3,1:25\nT1,4,1:10\n"), "T1 1 5700 done; T1 2 4800 done; T1 3 5100 done; T1 4 4200 done")
	warn("arm-one-letter.csv", long+" --arm arm", text("trainee,arm,attempt,seconds\nT1,simulator,1,138.4\nT2,simulater,1,121\n"), "similar-codes", "T1 1 138.4 done; T2 1 121 done")
	refuse("arm-once.csv", long+" --arm arm", text("trainee,arm,attempt,seconds\nT1,box,1,138.4\nT1,,2,121\n"), "--fill-down arm")
	warn("ordinals.csv", usual, text("trainee,attempt,seconds\nT1,1st,138.4\nT1,2nd,121\nT1,3rd,98.25\n"), "attempt-words", one)
	add("pass-words-german.csv", strings.Replace(usual, " --measure time --limit 300", " --measure pass-fail", 1), text("trainee;attempt;seconds\nT1;1;nein\nT1;2;nicht bestanden\nT1;3;bestanden\n"), "T1 1 0 done; T1 2 0 done; T1 3 1 done")
	refuse("heads-of-weeks.csv", wide, text("trainee,Week 1,Week 2,Week 12\nT1,138.4,121,98.25\n"), "points in time")
	refuse("heads-of-clocks.csv", wide, text("trainee,09:00,09:30,10:00\nT1,138.4,121,98.25\n"), "points in time")
	refuse("heads-of-years.csv", wide, text("trainee,2024,2025,2026\nT1,138.4,121,98.25\n"), "points in time")
	refuse("columns-of-trainees.csv", "--attempt run --response seconds --measure time --limit 300", text("run,T1,T2\n1,138.4,155.5\n2,121,140\n"), "--columns-are trainee")
	refuse("score-maxima.csv", strings.Replace(usual, " --measure time --limit 300", " --measure score", 1), text("trainee,attempt,seconds,max\nT1,1,12,30\nT1,2,14,30\nT1,3,13,25\n"), "one maximum")
}
