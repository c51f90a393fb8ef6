package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	batch "k8s.io/api/batch/v1"
)

// A cutStudy is a folder with a log, the work folder of a test, and the flags of a run on it
// that is cut.
type cutStudy struct {
	dir   string
	args  []string
	whole string // the run's answer as text
	env   []string
}

// newCutStudy makes a log of 20 trainees, who all improve; t works in its folder.
func newCutStudy(t *testing.T) cutStudy {
	t.Helper()
	c := cutStudy{dir: t.TempDir(), args: []string{"proficiency", "log.csv", "--trainee", "who", "--attempt", "n", "--response", "sec", "--arm", "arm",
		"--measure", "time", "--standard", "60", "--rule", "2 in a row", "--family", "exponential", "--replicates", "20"}}
	t.Chdir(c.dir)
	if err := os.WriteFile("log.csv", []byte(improving(20, 12)), 0o644); err != nil {
		t.Fatal(err)
	}
	c.whole, _ = tyro(t, 0, c.args...)
	c.env = append(os.Environ(), "TYRO="+program(t))
	return c
}

// improving is a log of so many trainees in two arms with so many attempts each.
func improving(trainees, attempts int) string {
	var b strings.Builder
	b.WriteString("who,arm,n,sec\n")
	for i := range trainees {
		for n := range attempts {
			sec := 40 + i%7 + (70+3*(i%5))*(attempts-n)/(attempts+2*n) + (i*7+n*11)%9
			fmt.Fprintf(&b, "T%02d,%s,%d,%d\n", i, [...]string{"tie", "glue"}[i%2], n+1, sec)
		}
	}
	return b.String()
}

// scripts writes the scripts for a number of shards into a folder.
func (c cutStudy) scripts(t *testing.T, folder string, more ...string) {
	t.Helper()
	_, talk := tyro(t, 0, append(append([]string{}, c.args...), append([]string{"--slurm", folder}, more...)...)...)
	if !strings.Contains(talk, "nothing was started") {
		t.Errorf("says %q", talk)
	}
}

// sh runs a script and gives what it printed and its exit status.
func (c cutStudy) sh(t *testing.T, more []string, args ...string) (string, int) {
	t.Helper()
	cmd := exec.Command("sh", args...)
	cmd.Env = append(c.env, more...)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Run(); err != nil && cmd.ProcessState == nil {
		t.Fatal(err)
	}
	return out.String(), cmd.ProcessState.ExitCode()
}

// answered holds an answer against that of the whole run.
func (c cutStudy) answered(t *testing.T, folder string) {
	t.Helper()
	got, err := os.ReadFile(filepath.Join(folder, "answer.txt"))
	if err != nil || string(got) != c.whole {
		t.Errorf("the merged answer has %d bytes (%v), that of the whole run %d", len(got), err, len(c.whole))
	}
}

