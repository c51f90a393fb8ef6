package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
)

// Every command that is cut gives the same bytes, whatever the cut, the number of workers and
// the order of the parts; of a study in a folder, and of a Parquet file, of which a shard reads
// its trainees' rows alone.
func TestCutsGiveTheSameBytes(t *testing.T) {
	study := demoStudy(t)
	t.Chdir(t.TempDir())
	writeParquet(t, "log.parquet", 11, 8)
	table := []string{"--trainee", "who", "--attempt", "n", "--response", "sec", "--arm", "arm", "--measure", "time"}
	fast := []string{"--replicates", "20", "--family", "exponential"}
	for _, c := range []struct {
		name string
		args []string
		cuts []int
	}{
		{"a folder", append([]string{"proficiency", study}, fast...), []int{4}},
		{"Parquet", append(append([]string{"proficiency", "log.parquet", "--standard", "60", "--rule", "2 in a row", "--only", "T3"}, table...), fast...), []int{1, 3, 11, 12}},
		{"cohort, trainees", append(append([]string{"cohort", "log.parquet", "--random", "plateau", "--interval", "trainees"}, table...), fast...), []int{3}},
		{"cohort, parametric", append(append([]string{"cohort", "log.parquet", "--random", "plateau", "--interval", "parametric"}, table...), fast...), []int{2}},
		{"compare", append(append([]string{"compare", "log.parquet", "--refits", "20"}, table...), fast...), []int{3}},
		{"plan", []string{"plan", "--log-rank", "--hazard-ratio", "2", "--met-share", "0.7", "--trainees", "10,20", "--replicates", "30"}, []int{1, 7}},
		{"plan, errors", []string{"plan", "--assume", "plateau=45,start=175,rate=0.2,spread=0.2", "--family", "exponential", "--measure", "time", "--errors", "slips=1", "--contrast", "slips", "--effect", "slips=0.5", "--margin", "3", "--trainees", "6", "--attempts", "5", "--replicates", "20"}, []int{3}},
	} {
		want := map[string]string{}
		for _, format := range []string{"text", "json", "csv"} {
			want[format], _ = tyro(t, 0, append(c.args, "--format", format, "--workers", "2")...)
		}
		for _, of := range c.cuts {
			dir := filepath.Join(t.TempDir(), "parts")
			var parts []string
			for i := of; i >= 1; i-- {
				parts = append(parts, filepath.Join(dir, fmt.Sprint(i)))
				tyro(t, 0, append(c.args, "--workers", fmt.Sprint(1+i%3), "--shard", fmt.Sprintf("%d/%d", i, of), "--out", parts[len(parts)-1])...)
			}
			for format, text := range want {
				if got, _ := tyro(t, 0, append([]string{"merge", "--format", format, "--workers", "3"}, parts...)...); got != text {
					t.Errorf("%s, %d shards, %s: other bytes than of one run", c.name, of, format)
				}
			}
			one := filepath.Join(dir, "answer.txt")
			tyro(t, 0, append([]string{"merge", "--out", one}, parts...)...)
			if got, err := os.ReadFile(one); err != nil || string(got) != want["text"] {
				t.Errorf("%s, %d shards: another file than one run prints (%v)", c.name, of, err)
			}
			if c.args[0] == "plan" {
				tyro(t, 0, append(c.args, "--out", filepath.Join(dir, "a.json"))...)
				tyro(t, 0, append([]string{"merge", "--out", filepath.Join(dir, "b.json")}, parts...)...)
				a, err1 := os.ReadFile(filepath.Join(dir, "a.json"))
				b, err2 := os.ReadFile(filepath.Join(dir, "b.json"))
				if err1 != nil || err2 != nil || !bytes.Equal(a, b) {
					t.Errorf("%d shards: another plan's file than of one run (%v, %v)", of, err1, err2)
				}
			}
		}
	}
}

