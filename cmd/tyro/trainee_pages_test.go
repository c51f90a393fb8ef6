package main

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"tyro/datasets/demo"
)

// traineeFiles reads the key of a report: the file of each trainee.
func traineeFiles(t *testing.T, out string) map[string]string {
	t.Helper()
	rows := rowsOf(t, filepath.Join(out, "trainee-key.csv"))
	files := map[string]string{}
	for _, r := range rows[1:] {
		files[r[0]] = filepath.Join(out, "trainees", r[1])
	}
	return files
}

// withoutTrainee takes a trainee's rows out of a log.
func withoutTrainee(t *testing.T, path, id string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var kept []string
	for line := range strings.Lines(string(data)) {
		if !strings.HasPrefix(line, id+",") {
			kept = append(kept, line)
		}
	}
	if err := os.WriteFile(path, []byte(strings.Join(kept, "")), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Trainees' pages have names that cannot be guessed and stay, the key is its owner's
// alone, a trainee who left leaves no file and no mention, and files of others are never
// touched.
func TestTraineePagesComeAndGo(t *testing.T) {
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "pages")
	report := func(more ...string) {
		t.Helper()
		args := append([]string{"report", dir, "--family", "wright", "--replicates", "20", "--out", out}, more...)
		var errs bytes.Buffer
		if status := run(context.Background(), args, io.Discard, &errs); status != 0 {
			t.Fatalf("status %d: %s", status, errs.String())
		}
	}
	report("--trainee-pages", "--pages-at", "https://lab.example/pages")
	first := traineeFiles(t, out)
	if len(first) != 36 {
		t.Fatalf("%d trainees in the key, want 36", len(first))
	}
	for id, path := range first {
		if name := filepath.Base(path); !regexp.MustCompile(`^[A-Z2-7]{26}\.html$`).MatchString(name) {
			t.Errorf("the page of %s is called %s", id, name)
		}
		page, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(page, []byte(id)) {
			t.Errorf("the page of %s does not name them", id)
		}
		for other := range first {
			if other != id && bytes.Contains(page, []byte(other)) {
				t.Errorf("the page of %s holds %s", id, other)
			}
		}
		if got, want := decodeQR(t, string(page)), "https://lab.example/pages/"+filepath.Base(path); got != want {
			t.Errorf("the code of %s reads %q, want %q", id, got, want)
		}
	}
	if info, err := os.Stat(filepath.Join(out, "trainee-key.csv")); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("the key: %v, %v", info.Mode(), err)
	}
	foreign := filepath.Join(out, "trainees", "notes.txt")
	if err := os.WriteFile(foreign, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	withoutTrainee(t, filepath.Join(dir, "attempts.csv"), "T07")
	withoutTrainee(t, filepath.Join(dir, "ratings.csv"), "T07")
	report("--trainee-pages")
	second := traineeFiles(t, out)
	for id, path := range first {
		switch {
		case id == "T07":
			if _, known := second[id]; known || exists(path) {
				t.Errorf("T07 left, and the key or the page is still there")
			}
		case second[id] != path:
			t.Errorf("the page of %s moved from %s to %s", id, path, second[id])
		}
	}
	filepath.WalkDir(filepath.Join(out, "trainees"), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if bytes.Contains(data, []byte("T07")) {
			t.Errorf("%s still holds T07", path)
		}
		return err
	})
	if text := decodeQR(t, textOf(t, second["T35"])); !strings.HasPrefix(text, "cannulation, T35\nYour goal is 2 passes in a row.\nYou have made 28 attempts.") {
		t.Errorf("without an address the code of T35 reads %q", text)
	}
	report()
	for id, path := range second {
		if exists(path) {
			t.Errorf("the page of %s stays although no pages were asked for", id)
		}
	}
	if exists(filepath.Join(out, "trainee-key.csv")) || textOf(t, foreign) != "mine" {
		t.Error("the key stays, or a file of somebody else went")
	}
}

func textOf(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

var (
	qrBox  = regexp.MustCompile(`<svg class="qr" viewBox="0 0 (\d+) \d+"[^>]*><path fill="#fff"[^>]*/><path fill="#000" d="([^"]*)"`)
	qrRuns = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-\d+z`)
)

// decodeQR reads the code on a page with a library that did not write it.
func decodeQR(t *testing.T, page string) string {
	t.Helper()
	m := qrBox.FindStringSubmatch(page)
	if m == nil {
		t.Fatal("the page has no code")
	}
	const module = 8
	n, _ := strconv.Atoi(m[1])
	img := image.NewGray(image.Rect(0, 0, n*module, n*module))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for _, r := range qrRuns.FindAllStringSubmatch(m[2], -1) {
		x, _ := strconv.Atoi(r[1])
		y, _ := strconv.Atoi(r[2])
		w, _ := strconv.Atoi(r[3])
		for i := x * module; i < (x+w)*module; i++ {
			for j := y * module; j < (y+1)*module; j++ {
				img.SetGray(i, j, color.Gray{})
			}
		}
	}
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	hints := map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_PURE_BARCODE: true}
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, hints)
	if err != nil {
		t.Fatal(err)
	}
	return result.GetText()
}

// Addresses that are none are refused before anything is read.
func TestPagesAddress(t *testing.T) {
	for _, text := range []string{"lab.example", "ftp://lab.example/", "https://", "javascript:alert(1)", "https://lab.example/?x=1"} {
		if _, err := pagesAddress(text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
	for text, want := range map[string]string{"https://lab.example/p": "https://lab.example/p/", "http://10.0.0.1/": "http://10.0.0.1/", "": ""} {
		if got, err := pagesAddress(text); err != nil || got != want {
			t.Errorf("%q: %q, %v", text, got, err)
		}
	}
}
