//go:build unix

// Command speed holds the reading of a large log against R on the same file:
//
//	go run ./testdata/intake/speed
//
// It writes a million rows, and tables of 100,000 trainees and of 3,000 attempts beside
// each other, into a temporary folder, and prints for each what tyro check took of the
// processor and of memory. Where Rscript is there, it reads the same files with read.csv.
package main

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"syscall"
)

func main() {
	dir, err := os.MkdirTemp("", "speed")
	check(err)
	defer os.RemoveAll(dir)
	tyro := filepath.Join(dir, "tyro")
	run(exec.Command("go", "build", "-o", tyro, "./cmd/tyro"))
	empty := filepath.Join(dir, "few.csv")
	check(os.WriteFile(empty, []byte("trainee,attempt,seconds\nT1,1,98.5\nT1,2,90\n"), 0o644))
	_, base := run(exec.Command(tyro, "check", empty, "--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time"))
	long := []string{"--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time", "--format", "json"}
	for _, c := range []struct {
		name  string
		rows  int
		flags []string
		write func(w *bufio.Writer, r *rand.Rand)
	}{
		{"million.csv", 1_000_000, long, func(w *bufio.Writer, r *rand.Rand) { logOf(w, r, 25_000, 40) }},
		{"trainees.csv", 300_000, long, func(w *bufio.Writer, r *rand.Rand) { logOf(w, r, 100_000, 3) }},
		{"wide.csv", 90_000, []string{"--trainee", "trainee", "--response", "seconds", "--measure", "time", "--format", "json"}, wide},
	} {
		path := filepath.Join(dir, c.name)
		f, err := os.Create(path)
		check(err)
		w := bufio.NewWriter(f)
		c.write(w, rand.New(rand.NewPCG(1, 2)))
		check(w.Flush())
		check(f.Close())
		seconds, kilobytes := run(exec.Command(tyro, append([]string{"check", path}, c.flags...)...))
		fmt.Printf("%-14s %8d attempts: tyro check %.2f s of processor, %.0f MB, %.0f bytes an attempt (%.0f above a file of two)", c.name, c.rows, seconds, kilobytes/1000, kilobytes*1000/float64(c.rows), (kilobytes-base)*1000/float64(c.rows))
		if _, err := exec.LookPath("Rscript"); err == nil {
			seconds, kilobytes = run(exec.Command("Rscript", "-e", fmt.Sprintf("d <- read.csv(%q)", path)))
			fmt.Printf("; R read.csv %.2f s, %.0f MB", seconds, kilobytes/1000)
		}
		fmt.Println()
	}
}

// logOf writes a long log.
func logOf(w *bufio.Writer, r *rand.Rand, trainees, attempts int) {
	fmt.Fprintln(w, "trainee,arm,task,session,attempt,seconds,errors,outcome")
	for i := range trainees {
		for n := range attempts {
			fmt.Fprintf(w, "T%06d,%s,task,%d,%d,%.1f,%d,done\n", i, [...]string{"spaced", "massed"}[i%2], n/5+1, n+1, 20+100*r.Float64(), r.IntN(4))
		}
	}
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
