//go:build linux

package main

import (
	"bytes"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// slurm starts Slurm on this machine alone, with a key and folders of its own, and gives the
// environment in which its commands find it. It ends with the test.
func slurm(t *testing.T) []string {
	t.Helper()
	t.Setenv("PATH", os.Getenv("PATH")+":/usr/sbin:/sbin")
	for _, name := range []string{"munged", "slurmctld", "slurmd", "sbatch", "scancel", "squeue", "sinfo"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("SKIPPED: %s is not installed (Debian: slurm-wlm munge)", name)
		}
	}
	if os.Getuid() != 0 {
		t.Skip("SKIPPED: Slurm's daemon runs as root alone")
	}
	dir, err := os.MkdirTemp("", "slurm") // a short name: sockets allow no long one
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, name := range []string{"state", "spool"} {
		if err := os.Mkdir(at(name), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	conf := fmt.Sprintf(`ClusterName=one
SlurmctldHost=localhost(127.0.0.1)
SlurmctldPort=%d
SlurmdPort=%d
SlurmUser=root
AuthInfo=socket=%s
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
AccountingStorageType=accounting_storage/none
ReturnToService=2
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
SchedulerParameters=batch_sched_delay=0,sched_interval=1,sched_min_interval=0
StateSaveLocation=%s
SlurmdSpoolDir=%s
SlurmctldPidFile=%s
SlurmdPidFile=%s
NodeName=localhost NodeAddr=127.0.0.1 CPUs=2
PartitionName=all Nodes=localhost Default=YES
`, freePort(t), freePort(t), at("munge"), at("state"), at("spool"), at("ctld.pid"), at("d.pid"))
	if err := os.WriteFile(at("slurm.conf"), []byte(conf), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at("key"), bytes.Repeat([]byte("one-machine!"), 100), 0o400); err != nil {
		t.Fatal(err)
	}
	env := append(os.Environ(), "SLURM_CONF="+at("slurm.conf"))
	daemon := func(name string, args ...string) {
		cmd := exec.Command(name, args...)
		cmd.Env = env
		var talk bytes.Buffer
		cmd.Stdout, cmd.Stderr = &talk, &talk
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() {
			cmd.Process.Kill()
			cmd.Wait()
			if t.Failed() {
				t.Logf("%s: %s", name, talk.String())
			}
		})
	}
	daemon("munged", "--force", "--foreground", "--num-threads=1", "--key-file="+at("key"), "--socket="+at("munge"), "--pid-file="+at("munge.pid"), "--log-file="+at("munge.log"), "--seed-file="+at("munge.seed"))
	soon(t, "munged", func() bool { return exists(at("munge")) })
	daemon("slurmctld", "-D", "-f", at("slurm.conf"))
	daemon("slurmd", "-D", "-f", at("slurm.conf"), "-N", "localhost")
	soon(t, "an idle node", func() bool {
		cmd := exec.Command("sinfo", "-h", "-o", "%T")
		cmd.Env = env
		out, _ := cmd.Output()
		return strings.TrimSpace(string(out)) == "idle"
	})
	return env
}

func freePort(t *testing.T) int {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

// soon waits until something holds.
func soon(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for range 900 {
		if holds() {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatalf("%s: not within 90 seconds", what)
}

// A job array of eight shards on Slurm gives the bytes of the single run. Two tasks killed are
// submitted again as a subset, a part corrupted is refused by name, and the status of a task
// that fails reaches the caller.
func TestSlurm(t *testing.T) {
	env := slurm(t)
	c := newCutStudy(t)
	// The tasks of shards 3 and 6 hang while there is a file of that name.
	hanging := "#!/bin/sh\ncase \"$*\" in *'--shard 3/8 '*|*'--shard 6/8 '*) while [ -e " + c.dir + "/hang ]; do sleep 0.2; done ;; esac\nexec " + program(t) + " \"$@\"\n"
	if err := os.WriteFile("hanging", []byte(hanging), 0o755); err != nil {
		t.Fatal(err)
	}
	c.env = append(env, "TYRO="+filepath.Join(c.dir, "hanging"))
	c.scripts(t, "cluster", "--shards", "8")
	part := func(i int) string { return fmt.Sprintf("cluster/parts/%d-of-8.part", i) }
	queue := func(name string) string {
		cmd := exec.Command("squeue", "-h", "-r", "-n", name, "-o", "%i %T")
		cmd.Env = env
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}

	if err := os.WriteFile("hang", nil, 0o644); err != nil {
		t.Fatal(err)
	}
	out, status := c.sh(t, nil, "cluster/submit.sh")
	if status != 0 || !strings.Contains(out, "array of tasks 1,2,3,4,5,6,7,8: job ") {
		t.Fatalf("submitting: status %d, %s", status, out)
	}
	for _, i := range []int{3, 6} { // one occupies a processor until it is killed
		soon(t, fmt.Sprintf("task %d", i), func() bool { return strings.Contains(queue("tyro-shards"), fmt.Sprintf("_%d RUNNING", i)) })
	}
	soon(t, "the others", func() bool { return exists(part(2)) && exists(part(5)) })
	for line := range strings.Lines(queue("tyro-shards")) {
		id, state, _ := strings.Cut(strings.TrimSpace(line), " ")
		if state == "RUNNING" && (strings.HasSuffix(id, "_3") || strings.HasSuffix(id, "_6")) {
			kill := exec.Command("scancel", "--signal=KILL", "--full", id)
			kill.Env = env
			if out, err := kill.CombinedOutput(); err != nil {
				t.Fatalf("killing %s: %s", id, out)
			}
		}
	}
	soon(t, "the end of all jobs", func() bool { return queue("tyro-shards")+queue("tyro-merge") == "" })
	if exists(part(3)) || exists(part(6)) || exists("cluster/answer.txt") {
		t.Error("killed tasks have parts, or the merge ran without them")
	}
	if left, err := filepath.Glob("cluster/parts/*"); err != nil || len(left) != 6 {
		t.Errorf("there are %v (%v), want six parts", left, err)
	}

	if err := os.Remove("hang"); err != nil {
		t.Fatal(err)
	}
	damage(t, part(5))
	if out, status := c.sh(t, nil, "cluster/merge.sh"); status != 1 || !strings.Contains(out, "5-of-8.part is not a whole part") {
		t.Errorf("merging a part that is corrupted: status %d, %s", status, out)
	}
	out, status = c.sh(t, nil, "cluster/submit.sh")
	if status != 0 || !strings.Contains(out, "array of tasks 3,5,6: job ") {
		t.Errorf("submitting what is missing: status %d, %s", status, out)
	}
	soon(t, "the merge", func() bool { return exists("cluster/answer.txt") })
	c.answered(t, "cluster")
	for _, log := range []string{"task-1.*.log", "task-8.*.log", "merge.*.log"} {
		if found, _ := filepath.Glob("cluster/logs/" + log); len(found) == 0 {
			t.Errorf("there is no %s", log)
		}
	}

	if err := os.Remove(part(7)); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename("log.csv", "away.csv"); err != nil {
		t.Fatal(err)
	}
	if out, status := c.sh(t, nil, "cluster/submit.sh", "--wait"); status != 1 {
		t.Errorf("a task that ends with 1 gives the caller %d: %s", status, out)
	}
}