// damage changes one byte in the middle of a file.
func damage(t *testing.T, path string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	data[len(data)/2] ^= 1
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// The scripts by hand, as any engine runs them: eight shards in three tasks, an odd name of the
// folder, a part damaged, a shard that fails, and what is missing made by the same command.
func TestShardScripts(t *testing.T) {
	c := newCutStudy(t)
	folder := "it's a 'folder' $HOME"
	c.scripts(t, folder, "--shards", "8", "--array-limit", "3")
	script := func(name string) string { return filepath.Join(folder, name) }
	if out, status := c.sh(t, nil, script("missing.sh")); status != 0 || out != "1\n2\n3\n" {
		t.Fatalf("missing tasks: %q, status %d", out, status)
	}
	for _, task := range []string{"2", "3"} {
		if out, status := c.sh(t, nil, script("shard.sh"), task); status != 0 {
			t.Fatalf("task %s: status %d, %s", task, status, out)
		}
	}
	if out, status := c.sh(t, nil, script("merge.sh")); status != 1 || !strings.Contains(out, "3 of 8 parts are missing: shards 1-3") {
		t.Errorf("merging 5 of 8: status %d, %s", status, out)
	}
	if err := os.Rename("log.csv", "away.csv"); err != nil {
		t.Fatal(err)
	}
	if out, status := c.sh(t, nil, script("shard.sh"), "1"); status != 1 || !strings.Contains(out, "shard 1 failed with status 1") {
		t.Errorf("without its study: status %d, %s", status, out)
	}
	if err := os.Rename("away.csv", "log.csv"); err != nil {
		t.Fatal(err)
	}
	damage(t, filepath.Join(folder, "parts", "5-of-8.part"))
	if out, status := c.sh(t, nil, script("missing.sh")); status != 0 || !strings.Contains(out, "5-of-8.part is not a whole part") || !strings.HasSuffix(out, "\n1\n2\n") {
		t.Errorf("missing tasks: %q, status %d", out, status)
	}
	for _, task := range []string{"1", "2"} {
		if out, status := c.sh(t, nil, script("shard.sh"), task); status != 0 {
			t.Fatalf("task %s: status %d, %s", task, status, out)
		}
	}
	if out, status := c.sh(t, nil, script("merge.sh"), "--out", filepath.Join(folder, "answer.txt")); status != 0 {
		t.Fatalf("merging: status %d, %s", status, out)
	}
	c.answered(t, folder)
}

// GNU parallel does the same shards to the same bytes; a shard that fails ends it with 1.
func TestParallel(t *testing.T) {
	if _, err := exec.LookPath("parallel"); err != nil {
		t.Skip("SKIPPED: GNU parallel is not installed")
	}
	c := newCutStudy(t)
	c.scripts(t, "cluster", "--shards", "8")
	if err := os.Rename("log.csv", "away.csv"); err != nil {
		t.Fatal(err)
	}
	if out, status := c.sh(t, nil, "cluster/parallel.sh", "--jobs", "2"); status != 1 || exists("cluster/answer.txt") {
		t.Errorf("without its study: status %d, %s", status, out)
	}
	if err := os.Rename("away.csv", "log.csv"); err != nil {
		t.Fatal(err)
	}
	if out, status := c.sh(t, nil, "cluster/parallel.sh", "--jobs", "2"); status != 0 {
		t.Fatalf("status %d, %s", status, out)
	}
	c.answered(t, "cluster")
}

// The manifest has only fields of the API's own types (k8s.io/api, batch/v1), and what an
// Indexed Job needs.
func TestKubernetesManifest(t *testing.T) {
	c := newCutStudy(t)
	c.scripts(t, "a \"folder\"", "--shards", "120", "--array-limit", "60")
	text, err := os.ReadFile("a \"folder\"/kubernetes.yaml")
	if err != nil {
		t.Fatal(err)
	}
	asJSON, err := yaml.YAMLToJSON(text)
	if err != nil {
		t.Fatal(err)
	}
	var job batch.Job
	d := json.NewDecoder(bytes.NewReader(asJSON))
	d.DisallowUnknownFields()
	if err := d.Decode(&job); err != nil {
		t.Fatal(err)
	}
	s := job.Spec
	pod := s.Template.Spec
	if job.APIVersion != "batch/v1" || job.Kind != "Job" || *s.CompletionMode != batch.IndexedCompletion || *s.Completions != 60 || *s.Parallelism != 50 || *s.BackoffLimitPerIndex != 2 || pod.RestartPolicy != "Never" {
		t.Errorf("the job is %+v", s)
	}
	if len(pod.Containers) != 1 || pod.Containers[0].VolumeMounts[0].Name != pod.Volumes[0].Name || pod.Containers[0].VolumeMounts[0].MountPath != c.dir {
		t.Errorf("the pod is %+v", pod)
	}
	// Index 7, counted from 0, is task 8: shards 15 and 16.
	command := pod.Containers[0].Command
	cmd := exec.Command(command[0], command[1:]...)
	cmd.Env = append(c.env, "JOB_COMPLETION_INDEX=7")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	entries, err := os.ReadDir("a \"folder\"/parts")
	if err != nil || len(entries) != 2 || entries[0].Name() != "015-of-120.part" || entries[1].Name() != "016-of-120.part" {
		t.Errorf("parts %v (%v)", entries, err)
	}
}
