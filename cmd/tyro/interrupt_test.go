package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// program is the command as a program of its own: the test binary plays it under this
// name.
func program(t *testing.T) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("SKIPPED: Windows sends no interrupt to one process")
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "tyro")
	if err := os.Symlink(self, path); err != nil {
		t.Fatal(err)
	}
	return path
}

// longLog is a log that takes seconds to read.
func longLog(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("who,n,y,a,b,c,d,e\n")
	for i := range 1_000_000 {
		fmt.Fprintf(&b, "T%06d,%d,%d.5,1.25,2.5,3.75,4.5,5.5\n", i/20, i%20+1, i%20)
	}
	path := filepath.Join(t.TempDir(), "long.csv")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// An interrupt ends the command soon, whether it reads, computes or waits for a file
// that never comes; a second one ends it at once. It says so in one line, with status
// 130, and nothing is left of what it would have written.
func TestInterrupt(t *testing.T) {
	tyro, long, study := program(t), longLog(t), demoStudy(t)
	waiting := filepath.Join(t.TempDir(), "never.csv")
	if out, err := exec.Command("mkfifo", waiting).CombinedOutput(); err != nil {
		t.Fatalf("mkfifo: %v %s", err, out)
	}
	series := []string{"--trainee", "who", "--attempt", "n", "--response", "y"}
	for _, c := range []struct {
		name  string
		args  []string
		times int // interrupts, 30 ms apart
		most  time.Duration
	}{
		{"reading", append([]string{"check", long}, series...), 1, time.Second},
		{"computing", []string{"curve", study, "--replicates", "1000000", "--interval", "percentile"}, 1, time.Second},
		{"doing a shard", []string{"proficiency", study, "--replicates", "1000000", "--shard", "1/2"}, 1, time.Second},
		{"waiting", append([]string{"check", waiting}, series...), 1, time.Second},
		{"waiting, twice", append([]string{"check", waiting}, series...), 2, 400 * time.Millisecond},
	} {
		out := filepath.Join(t.TempDir(), "out")
		cmd := exec.Command(tyro, append(c.args, "--out", out)...)
		var talk bytes.Buffer
		cmd.Stderr = &talk
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(700 * time.Millisecond)
		started := time.Now()
		for range c.times {
			if err := cmd.Process.Signal(os.Interrupt); err != nil {
				t.Fatalf("%s: %v; it was over before: %s", c.name, err, talk.String())
			}
			time.Sleep(30 * time.Millisecond)
		}
		cmd.Wait()
		took := time.Since(started)
		t.Logf("%s: ended after %v", c.name, took.Round(time.Millisecond))
		if cmd.ProcessState.ExitCode() != exitInterrupted || took > c.most+slack() {
			t.Errorf("%s: exit status %d after %v, want %d within %v", c.name, cmd.ProcessState.ExitCode(), took, exitInterrupted, c.most)
		}
		left, err := os.ReadDir(filepath.Dir(out))
		if talk.String() != "tyro: interrupted\n" || err != nil || len(left) > 0 {
			t.Errorf("%s: says %q, leaves files: %v (%v)", c.name, talk.String(), left, err)
		}
	}
}

// slack is what a busy machine may add.
func slack() time.Duration { return 500 * time.Millisecond }

// A run that is killed leaves a folder that the next run puts right: all files of one
// run, nothing beside them, and nothing in the system's folder for temporary files.
func TestKilled(t *testing.T) {
	tyro, study := program(t), fewTrainees(t)
	out, temp := filepath.Join(t.TempDir(), "out"), t.TempDir()
	for k, seed := range []string{"1", "2", "3", "4"} {
		cmd := exec.Command(tyro, "standard", study, "--replicates", "20", "--seed", seed, "--out", out)
		cmd.Env = append(os.Environ(), "TMPDIR="+temp)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if k < 3 {
			time.Sleep(time.Duration(20+20*k) * time.Millisecond)
			cmd.Process.Kill()
		}
		cmd.Wait()
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			t.Errorf("%s is left", e.Name())
		}
		if strings.HasSuffix(e.Name(), ".json") && e.Name() != recordName {
			data, err := os.ReadFile(filepath.Join(out, e.Name()))
			if err != nil || !bytes.Contains(data, []byte(`"seed": 4,`)) {
				t.Errorf("%s is of another run (%v)", e.Name(), err)
			}
		}
	}
	if left, err := os.ReadDir(temp); err != nil || len(left) > 0 {
		t.Errorf("the folder for temporary files holds %v (%v)", left, err)
	}
}

// A mistake inside tyro is a plain sentence and status 1.
func TestBreakdown(t *testing.T) {
	var talk bytes.Buffer
	if got := brokeDown(&talk, "index out of range\x1b[31m"); got != exitData || strings.Count(talk.String(), "\n") != 1 || strings.Contains(talk.String(), "\x1b") {
		t.Errorf("exit status %d, %q", got, talk.String())
	}
	talk.Reset()
	status := run(t.Context(), []string{"curve", demoStudy(t)}, brokenWriter{}, &talk)
	if status != exitData || !strings.Contains(talk.String(), "mistake inside tyro") || strings.Contains(talk.String(), "goroutine") {
		t.Errorf("a panic is exit status %d and %q", status, talk.String())
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { panic("the output broke") }
