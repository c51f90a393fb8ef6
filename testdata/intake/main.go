// Command intake writes the corpus of files that people have, with the truth of each.
//
//	go run ./testdata/intake
//
// Every file is built from rows written down here, and its truth is written beside them by
// hand: what the person who made the file meant, or that the file must be refused, or
// read with a warning. Nothing is copied from what tyro makes of it. TestIntakeCorpus in
// cmd/tyro reads every file and holds it against truth.tsv.
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// A sample is one file with its truth.
type sample struct {
	name, flags string
	data        []byte
	verdict     string // read, warn or refuse
	says        string // code of a warning, after ! of one that there must not be; or words of a refusal
	truth       string // attempts as "trainee number value outcome", with ; between
	files       folder // of a study; nil for a single file
}

var all []sample

// usual are the flags of a file in the usual long form.
const usual = "--trainee trainee --attempt attempt --response seconds --measure time --limit 300"

// base is what most files hold: two trainees, four attempts each, in seconds.
const base = "T1 1 138.4 done; T1 2 121 done; T1 3 98.25 done; T1 4 87.5 done; T2 1 155.5 done; T2 2 140 done; T2 3 119.75 done; T2 4 101 done"

// add puts a file that must be read as meant.
func add(name, flags string, data []byte, truth string) { put(name, flags, data, "read", "", truth) }

// warn puts a file that must be read as given, with a warning of this code.
func warn(name, flags string, data []byte, code, truth string) {
	put(name, flags, data, "warn", code, truth)
}

// without puts a file that must be read as meant, without a warning of this code.
func without(name, flags string, data []byte, code, truth string) {
	put(name, flags, data, "read", "!"+code, truth)
}

// refuse puts a file that must be refused with these words.
func refuse(name, flags string, data []byte, words string) {
	put(name, flags, data, "refuse", words, "")
}

func put(name, flags string, data []byte, verdict, says, truth string) {
	for _, s := range all {
		if s.name == name {
			panic("twice: " + name)
		}
	}
	all = append(all, sample{name, flags, data, verdict, says, truth, nil})
}

func text(s string) []byte { return []byte(strings.TrimLeft(s, "\n")) }

func main() {
	delimited()
	numbers()
	times()
	wide()
	heads()
	columns()
	identity()
	dates()
	workbooks()
	openDocuments()
	damaged()
	ratings()
	more()
	office()
	strangers()
	silent()
	markedBooks()
	markedOpen()
	minutes()
	misdated()
	studies()
	folder := filepath.Join("testdata", "intake", "files")
	check(os.RemoveAll(folder))
	check(os.MkdirAll(folder, 0o755))
	var b strings.Builder
	b.WriteString("# file\tflags\tverdict\tsays\tattempts: trainee, number, value, outcome\n")
	for _, s := range all {
		if s.files != nil {
			s.files.write(filepath.Join(folder, s.name))
		} else {
			check(os.WriteFile(filepath.Join(folder, s.name), s.data, 0o644))
		}
		fmt.Fprintf(&b, "%s\t%s\t%s\t%s\t%s\n", s.name, s.flags, s.verdict, s.says, s.truth)
	}
	check(os.WriteFile(filepath.Join("testdata", "intake", "truth.tsv"), []byte(b.String()), 0o644))
	fmt.Printf("%d files\n", len(all))
}

func check(err error) {
	if err != nil {
		panic(err)
	}
}
