package main

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"tyro/datasets/demo"
)

// hashes are the SHA-256 of every file under a folder.
func hashes(t *testing.T, dir string) map[string][32]byte {
	t.Helper()
	out := map[string][32]byte{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		out[path] = sha256.Sum256(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// unchanged checks that files are as they were before.
func unchanged(t *testing.T, what string, before map[string][32]byte) {
	t.Helper()
	for path, sum := range before {
		data, err := os.ReadFile(path)
		if err != nil || sha256.Sum256(data) != sum {
			t.Errorf("%s changed %s (%v)", what, path, err)
		}
	}
}

// everyCommand is one quick run of each command, by what it reads: the demo study, or
// a table beside it.
func everyCommand() [][]string {
	series := []string{"--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time", "--arm", "arm"}
	runs := [][]string{
		{"check", "."}, {"curve", ".", "--family", "wright"}, {"cohort", ".", "--family", "wright"}, {"standard", "."}, {"proficiency", ".", "--family", "wright"},
		{"quota", "."}, {"quota", ".", "--against", "3 in a row"}, {"agreement", "."}, {"compare", ".", "--family", "wright"}, {"monitor", "."}, {"report", ".", "--family", "wright"},
		{"quota", "--pass-chance", "0.5", "--rule", "2 in a row", "--horizon", "10"},
		{"agreement", "--plan", "icc", "--expect", "0.7", "--subjects", "20", "--raters", "2"},
		{"agreement", "ratings.csv", "--subject", "performance", "--rater", "examiner", "--score", "global"},
		{"standard", "standard.csv", "--response", "seconds", "--measure", "time"},
		{"proficiency", "until.csv", "--until", "n", "--met", "met"}, {"quota", "until.csv", "--until", "n", "--met", "met"},
	}
	for _, command := range []string{"check", "curve"} {
		runs = append(runs, append([]string{command, "attempts.csv"}, series...))
	}
	for i := range runs {
		runs[i] = append(runs[i], "--replicates", "20")
	}
	return runs
}

// fewTrainees is the demo study with six trainees and a part of the ratings, which is
// enough for every command and quick.
func fewTrainees(t *testing.T) string {
	t.Helper()
	dir := demoStudy(t)
	keep := func(name string, row func(line string) bool) {
		path := filepath.Join(dir, name)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var out strings.Builder
		for line := range strings.Lines(string(data)) {
			if row(line) {
				out.WriteString(line)
			}
		}
		if err := os.WriteFile(path, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	keep("attempts.csv", func(line string) bool {
		return !strings.HasPrefix(line, "T") || slices.Contains([]string{"T01", "T02", "T03", "T20", "T21", "T22"}, line[:3])
	})
	keep("ratings.csv", func(line string) bool { return !strings.HasPrefix(line, "P") || line[:3] < "P13" })
	return dir
}

// studyFolder is such a study with tables of names that results have, too, and is
// the working folder.
func studyFolder(t *testing.T) string {
	t.Helper()
	dir := fewTrainees(t)
	for name, text := range map[string]string{
		"standard.csv": "expert,seconds\nA,10\nB,12\nC,14\n",
		"until.csv":    "who,n,met\na,10,1\nb,12,1\nc,14,0\nd,15,1\n",
		"curves.csv":   "n,y\n1,9\n2,7\n3,6\n4,5.5\n5,5.2\n6,5.1\n",
		"index.html":   "mine", "curve.json": "mine", "study.yaml.bak": "mine",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	return dir
}

// No command changes a file that was there, wherever its results go.
func TestNothingIsWrittenOver(t *testing.T) {
	dir := studyFolder(t)
	before := hashes(t, dir)
	for _, args := range everyCommand() {
		var talk strings.Builder
		status := run(t.Context(), append(slices.Clone(args), "--out", "."), io.Discard, &talk)
		if !strings.Contains(talk.String(), "wrote ") && !strings.Contains(talk.String(), "nothing was written into .") {
			t.Errorf("tyro %s: exit status %d, %s", strings.Join(args, " "), status, talk.String())
		}
		unchanged(t, strings.Join(args, " ")+" --out .", before)
	}
	for path := range hashes(t, dir) {
		if strings.Contains(path, ".tyro-") {
			t.Errorf("%s is left", path)
		}
	}
}

// Names of results that are names of inputs are refused with the way out; a second run
// into the same folder takes the place of the first.
func TestRefusals(t *testing.T) {
	dir := studyFolder(t)
	series := []string{"--trainee", "trainee", "--attempt", "attempt", "--response", "seconds", "--measure", "time"}
	_, talk := tyro(t, 1, append([]string{"check", "attempts.csv", "--out", "."}, series...)...)
	if !strings.Contains(talk, "attempts.csv was read by this very run") || !strings.Contains(talk, "choose another folder with --out") {
		t.Errorf("check over its own input says %q", talk)
	}
	_, talk = tyro(t, 1, "curve", "curves.csv", "--attempt", "n", "--response", "y", "--family", "wright", "--out", ".")
	if !strings.Contains(talk, "curves.csv was read") || !strings.Contains(talk, "curve.json was not written by tyro") {
		t.Errorf("curve over its own input says %q", talk)
	}
	out := filepath.Join(dir, "result")
	curve := []string{"curve", "curves.csv", "--attempt", "n", "--response", "y", "--family", "wright", "--out", out}
	tyro(t, 0, curve...)
	tyro(t, 0, curve...)

	// What was written and then read is not written over either.
	tyro(t, 0, append([]string{"check", "attempts.csv", "--out", "checked"}, series...)...)
	_, talk = tyro(t, 1, append([]string{"check", "checked/attempts.csv", "--out", "checked"}, series...)...)
	if !strings.Contains(talk, "read by this very run") {
		t.Errorf("check over what it wrote and reads says %q", talk)
	}

	// Nor is what somebody changed, or put there, or what is no plain file.
	before := hashes(t, out)
	if err := os.WriteFile(filepath.Join(out, "curve.txt"), []byte("my remarks"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, talk = tyro(t, 1, curve...)
	if !strings.Contains(talk, "curve.txt was changed since tyro wrote it") {
		t.Errorf("over a changed file: %q", talk)
	}
	delete(before, filepath.Join(out, "curve.txt"))
	unchanged(t, "a refused run", before)
	if runtime.GOOS != "windows" {
		if err := errors.Join(os.Mkdir("linked", 0o755), os.Symlink("../curves.csv", "linked/curves.csv")); err != nil {
			t.Fatal(err)
		}
		if _, talk = tyro(t, 1, append(curve[:len(curve)-1:len(curve)-1], "linked")...); !strings.Contains(talk, "not a plain file") {
			t.Errorf("through a link: %q", talk)
		}
	}
	if err := errors.Join(os.Mkdir("site", 0o755), os.WriteFile("site/manifest.json", []byte(`{"name":"my app"}`), 0o644)); err != nil {
		t.Fatal(err)
	}
	if _, talk = tyro(t, 1, append(curve[:len(curve)-1:len(curve)-1], "site")...); !strings.Contains(talk, "not tyro's list of files") {
		t.Errorf("beside a manifest of another program: %q", talk)
	}
}

// The demo never takes the place of an edited study, unless forced.
func TestDemoKeepsStudies(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := errors.Join(os.Mkdir("mine", 0o755), os.WriteFile("mine/study.yaml", []byte("title: mine\n"), 0o644)); err != nil {
		t.Fatal(err)
	}
	before := hashes(t, "mine")
	_, talk := tyro(t, 1, "demo", "--out", "mine", "--replicates", "20")
	unchanged(t, "demo", before)
	if len(hashes(t, "mine")) != 1 || !strings.Contains(talk, "--force") {
		t.Errorf("demo into a study of one's own leaves %d files and says %q", len(hashes(t, "mine")), talk)
	}
	// The same study again harms nobody; one edited file stops it.
	files, err := demo.Files()
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if _, err := (folderWrite{dir: "tyro-demo", command: "demo", files: maps.Clone(files), plain: true}).run(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	if len(hashes(t, "tyro-demo")) != len(files) {
		t.Errorf("the study's folder holds %d files, want its %d", len(hashes(t, "tyro-demo")), len(files))
	}
	if err := os.WriteFile("tyro-demo/attempts.csv", []byte("edited"), 0o644); err != nil {
		t.Fatal(err)
	}
	before = hashes(t, "tyro-demo")
	tyro(t, 1, "demo", "--replicates", "20")
	unchanged(t, "demo", before)
	// A task that is not there ends the run after the study is written: the report
	// takes long.
	tyro(t, 2, "demo", "--force", "--task", "none")
	if data, err := os.ReadFile("tyro-demo/attempts.csv"); err != nil || string(data) == "edited" {
		t.Errorf("demo --force left the edited file (%v)", err)
	}
}

func set(text string, n int) map[string][]byte {
	files := map[string][]byte{}
	for i := range n {
		files[fmt.Sprintf("f%02d.csv", i)] = []byte(text)
	}
	return files
}

func contents(t *testing.T, dir string) map[string]int {
	t.Helper()
	out := map[string]int{}
	names, err := filepath.Glob(filepath.Join(dir, "f*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[string(data)]++
	}
	return out
}

// A failure in the midst puts everything back, and leaves nothing of its own.
func TestFailedWriteIsUndone(t *testing.T) {
	dir := t.TempDir()
	if _, err := (folderWrite{dir: dir, command: "c", files: set("first", 5)}).run(t.Context()); err != nil {
		t.Fatal(err)
	}
	before := hashes(t, dir)
	second := folderWrite{dir: dir, command: "c", files: set("second", 5)}
	if err := os.MkdirAll(filepath.Join(dir, "g.csv", "taken"), 0o755); err != nil {
		t.Fatal(err)
	}
	p := change{New: []string{"f00.csv", "f01.csv", "f02.csv", "new.csv", "g.csv", "f03.csv"}}
	second.files["g.csv"], second.files["new.csv"] = []byte("second"), []byte("second")
	if err := second.commit(t.Context(), p); err == nil {
		t.Fatal("a folder in the place of a file is no failure")
	}
	if err := putBack(dir); err != nil {
		t.Fatal(err)
	}
	unchanged(t, "a failed write", before)
	if got := hashes(t, dir); len(got) != len(before) {
		t.Errorf("after a failed write there are %d files, before %d", len(got), len(before))
	}
}

// Files that wait are their owner's alone, and new ones follow the user's mask.
func TestModes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("SKIPPED: Windows has no such modes")
	}
	dir := t.TempDir()
	w := folderWrite{dir: dir, command: "c", files: set("text", 2)}
	// A name whose folder cannot be made stops the write once the others are staged.
	if err := os.WriteFile(filepath.Join(dir, "sub"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	w.files["sub/x.csv"] = []byte("text")
	if err := w.commit(t.Context(), change{New: []string{"sub/x.csv", "f00.csv"}}); err == nil {
		t.Fatal("a file in the place of a folder is no failure")
	}
	for path, want := range map[string]fs.FileMode{"": 0o700 | fs.ModeDir, "new/f00.csv": 0o600, "new/sub/x.csv": 0o600} {
		info, err := os.Stat(filepath.Join(dir, stageName, path))
		if err != nil || info.Mode() != want {
			t.Errorf("%s/%s has mode %v, want %v (%v)", stageName, path, info.Mode(), want, err)
		}
	}
	if err := putBack(dir); err != nil {
		t.Fatal(err)
	}
	delete(w.files, "sub/x.csv")
	if _, err := w.run(t.Context()); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(filepath.Join(dir, "f00.csv")); err != nil || info.Mode().Perm()&0o133 != 0 || info.Mode().Perm()&0o400 == 0 {
		t.Errorf("a written file has mode %v (%v)", info.Mode(), err)
	}
}

// Two runs that write at once do not mix.
func TestTwoWriters(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	for range 10 {
		var wg sync.WaitGroup
		for _, text := range []string{"one", "two", "three"} {
			wg.Go(func() {
				if _, err := (folderWrite{dir: dir, command: "c", files: set(text, 12)}).run(context.Background()); err != nil {
					t.Errorf("%s: %v", text, err)
				}
			})
		}
		wg.Wait()
		if got := contents(t, dir); len(got) != 1 {
			t.Fatalf("the folder mixes runs: %v", got)
		}
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) != 13 {
			t.Fatalf("the folder has %v (%v), want 12 files and the record", entries, err)
		}
	}
}

// A run that died in the midst is undone by the next, wherever it died; files of the
// command's last run that are no longer among its results go, those changed stay.
func TestDeadRun(t *testing.T) {
	for moved := range 4 {
		dir := t.TempDir()
		if _, err := (folderWrite{dir: dir, command: "c", files: set("first", 3)}).run(t.Context()); err != nil {
			t.Fatal(err)
		}
		// What a run leaves that dies after so many moves.
		names := []string{"f00.csv", "f01.csv", "new.csv"}
		for i, name := range names {
			if err := writeNew(staged(dir, "new", name), []byte("dead")); err != nil {
				t.Fatal(err)
			}
			if i < moved {
				if err := errors.Join(keepOld(dir, name), os.Rename(staged(dir, "new", name), filepath.Join(dir, name))); err != nil {
					t.Fatal(err)
				}
			}
		}
		journal, err := json.Marshal(change{New: names})
		if err != nil {
			t.Fatal(err)
		}
		if err := writeNew(filepath.Join(dir, stageName, "journal"), journal); err != nil {
			t.Fatal(err)
		}
		if _, err := (folderWrite{dir: dir, command: "other", files: map[string][]byte{"o.csv": []byte("other")}}).run(t.Context()); err != nil {
			t.Fatal(err)
		}
		if got := contents(t, dir); got["first"] != 3 || len(got) != 1 || exists(filepath.Join(dir, "new.csv")) || exists(filepath.Join(dir, stageName)) {
			t.Errorf("%d moves: %v are left of a dead run", moved, got)
		}
		left, err := (folderWrite{dir: dir, command: "c", files: set("second", 1)}).run(t.Context())
		if got := contents(t, dir); err != nil || len(left) != 0 || got["second"] != 1 || len(got) != 1 || !exists(filepath.Join(dir, "o.csv")) {
			t.Errorf("%d moves: after a run with fewer files there are %v (%v)", moved, got, err)
		}
	}
	dir := t.TempDir()
	if _, err := (folderWrite{dir: dir, command: "c", files: set("first", 3)}).run(t.Context()); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "f02.csv"), []byte("mine now"), 0o644); err != nil {
		t.Fatal(err)
	}
	left, err := (folderWrite{dir: dir, command: "c", files: set("second", 1)}).run(t.Context())
	if got := contents(t, dir); err != nil || !slices.Equal(left, []string{"f02.csv"}) || got["mine now"] != 1 || got["second"] != 1 || len(got) != 2 {
		t.Errorf("%v, %v, %v", left, got, err)
	}
}

// Names that cannot be told apart everywhere, or lead out of the folder, are refused.
func TestNamesOfResults(t *testing.T) {
	for _, names := range [][]string{{"a.csv", "A.csv"}, {"../a.csv"}, {"/a.csv"}, {"MANIFEST.json"}} {
		w := folderWrite{dir: t.TempDir(), command: "c", files: map[string][]byte{}}
		for _, n := range names {
			w.files[n] = nil
		}
		if _, err := w.run(t.Context()); err == nil {
			t.Errorf("%v were written", names)
		}
	}
	made := filepath.Join(t.TempDir(), "x", "y")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := (folderWrite{dir: made, command: "c", files: set("a", 1)}).run(ctx); !errors.Is(err, context.Canceled) || exists(filepath.Dir(made)) {
		t.Errorf("an interrupted write gives %v and leaves its folder: %v", err, exists(filepath.Dir(made)))
	}
}
