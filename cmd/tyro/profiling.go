package main

import (
	"errors"
	"os"
	"runtime"
	"runtime/pprof"

	"github.com/spf13/cobra"
)

// profiling writes where a run spends its time and memory, for those who want to make tyro
// faster: the flags are not in the help pages. Read the files with "go tool pprof".
type profiling struct {
	cpuFile, memoryFile string
	cpu                 *os.File
}

func (p *profiling) register(root *cobra.Command) {
	flags := root.PersistentFlags()
	flags.StringVar(&p.cpuFile, "cpuprofile", "", "write a profile of processor time into this new file")
	flags.StringVar(&p.memoryFile, "memprofile", "", "write a profile of memory into this new file")
	for _, name := range []string{"cpuprofile", "memprofile"} {
		flags.Lookup(name).Hidden = true
	}
}

// begin begins the profile of processor time, where asked for and nothing went wrong before.
func (p *profiling) begin(err error) error {
	if err != nil || p.cpuFile == "" {
		return err
	}
	if p.cpu, err = newFile(p.cpuFile); err != nil {
		return usageError{err}
	}
	return pprof.StartCPUProfile(p.cpu)
}

// stop ends it, and writes that of memory.
func (p *profiling) stop() error {
	var first, second error
	if p.cpu != nil {
		pprof.StopCPUProfile()
		first = p.cpu.Close()
	}
	if p.memoryFile != "" {
		second = writeHeap(p.memoryFile)
	}
	return errors.Join(first, second)
}

func writeHeap(name string) error {
	f, err := newFile(name)
	if err != nil {
		return err
	}
	runtime.GC()
	return errors.Join(pprof.WriteHeapProfile(f), f.Close())
}

// newFile makes a file that must not be there yet.
func newFile(name string) (*os.File, error) {
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
}
