package main

import (
	"os"
	"path/filepath"
	"strings"
)

// A folder is a study of several files, by name, with its study file.
type folder map[string]string

// head of the study files below; the files and what holds of them follow.
const (
	fourFiles = "tasks: [{name: task, measure: time, column: seconds, limit: 300}]\nattempts:\n"
	twoFiles  = fourFiles + "  files: [a.csv, b.csv]\n"
)

// addStudy puts a study that must be read as meant; warnStudy and refuseStudy are like warn
// and refuse.
func addStudy(name string, f folder, truth string)        { putStudy(name, f, "read", "", truth) }
func warnStudy(name string, f folder, code, truth string) { putStudy(name, f, "warn", code, truth) }
func refuseStudy(name string, f folder, words string)     { putStudy(name, f, "refuse", words, "") }

func putStudy(name string, f folder, verdict, says, truth string) {
	put(name+"/", "study", nil, verdict, says, truth)
	all[len(all)-1].files = f
}

func (f folder) write(dir string) {
	check(os.MkdirAll(dir, 0o755))
	for name, text := range f {
		check(os.WriteFile(filepath.Join(dir, name), []byte(strings.TrimLeft(text, "\n")), 0o644))
	}
}

// studies are files given together: every one is written in its own way, and settled by itself.
func studies() {
	const points, commas = "trainee,attempt,seconds\nT1,1,138.4\nT1,2,121\nT1,3,98.25\nT1,4,87.5\n", "trainee;attempt;seconds\nT2;1;155,5\nT2;2;140\nT2;3;119,75\nT2;4;101\n"
	addStudy("marks-differ", folder{"study.yaml": twoFiles, "a.csv": points, "b.csv": commas}, base)
	addStudy("marks-differ-files-are", folder{"study.yaml": twoFiles + "  files_are: session\n", "a.csv": points, "b.csv": commas}, base)
	// The same text means two things: 1384 s where thousands are set apart, 1.384 s beside 2,5.
	const noLimit = "tasks: [{name: task, measure: time, column: seconds}]\nattempts:\n  files: [a.csv, b.csv]\n"
	addStudy("same-text-two-values", folder{"study.yaml": noLimit + "  times: seconds\n",
		"a.csv": "trainee,attempt,seconds\nT1,1,\"1,384\"\nT1,2,\"2,384.5\"\n",
		"b.csv": "trainee;attempt;seconds\nT2;1;1,384\nT2;2;2,5\n",
	}, "T1 1 1384 done; T1 2 2384.5 done; T2 1 1.384 done; T2 2 2.5 done")
	// Alone it could be either; the other file of the same program shows commas.
	warnStudy("mark-shown-by-the-other", folder{"study.yaml": noLimit,
		"a.csv": "trainee;attempt;seconds\nT1;1;91,384\nT1;2;88,125\n",
		"b.csv": "trainee;attempt;seconds\nT2;1;95,5\nT2;2;81,25\n",
	}, "as-other-files", "T1 1 91.384 done; T1 2 88.125 done; T2 1 95.5 done; T2 2 81.25 done")
	// The other file comes from another program, and says nothing about this one.
	refuseStudy("mark-not-shown", folder{"study.yaml": noLimit,
		"a.csv": "trainee\tattempt\tseconds\nT1\t1\t91,384\nT1\t2\t88,125\n",
		"b.csv": "trainee;attempt;seconds\nT2;1;95,5\nT2;2;81,25\n",
	}, `a.csv: column "seconds": "91,384": could mean two things`)
	addStudy("mark-said-of-one", folder{"study.yaml": noLimit + "  per_file: {a.csv: {decimal: comma}}\n",
		"a.csv": "trainee\tattempt\tseconds\nT1\t1\t91,384\nT1\t2\t88,125\n",
		"b.csv": "trainee;attempt;seconds\nT2;1;95,5\nT2;2;81,25\n",
	}, "T1 1 91.384 done; T1 2 88.125 done; T2 1 95.5 done; T2 2 81.25 done")
	refuseStudy("per-file-unknown", folder{"study.yaml": twoFiles + "  per_file: {c.csv: {decimal: comma}}\n", "a.csv": points, "b.csv": commas}, "one of the files a.csv, b.csv")
	refuseStudy("marks-differ-in-one", folder{"study.yaml": twoFiles, "a.csv": "trainee;attempt;seconds\nT1;1;138.4\nT1;2;121,5\n", "b.csv": commas}, `a.csv: column "seconds": "121,5 and 138.4"`)
	// Days first in one, months first in the other, both shown.
	addStudy("date-orders-differ", folder{"study.yaml": fourFiles + "  files: [a.csv, b.csv]\n  columns: {date: day}\n",
		"a.csv": "trainee,day,seconds\nT1,13/02/2026,138.4\nT1,03/02/2026,140\n",
		"b.csv": "trainee;day;seconds\nT2;02/13/2026;121\nT2;02/03/2026;130\n",
	}, "T1 1 140 done; T1 2 138.4 done; T2 1 130 done; T2 2 121 done")
	refuseStudy("date-order-not-shown", folder{"study.yaml": fourFiles + "  files: [a.csv, b.csv]\n  columns: {date: day}\n",
		"a.csv": "trainee,day,seconds\nT1,13/02/2026,138.4\nT1,03/02/2026,140\n",
		"b.csv": "trainee;day;seconds\nT2;02/03/2026;121\nT2;03/02/2026;130\n",
	}, `b.csv:2: column "day": "02/03/2026"`)
	addStudy("date-order-said-of-one", folder{"study.yaml": fourFiles + "  files: [a.csv, b.csv]\n  columns: {date: day}\n  per_file: {b.csv: {dates: month-first}}\n",
		"a.csv": "trainee,day,seconds\nT1,13/02/2026,138.4\nT1,03/02/2026,140\n",
		"b.csv": "trainee;day;seconds\nT2;02/03/2026;121\nT2;03/02/2026;130\n",
	}, "T1 1 140 done; T1 2 138.4 done; T2 1 121 done; T2 2 130 done")
	// Minutes in one, seconds in the other.
	refuseStudy("units-differ", folder{"study.yaml": twoFiles,
		"a.csv": "trainee,attempt,seconds\nT1,1,2.5\nT1,2,2.25\nT1,3,1.75\n",
		"b.csv": "trainee,attempt,seconds\nT2,1,155\nT2,2,140\nT2,3,119\n",
	}, `a.csv: column "seconds": "1.75": could mean two things`)
	refuseStudy("units-differ-no-limit", folder{"study.yaml": noLimit,
		"a.csv": "trainee,attempt,seconds\nT1,1,2.5\nT1,2,2.25\nT1,3,1.75\n",
		"b.csv": "trainee,attempt,seconds\nT2,1,155\nT2,2,140\nT2,3,119\nT2,4,118\n",
	}, `a.csv: column "seconds": "1.75": could mean two things`)
	addStudy("units-said", folder{"study.yaml": twoFiles + "  per_file: {a.csv: {times: minutes}}\n",
		"a.csv": "trainee,attempt,seconds\nT1,1,2.5\nT1,2,2.25\nT1,3,1.75\n",
		"b.csv": "trainee,attempt,seconds\nT2,1,155\nT2,2,140\nT2,3,119\n",
	}, "T1 1 150 done; T1 2 135 done; T1 3 105 done; T2 1 155 done; T2 2 140 done; T2 3 119 done")
	addStudy("clock-and-seconds-in-two", folder{"study.yaml": twoFiles,
		"a.csv": "trainee,attempt,seconds\nT1,1,2:18.4\nT1,2,2:01\n",
		"b.csv": "trainee;attempt;seconds\nT2;1;155,5\nT2;2;140\n",
	}, "T1 1 138.4 done; T1 2 121 done; T2 1 155.5 done; T2 2 140 done")
	addStudy("suffix-of-one", folder{"study.yaml": twoFiles + "  per_file: {b.csv: {unit_suffix: tick}}\n",
		"a.csv": "trainee,attempt,seconds\nT1,1,138.4\n",
		"b.csv": "trainee;attempt;seconds\nT2;1;155,5 tick\n",
	}, "T1 1 138.4 done; T2 1 155.5 done")
	refuseStudy("bad-cell-of-the-second", folder{"study.yaml": twoFiles, "a.csv": points, "b.csv": "trainee;attempt;seconds\nT2;1;abc\n"}, `b.csv:2: column "seconds": "abc"`)
	refuseStudy("attempt-in-both", folder{"study.yaml": twoFiles, "a.csv": points, "b.csv": "trainee;attempt;seconds\nT1;4;90,5\n"}, `b.csv:2: column "attempt": "4": duplicate, expected each attempt of trainee T1 once; it is also on line 5 of a.csv`)
	// Moments to the second order attempts, file by file.
	addStudy("moments-in-two", folder{"study.yaml": fourFiles + "  files: [a.csv, b.csv]\n  columns: {date: day}\n",
		"a.csv": "trainee,day,seconds\nT1,2026-02-03 10:00:40,138.4\nT1,2026-02-03 10:00:10,140\n",
		"b.csv": "trainee,day,seconds\nT2,2026-02-03 10:00:10,121\nT2,2026-02-03 10:00:40,130\n",
	}, "T1 1 140 done; T1 2 138.4 done; T2 1 121 done; T2 2 130 done")
	addStudy("wide-and-marks", folder{"study.yaml": twoFiles,
		"a.csv": "trainee,A1,A2\nT1,138.4,121.5\n",
		"b.csv": "trainee;A1;A2\nT2;155,5;140\n",
	}, "T1 1 138.4 done; T1 2 121.5 done; T2 1 155.5 done; T2 2 140 done")
	refuseStudy("column-of-one-file", folder{"study.yaml": twoFiles, "a.csv": points, "b.csv": "trainee,attempt,secs\nT2,1,155.5\n"}, `b.csv: column "seconds": missing, expected the same column names in every file`)
	warnStudy("outcome-of-one-file", folder{"study.yaml": twoFiles, "a.csv": "trainee,attempt,seconds,outcome\nT1,1,138.4,done\nT1,2,,failed\n", "b.csv": "trainee,attempt,seconds\nT2,1,155.5\n"}, "column-not-in-all", "T1 1 138.4 done; T1 2 - failed; T2 1 155.5 done")
}
