package main

import (
	"bytes"
	"crypto/rand"
	"encoding/csv"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports/page"
)

// The folder of trainees' pages, and the key that says whose page is which. The key lies
// outside of that folder, so that the folder can be handed out without it.
const (
	traineeFolder = "trainees"
	traineeKey    = "trainee-key.csv"
)

// pageName is a page's name without its ending: 130 random bits as letters and digits.
var pageName = regexp.MustCompile(`^[A-Z2-7]{26}$`)

// traineePages renders every trainee's page under a name that cannot be guessed. A trainee
// keeps the name of the last run, so that what was handed out goes on to work.
func traineePages(r *page.Report, dir, address string, files map[string][]byte) error {
	pages, err := r.TraineePages()
	if err != nil {
		return err
	}
	if pages == nil {
		return fmt.Errorf("trainees' pages need a standard and a rule: set them in the study file, or give --standard and --rule")
	}
	before := namesBefore(filepath.Join(dir, traineeKey))
	var key bytes.Buffer
	out := csv.NewWriter(&key)
	out.Write([]string{"trainee", "file"})
	for _, p := range pages {
		cell := datasets.GuardCell(p.ID)
		name, known := before[cell]
		if !known {
			name = newName(pages)
		}
		link := ""
		if address != "" {
			link = address + name + ".html"
		}
		var b bytes.Buffer
		if err := p.Write(&b, link); err != nil {
			return err
		}
		files[traineeFolder+"/"+name+".html"] = b.Bytes()
		out.Write([]string{cell, name + ".html"})
	}
	out.Flush()
	files[traineeKey] = key.Bytes()
	return out.Error()
}

// newName draws a name that holds nobody's code.
func newName(pages []*page.TraineePage) string {
	for range 100 {
		name := rand.Text()[:26]
		clean := true
		for _, p := range pages {
			if len(p.ID) > 1 && strings.Contains(name, strings.ToUpper(p.ID)) {
				clean = false
			}
		}
		if clean {
			return name
		}
	}
	return rand.Text()[:26]
}

// namesBefore reads the key of the last run: nothing where there is none that can be
// read. Writing refuses a key that was changed since.
func namesBefore(path string) map[string]string {
	out := map[string]string{}
	data, err := os.ReadFile(path)
	if err != nil {
		return out
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		return out
	}
	taken := map[string]bool{}
	for _, row := range rows {
		if name, ok := strings.CutSuffix(row[len(row)-1], ".html"); ok && len(row) == 2 && pageName.MatchString(name) && !taken[name] {
			out[row[0]], taken[name] = name, true
		}
	}
	return out
}

// pagesAddress checks the address under which trainees' pages will be found.
func pagesAddress(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	u, err := url.Parse(text)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.RawQuery != "" || u.Fragment != "" {
		return "", usagef("--pages-at %q: expected the address of a folder, such as https://lab.example/pages", text)
	}
	return strings.TrimSuffix(text, "/") + "/", nil
}

// keepsPages refuses to show a part of a study in a folder that holds the page of somebody
// who is not shown: the run would take that page away, and its name with it.
func keepsPages(s *study.Study, dir string) error {
	before := namesBefore(filepath.Join(dir, traineeKey))
	for _, t := range s.Trainees {
		if _, has := before[datasets.GuardCell(t.ID)]; has && s.Options.Request.Hides(t.ID, t.Arm) {
			return usagef("%s holds pages of trainees who would not be shown, and this run would take them away; choose another folder with --out", dir)
		}
	}
	return nil
}
