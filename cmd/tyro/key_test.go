package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// Runs that share a key give everybody one code, also where they make the key at the same time.
func TestRunsShareAKey(t *testing.T) {
	dir := t.TempDir()
	log := "trainee,attempt,seconds\n"
	for i := range 300 {
		log += fmt.Sprintf("Name%03d,1,%d\n", i, 40+i%7)
	}
	if err := os.WriteFile(filepath.Join(dir, "log.csv"), []byte(log), 0o600); err != nil {
		t.Fatal(err)
	}
	key := filepath.Join(dir, "key.csv")
	out := func(n int) string { return filepath.Join(dir, fmt.Sprint("out", n)) }
	var wait sync.WaitGroup
	for n := range 6 {
		wait.Go(func() {
			tyro(t, 0, "check", filepath.Join(dir, "log.csv"), "--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time", "--pseudonyms", key, "--out", out(n), "--quiet")
		})
	}
	wait.Wait()
	first, err := os.ReadFile(filepath.Join(out(0), "attempts.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for n := range 6 {
		if other, err := os.ReadFile(filepath.Join(out(n), "attempts.csv")); err != nil || !bytes.Equal(first, other) {
			t.Errorf("run %d gave other codes than run 0 (%v)", n, err)
		}
	}
	kept, err := os.ReadFile(key)
	if err != nil || strings.Count(string(kept), "\n") != 301 {
		t.Errorf("the key has %d lines, want 301 (%v)", strings.Count(string(kept), "\n"), err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*.lock")); left != nil {
		t.Errorf("%v is left behind", left)
	}
}
