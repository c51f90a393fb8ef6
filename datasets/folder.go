package datasets

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// tablesUnread notes tables in a study's folder that the study does not name and that have a column of its
// trainees: a second log, or a list of who is in which arm.
func (s *Study) tablesUnread(dir string) {
	if s.AttemptFile == nil {
		return
	}
	who := cmp.Or(s.AttemptFile.Columns.Trainee, "trainee")
	entries, err := os.ReadDir(dir)
	if err != nil {
		return // what could not be listed was read all the same
	}
	named, ours := s.filesNamed(), writtenHere(dir)
	var unread []string
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() || slices.Contains(named, name) || ours[name] || !slices.Contains([]string{".csv", ".tsv", ".txt"}, strings.ToLower(filepath.Ext(name))) {
			continue
		}
		if headHas(filepath.Join(dir, name), who) {
			unread = append(unread, name)
		}
	}
	if len(unread) > 0 {
		s.note(Note{Code: "files-unread", Text: fmt.Sprintf("%s: beside it lie tables with a column %s that the study does not name, and they are not read: %s; where one holds more attempts name it under attempts: files, and where it says who is in which arm put the arm into the log", s.AttemptFile.name(), who, problem.List(unread, 5))})
	}
}

// name is what a log is called in notes.
func (lf LogFile) name() string {
	if lf.File != "" || len(lf.Files) == 0 {
		return lf.File
	}
	return lf.Files[0]
}

// filesNamed are the files that the study file names.
func (s *Study) filesNamed() []string {
	var out []string
	for _, lf := range []*LogFile{s.AttemptFile, s.ExpertFile} {
		if lf != nil {
			out = append(append(out, lf.File), lf.Files...)
		}
	}
	if s.TraineeFile != nil {
		out = append(out, s.TraineeFile.File)
	}
	if s.RatingFile != nil {
		out = append(out, s.RatingFile.File)
	}
	for _, t := range s.Tasks {
		if t.Standard != nil {
			out = append(out, t.Standard.Data)
		}
	}
	return out
}

// writtenHere are the files in a folder that its manifest lists.
func writtenHere(dir string) map[string]bool {
	data, err := os.ReadFile(filepath.Join(dir, "manifest.json"))
	ours := map[string]bool{}
	if err != nil {
		return ours
	}
	var manifest struct {
		Files []struct{ Name string }
	}
	if json.Unmarshal(data, &manifest) == nil {
		for _, f := range manifest.Files {
			ours[f.Name] = true
		}
	}
	return ours
}

// headHas reports whether one of the first lines of a text file has a cell of this name.
func headHas(path, name string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for n := 0; n < 5 && lines.Scan(); n++ {
		cells := strings.FieldsFunc(strings.TrimPrefix(lines.Text(), "\ufeff"), func(c rune) bool { return strings.ContainsRune(",;\t|", c) })
		if len(cells) > 1 && slices.ContainsFunc(cells, func(c string) bool { return strings.EqualFold(strings.Trim(c, " \""), name) }) {
			return true
		}
	}
	return false
}

// expertsWorse notes experts half of whose runs are worse than nine in ten of the trainees' attempts: the files may
// be swapped, or one be in another unit.
func (s *Study) expertsWorse() {
	for _, t := range s.Tasks {
		if t.Measure == PassFail {
			continue
		}
		theirs, others := s.Experts.known(t.Column, t.Name), s.Attempts.known(t.Column, t.Name)
		if len(theirs) < 5 || len(others) < 10 {
			continue
		}
		middle, bound := theirs[len(theirs)/2], others[(len(others)-1)*9/10]
		worse := middle > bound
		if !t.LowerIsBetter() {
			bound = others[len(others)/10]
			worse = middle < bound
		}
		if worse {
			s.note(Note{Code: "experts-worse", Text: fmt.Sprintf("%s: half of the experts' numbers are %s or worse, and nine in ten of the trainees' are better than %s; the two files may have changed places, or be in two units", s.Experts.File, grid.FormatNumber(middle), grid.FormatNumber(bound))})
		}
	}
}

// known are the numbers of a measure at a task, in order.
func (l Log) known(measure, task string) []float64 {
	j := l.Column(measure)
	if j < 0 {
		return nil
	}
	var out []float64
	for _, a := range l.Attempts {
		if v := l.Values(a)[j]; a.Outcome == Done && !math.IsNaN(v) && (a.Task == "" || a.Task == task) {
			out = append(out, v)
		}
	}
	slices.Sort(out)
	return out
}
