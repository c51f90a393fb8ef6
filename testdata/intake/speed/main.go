//go:build unix

// Command speed holds the reading of a large log against R on the same file:
//
//	go run ./testdata/intake/speed [-forms] [-runs 3]
//
// It writes a million rows, and tables of 100,000 trainees and of 3,000 attempts beside
// each other, into a temporary folder, and prints for each what tyro check took of the
// processor and of memory. Where Rscript is there, it reads the same files with read.csv, in
// turn. With -forms it writes the million rows in the ways in which people have them, too.
package main

import (
	"bufio"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"
)

// A table is a file to read, with what a user would say of it.
type table struct {
	name  string
	rows  int
	flags []string
	write func(w *bufio.Writer, r *rand.Rand)
	r     string // how R reads it
}

// A form is how a log is written.
type form struct {
	separator, end string
	quoted         bool
	number         func(seconds float64) string
	date           string // of attempts; blank for none
}

// plain is the form of most logs.
var plain = form{separator: ",", end: "\n", number: func(v float64) string { return fmt.Sprintf("%.1f", v) }}

func main() {
	forms := flag.Bool("forms", false, "the million rows in the ways in which people have them, too")
	runs := flag.Int("runs", 3, "runs of each, of which the shortest is printed")
	flag.Parse()
	dir, err := os.MkdirTemp("", "speed")
	check(err)
	defer os.RemoveAll(dir)
	tyro := filepath.Join(dir, "tyro")
	run(exec.Command("go", "build", "-o", tyro, "./cmd/tyro"))
	empty := filepath.Join(dir, "few.csv")
	check(os.WriteFile(empty, []byte("trainee,attempt,seconds\nT1,1,98.5\nT1,2,90\n"), 0o644))
	_, base := run(exec.Command(tyro, "check", empty, "--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time"))
	tables := usual()
	if *forms {
		tables = append(tables, otherForms()...)
	}
	for _, t := range tables {
		path := filepath.Join(dir, t.name)
		f, err := os.Create(path)
		check(err)
		w := bufio.NewWriter(f)
		t.write(w, rand.New(rand.NewPCG(1, 2)))
		check(w.Flush())
		check(f.Close())
		ours, theirs := math.Inf(1), math.Inf(1)
		var memory, rMemory float64
		_, err = exec.LookPath("Rscript")
		for range *runs {
			seconds, kilobytes := run(exec.Command(tyro, append([]string{"check", path}, t.flags...)...))
			ours, memory = min(ours, seconds), max(memory, kilobytes)
			if err == nil {
				seconds, kilobytes = run(exec.Command("Rscript", "-e", fmt.Sprintf("d <- "+t.r, path)))
				theirs, rMemory = min(theirs, seconds), max(rMemory, kilobytes)
			}
		}
		fmt.Printf("%-14s %8d attempts: tyro check %.2f s of processor, %.0f MB, %.0f bytes an attempt (%.0f above a file of two)", t.name, t.rows, ours, memory/1000, memory*1000/float64(t.rows), (memory-base)*1000/float64(t.rows))
		if err == nil {
			fmt.Printf("; R %.2f s, %.0f MB; tyro takes %.2f of R", theirs, rMemory/1000, ours/theirs)
		}
		fmt.Println()
		check(os.Remove(path))
	}
}

// long is what a user would say of a log.
func long(more ...string) []string {
	return append([]string{"--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time", "--format", "json"}, more...)
}

func usual() []table {
	logOf := func(name string, trainees, attempts int) table {
		return table{name, trainees * attempts, long(), func(w *bufio.Writer, r *rand.Rand) { plain.log(w, r, trainees, attempts) }, "read.csv(%q)"}
	}
	return []table{
		logOf("million.csv", 25_000, 40),
		logOf("hundred.csv", 100_000, 10),
		logOf("trainees.csv", 100_000, 3),
		{"wide.csv", 90_000, []string{"--trainee", "trainee", "--response", "seconds", "--measure", "time", "--format", "json"}, wide, "read.csv(%q)"},
	}
}

