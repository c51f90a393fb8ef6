package datasets

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// The drop-downs of an entry sheet hold the study's words as they are, with commas in them and
// however many there are, in cells that keep 007 a text; what is entered is read back, with the
// columns of consent and covariates that the study asks for.
func TestEntrySheet(t *testing.T) {
	arms := []string{"spaced, weekly", "007", "1e5"}
	for i := range 40 {
		arms = append(arms, fmt.Sprintf("arm number %d", i))
	}
	dir := t.TempDir()
	study := "purpose: research\narms: ['" + strings.Join(arms, "', '") + "']\nattempts: {file: entry.xlsx, sheet: attempts}\n" +
		"covariates: [{name: site, on: [rate], levels: true}]\nprivacy: {consent: {column: agreed}}\n" + timed
	if err := os.WriteFile(filepath.Join(dir, StudyFile), []byte(study), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := Plan(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := s.Template()
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(sheet))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if props, err := f.GetDocProps(); err != nil || props.Creator != "tyro" || props.LastModifiedBy != "" {
		t.Errorf("made by %q, last by %q (%v); want nobody's name", props.Creator, props.LastModifiedBy, err)
	}
	heads, err := f.GetRows("attempts")
	if err != nil {
		t.Fatal(err)
	}
	letter := func(column string) string {
		name, err := excelize.ColumnNumberToName(slices.Index(heads[0], column) + 1)
		if err != nil {
			t.Fatalf("no column %s in %q", column, heads[0])
		}
		return name
	}
	rules, err := f.GetDataValidations("attempts")
	if err != nil {
		t.Fatal(err)
	}
	for column, want := range map[string][]string{"arm": arms, "outcome": {"done", "timeout", "failed", "void"}} {
		k := slices.IndexFunc(rules, func(v *excelize.DataValidation) bool { return strings.HasPrefix(v.Sqref, letter(column)+"2:") })
		if k < 0 {
			t.Errorf("%s has no drop-down", column)
			continue
		}
		var from, to int
		var at string
		place := strings.TrimPrefix(strings.ReplaceAll(rules[k].Formula1, "$", " "), "'how to fill in'!")
		if _, err := fmt.Sscanf(strings.ReplaceAll(place, ":", " "), "%s %d %s %d", &at, &from, &at, &to); err != nil {
			t.Fatalf("%s: the list is %q: %v", column, rules[k].Formula1, err)
		}
		var words []string
		for row := from; row <= to; row++ {
			word, err := f.GetCellValue("how to fill in", fmt.Sprint(at, row))
			if err != nil {
				t.Fatal(err)
			}
			words = append(words, word)
		}
		if !slices.Equal(words, want) {
			t.Errorf("%s offers %q, want %q", column, words, want)
		}
	}
	for _, cell := range []string{letter("arm") + "2", letter("trainee") + "2", letter("agreed") + "2"} {
		style, err := f.GetCellStyle("attempts", cell)
		if err != nil {
			t.Fatal(err)
		}
		if x, err := f.GetStyle(style); err != nil || x.NumFmt != 49 && (x.CustomNumFmt == nil || *x.CustomNumFmt != "@") {
			t.Errorf("cell %s is no text (%v)", cell, err)
		}
	}
	for i, row := range []map[string]any{
		{"trainee": "=T1", "arm": "007", "attempt": 1, "seconds": 40.5, "site": "north", "agreed": "yes"},
		{"trainee": "2", "arm": "spaced, weekly", "attempt": 1, "seconds": 41, "site": "south", "agreed": "research and formative"},
		{"trainee": "3", "arm": "1e5", "attempt": 1, "seconds": 42, "site": "south", "agreed": "formative"},
	} {
		for column, v := range row {
			if err := f.SetCellValue("attempts", fmt.Sprint(letter(column), i+2), v); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := f.SaveAs(filepath.Join(dir, "entry.xlsx")); err != nil {
		t.Fatal(err)
	}
	s, err = Open(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, a := range s.Attempts.Attempts {
		got = append(got, a.Trainee+" "+a.Arm)
	}
	if !slices.Equal(got, []string{"=T1 007", "2 spaced, weekly"}) {
		t.Errorf("read %q", got)
	}
}
