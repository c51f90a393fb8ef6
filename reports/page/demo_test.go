package page

import (
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/datasets/demo"
	"tyro/models"
)

// demoStudy is the demo study, ready for questions with the given choices.
func demoStudy(t *testing.T, o study.Options) *study.Study {
	t.Helper()
	p, _ := demoPractice(t)
	return ready(t, p, o)
}

// studyIn is the study of a folder.
func studyIn(t *testing.T, dir string, o study.Options) *study.Study {
	t.Helper()
	return ready(t, practiceIn(t, dir), o)
}

// demoPractice is the demo study with the folder that holds it.
func demoPractice(t *testing.T) (p practice.Practice, dir string) {
	t.Helper()
	dir = t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	return practiceIn(t, dir), dir
}

// practiceIn is what was seen in the study of a folder.
func practiceIn(t *testing.T, dir string) practice.Practice {
	t.Helper()
	file, err := datasets.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	p, err := file.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// ready settles the choices.
func ready(t *testing.T, p practice.Practice, o study.Options) *study.Study {
	t.Helper()
	s, err := study.New(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// family is a single curve to fit.
func family(t *testing.T, name string) []models.Family {
	t.Helper()
	f, err := models.ByName(name, 1)
	if err != nil {
		t.Fatal(err)
	}
	return []models.Family{f}
}
