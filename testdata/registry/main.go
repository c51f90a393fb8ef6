//go:build unix

// Command registry makes a registry of many trainees as one Parquet file, and measures what
// a shard of tyro proficiency takes on it:
//
//	go run ./testdata/registry -write registry.parquet     write it and stop
//	go run ./testdata/registry                             measure the shard, the three tables, the merge
//	go run ./testdata/registry -merge                      measure the merge alone
//
// Every trainee improves along an exponential curve of seconds with lognormal noise, with a
// plateau, gain and rate of their own; the numbers are invented. The tables of README.md beside
// this file are what it printed.
package main

import (
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"
	"time"

	"github.com/parquet-go/parquet-go"

	"tyro/analysis/resample"
)

// A row is one attempt.
type row struct {
	Trainee string  `parquet:"trainee,dict,zstd"`
	Arm     string  `parquet:"arm,dict,zstd"`
	Attempt int32   `parquet:"attempt,dict,zstd"`
	Seconds float64 `parquet:"seconds,dict,zstd"` // to a tenth, as clocks show them
}

// rowsInGroup is how many rows a piece of the file has.
const rowsInGroup = 1 << 20

// write makes a registry.
func write(path string, trainees, attempts int) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	w := parquet.NewGenericWriter[row](f, parquet.MaxRowsPerRowGroup(rowsInGroup))
	rows := make([]row, attempts)
	for i := range trainees {
		r := resample.Stream(1, "registry", i)
		plateau, gain, rate := 45*math.Exp(0.2*r.NormFloat64()), 80*math.Exp(0.3*r.NormFloat64()), 0.25*math.Exp(0.3*r.NormFloat64())
		code, arm := fmt.Sprintf("T%07d", i+1), [...]string{"spaced", "massed"}[i%2]
		for n := range attempts {
			mean := plateau + gain*math.Exp(-rate*float64(n))
			rows[n] = row{code, arm, int32(n + 1), math.Round(10*mean*math.Exp(0.12*r.NormFloat64())) / 10}
		}
		if _, err := w.Write(rows); err != nil {
			return err
		}
	}
	return w.Close()
}

// A setting is one run that is measured.
type setting struct {
	trainees, attempts, replicates int
	of                             int // the first of so many shards is done
}

func main() {
	path := flag.String("write", "", "write the registry to this file, and stop")
	trainees := flag.Int("trainees", 1_000_000, "trainees of the registry")
	attempts := flag.Int("attempts", 20, "attempts of each")
	mergeOnly := flag.Bool("merge", false, "measure the merge alone")
	flag.Parse()
	if *path != "" {
		check(write(*path, *trainees, *attempts))
		return
	}
	dir, err := os.MkdirTemp("", "registry")
	check(err)
	defer os.RemoveAll(dir)
	m := measuring{dir: dir, tyro: filepath.Join(dir, "tyro"), written: map[[2]int]string{}}
	_, err = run(exec.Command("go", "build", "-o", m.tyro, "./cmd/tyro"))
	check(err)
	fmt.Printf("%d processors, %s\n", runtime.NumCPU(), runtime.Version())
	if *mergeOnly {
		m.merge(25_000, 50_000, 100_000)
		return
	}
	m.table("trainees", setting{1000, 20, 200, 1}, setting{2000, 20, 200, 1}, setting{4000, 20, 200, 1})
	m.table("attempts", setting{1000, 20, 200, 1}, setting{1000, 40, 200, 1}, setting{1000, 80, 200, 1})
	m.table("replicates", setting{1000, 20, 100, 1}, setting{1000, 20, 200, 1}, setting{1000, 20, 400, 1})
	m.merge(25_000, 50_000, 100_000)
	m.table("a shard of 1 %", setting{*trainees, *attempts, 200, 100})
}

// measuring keeps the registries that were written.
type measuring struct {
	dir, tyro string
	written   map[[2]int]string
}

// registry is the file of a registry.
func (m measuring) registry(trainees, attempts int) string {
	key := [2]int{trainees, attempts}
	if m.written[key] == "" {
		m.written[key] = filepath.Join(m.dir, fmt.Sprintf("%dx%d.parquet", trainees, attempts))
		check(write(m.written[key], trainees, attempts))
	}
	return m.written[key]
}

func (m measuring) table(name string, settings ...setting) {
	fmt.Printf("\n%s\n%10s %9s %11s %7s %12s %9s %8s %10s\n", name, "trainees", "attempts", "replicates", "shards", "processor s", "reading s", "clock s", "memory MB")
	for _, s := range settings {
		path, out := m.registry(s.trainees, s.attempts), filepath.Join(m.dir, "a.part")
		shard := func(of int) used {
			os.Remove(out)
			u, err := run(exec.Command(m.tyro, "proficiency", path, "--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--arm", "arm", "--measure", "time",
				"--standard", "60", "--rule", "2 in a row", "--replicates", strconv.Itoa(s.replicates), "--shard", fmt.Sprintf("1/%d", of), "--out", out))
			check(err)
			return u
		}
		one := shard(s.trainees) // of one trainee: what reading takes
		u := shard(s.of)
		fmt.Printf("%10d %9d %11d %7d %12.1f %9.1f %8.1f %10.0f\n", s.trainees, s.attempts, s.replicates, s.of, u.processor, one.processor, u.clock, u.memory)
		if info, err := os.Stat(out); err == nil && s.of > 1 {
			file, err := os.Stat(path)
			check(err)
			fmt.Printf("the part has %.1f MB, the registry's file %.0f MB\n", float64(info.Size())/1e6, float64(file.Size())/1e6)
		}
	}
}

// merge measures what joining the part of a whole registry takes, with few replicates: it does
// not hang on how many there were.
func (m measuring) merge(sizes ...int) {
	fmt.Printf("\nmerge, 20 attempts\n%10s %12s %8s %10s\n", "trainees", "processor s", "clock s", "memory MB")
	for _, n := range sizes {
		out := filepath.Join(m.dir, fmt.Sprintf("%d.part", n))
		_, err := run(exec.Command(m.tyro, "proficiency", m.registry(n, 20), "--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--arm", "arm", "--measure", "time",
			"--standard", "60", "--rule", "2 in a row", "--replicates", "20", "--family", "exponential", "--shard", "1/1", "--out", out))
		check(err)
		u, err := run(exec.Command(m.tyro, "merge", out, "--format", "json"))
		check(err)
		fmt.Printf("%10d %12.1f %8.1f %10.0f\n", n, u.processor, u.clock, u.memory)
	}
}

// used is what a process took.
type used struct{ processor, clock, memory float64 } // s, s, MB at most

func run(cmd *exec.Cmd) (used, error) {
	started := time.Now()
	out, err := cmd.CombinedOutput()
	if err != nil {
		return used{}, fmt.Errorf("%v: %w\n%s", cmd.Args, err, out)
	}
	u := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	return used{(cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), time.Since(started).Seconds(), float64(u.Maxrss) * 1024 / 1e6}, nil
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