// A file of which rows may be dropped, or whose numbers are texts, is read whole, so that a
// shard's trainees are the same as without it; a code with a comma and quotes stays one.
func TestShardsOfOddFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	var b strings.Builder
	b.WriteString("who,n,sec\nT7,1,\n")
	for n := range 8 {
		for i := range 5 {
			fmt.Fprintf(&b, "T%d,%d,%d\n", i, n+1, 50+i+30/(n+1))
		}
	}
	b.WriteString("T9,1,\nTotal,,900\nT8,1,80\n\"a, \"\"b\"\"\",1,70\n\"a, \"\"b\"\"\",2,60\n")
	if err := os.WriteFile("odd.csv", []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{"proficiency", "odd.csv", "--trainee", "who", "--attempt", "n", "--response", "sec", "--measure", "time", "--standard", "60", "--replicates", "20", "--family", "power",
		"--only", `"a, ""b""",T8,T3`, "--noise", "lognormal"}
	want, _ := tyro(t, 0, args...)
	for i := 1; i <= 3; i++ {
		tyro(t, 0, append(args, "--shard", fmt.Sprintf("%d/3", i), "--out", fmt.Sprintf("parts/%d.part", i))...)
	}
	if got, _ := tyro(t, 0, "merge", "parts"); got != want {
		t.Errorf("other bytes than of one run:\n%s\n%s", got, want)
	}
}

// A part from others may not write files where it likes, nor run another command; and what is
// made for others is made from the whole run.
func TestPartsOfBadIntent(t *testing.T) {
	t.Chdir(t.TempDir())
	args := []string{"plan", "--log-rank", "--hazard-ratio", "2", "--met-share", "0.7", "--trainees", "10", "--replicates", "20"}
	tyro(t, 0, append(args, "--shard", "1/1", "--out", "good.part")...)
	good, err := os.ReadFile("good.part")
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string][2]string{
		"holds the flag --out":  {`"command":["plan",`, `"command":["plan","--out","elsewhere.json",`},
		"holds the flag --save": {`"command":["plan",`, `"command":["plan","--save=elsewhere.json",`},
		"says no command":       {`"command":["plan",`, `"command":["init",`},
	} {
		body := strings.Replace(string(good[:bytes.LastIndexByte(good[:len(good)-1], '\n')+1]), change[0], change[1], 1)
		last := fmt.Sprintf(`{"records":%d,"sha256":"%x"}`+"\n", strings.Count(body, "\n")-1, sha256.Sum256([]byte(body)))
		if err := os.WriteFile("bad.part", []byte(body+last), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, talk := tyro(t, 1, "merge", "bad.part"); !strings.Contains(talk, name) {
			t.Errorf("%s: %s", name, talk)
		}
		if _, err := os.Stat("elsewhere.json"); err == nil {
			t.Fatal("the part wrote a file")
		}
	}
	if _, talk := tyro(t, 2, "proficiency", demoStudy(t), "--shareable", "--shard", "1/2", "--out", "a.part"); !strings.Contains(talk, "without --shard") {
		t.Errorf("tables for others from a shard: %s", talk)
	}
}

// writeParquet writes a log in which trainees' rows alternate, in small pieces.
func writeParquet(t *testing.T, path string, trainees, attempts int) {
	t.Helper()
	type row struct {
		Who string  `parquet:"who,dict"`
		Arm string  `parquet:"arm"`
		N   int32   `parquet:"n"`
		Sec float64 `parquet:"sec"`
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w := parquet.NewGenericWriter[row](f, parquet.MaxRowsPerRowGroup(13))
	for n := range attempts {
		for i := range trainees {
			sec := 40 + float64(i%5) + float64(60+2*i)/float64(n+1) + float64((i*7+n*11)%9)
			if _, err := w.Write([]row{{fmt.Sprintf("T%d", i), [...]string{"tie", "glue"}[i%2], int32(n + 1), sec}}); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}