// otherForms are the million rows as people have them.
func otherForms() []table {
	million := func(name, r string, change func(*form), flags ...string) table {
		f := plain
		change(&f)
		return table{name, 1_000_000, long(flags...), func(w *bufio.Writer, r *rand.Rand) { f.log(w, r, 25_000, 40) }, r}
	}
	utf16 := million("utf16.txt", `read.csv(%q, sep = "\t", fileEncoding = "UTF-16LE")`, func(f *form) { f.separator = "\t" })
	text := utf16.write
	utf16.write = func(w *bufio.Writer, r *rand.Rand) {
		narrow := bufio.NewWriter(widening{w})
		text(narrow, r)
		check(narrow.Flush())
	}
	return []table{
		million("quoted.csv", "read.csv(%q)", func(f *form) { f.quoted, f.end = true, "\r\n" }),
		million("semicolon.csv", "read.csv2(%q)", func(f *form) {
			f.separator = ";"
			f.number = func(v float64) string { return strings.Replace(fmt.Sprintf("%.1f", v), ".", ",", 1) }
		}),
		million("minutes.csv", "read.csv(%q)", func(f *form) {
			f.number = func(v float64) string { return fmt.Sprintf("%d:%02d", int(v)/60, int(v)%60) }
		}, "--times", "m:ss"),
		million("precise.csv", "read.csv(%q)", func(f *form) { f.number = func(v float64) string { return fmt.Sprintf("%.6f", v) } }),
		million("dated.csv", "read.csv(%q)", func(f *form) { f.date = "2006-01-02 15:04" }, "--date", "date"),
		million("moments.csv", "read.csv(%q)", func(f *form) { f.date = time.DateTime }, "--date", "date"),
		utf16,
		{"people.csv", 1_000_000, long(), func(w *bufio.Writer, r *rand.Rand) { plain.log(w, r, 1_000_000, 1) }, "read.csv(%q)"},
	}
}

// log writes a long log.
func (f form) log(w *bufio.Writer, r *rand.Rand, trainees, attempts int) {
	row := func(cells ...string) {
		for j, c := range cells {
			if j > 0 {
				w.WriteString(f.separator)
			}
			if f.quoted {
				c = `"` + c + `"`
			}
			w.WriteString(c)
		}
		w.WriteString(f.end)
	}
	head := []string{"trainee", "arm", "task", "session", "attempt", "seconds", "errors", "outcome"}
	if f.date != "" {
		head = append(head, "date")
	}
	row(head...)
	for i := range trainees {
		at := time.Date(2024, 1, 1, 8, 0, i%3600, 0, time.UTC)
		for n := range attempts {
			cells := []string{fmt.Sprintf("T%06d", i), [...]string{"spaced", "massed"}[i%2], "task", fmt.Sprint(n/5 + 1), fmt.Sprint(n + 1), f.number(20 + 100*r.Float64()), fmt.Sprint(r.IntN(4)), "done"}
			if f.date != "" {
				at = at.Add(time.Duration(n/5)*24*time.Hour + 7*time.Minute + time.Duration(i%60)*time.Second)
				cells = append(cells, at.Format(f.date))
			}
			row(cells...)
		}
	}
}

// widening writes plain letters as UTF-16, two bytes each.
type widening struct{ w *bufio.Writer }

func (w widening) Write(text []byte) (int, error) {
	for _, c := range text {
		w.w.WriteByte(c)
		w.w.WriteByte(0)
	}
	return len(text), nil
}

// wide writes 30 trainees with 3,000 attempts beside each other.
func wide(w *bufio.Writer, r *rand.Rand) {
	fmt.Fprint(w, "trainee")
	for n := range 3000 {
		fmt.Fprintf(w, ",A%d", n+1)
	}
	fmt.Fprintln(w)
	for i := range 30 {
		fmt.Fprintf(w, "T%02d", i)
		for range 3000 {
			fmt.Fprintf(w, ",%.1f", 20+100*r.Float64())
		}
		fmt.Fprintln(w)
	}
}

// run gives the processor time and the largest memory of a command.
func run(cmd *exec.Cmd) (seconds, kilobytes float64) {
	cmd.Stderr = os.Stderr
	check(cmd.Run())
	usage := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	kilobytes = float64(usage.Maxrss)
	if runtime.GOOS == "darwin" {
		kilobytes /= 1024
	}
	return (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), kilobytes
}

func check(err error) {
	if err != nil {
		panic(err)
	}
}
