package datasets

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// file writes a table into a folder of its own.
func file(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "table.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestExpertRows(t *testing.T) {
	p, err := OpenStandardTable(t.Context(), file(t, "expert,run,seconds\nB,2,1:10\nA,2,\nA,1,50\nB,1,90\n"), StandardTable{Rows: ExpertRows, Response: "seconds", Measure: Time, Lower: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Experts) != 2 || p.Experts[0].ID != "B" || p.Experts[0].Attempts[0].Response != 90 || p.Experts[0].Attempts[1].Response != 70 {
		t.Errorf("experts %+v, want B with 90 and 70 in the order of runs", p.Experts)
	}
	if a := p.Experts[1].Attempts; len(a) != 2 || a[0].Response != 50 || !math.IsNaN(a[1].Response) {
		t.Errorf("A's runs %+v, want 50 and one that is not known", a)
	}
	if p.Task.Response != "seconds" || p.Task.Measure != Time || !p.Task.Lower || p.Evidence == nil || len(p.SHA256) != 64 {
		t.Errorf("task %+v, evidence %v", p.Task, p.Evidence)
	}
	// Without a column of experts, every row is one.
	if p, err = OpenStandardTable(t.Context(), file(t, "score\n3\n4\n"), StandardTable{Rows: ExpertRows}); err != nil || len(p.Experts) != 2 || p.Experts[1].Attempts[0].Response != 4 {
		t.Errorf("rows as experts: %+v (%v)", p.Experts, err)
	}
}

func TestJudgedRows(t *testing.T) {
	p, err := OpenStandardTable(t.Context(), file(t, "competent,score\n1,50\n,60\n0,\n"), StandardTable{Rows: GroupRows})
	if err != nil {
		t.Fatal(err)
	}
	if v := p.Evidence.Values; v[0] != 50 || !math.IsNaN(v[1]) || !math.IsNaN(v[2]) || !reflect.DeepEqual(p.Evidence.Competent, []bool{true, false, false}) {
		t.Errorf("values %v, competent %v; whoever was not judged has no value", v, p.Evidence.Competent)
	}
	// The mean of two raters, with each rater's part.
	p, err = OpenStandardTable(t.Context(), file(t, "a,b,rating\n1,2,1\n3,,2\n"), StandardTable{Rows: RatingRows, Raters: []string{"a", "b"}})
	if err != nil {
		t.Fatal(err)
	}
	if e := p.Evidence; e.Values[0] != 1.5 || !math.IsNaN(e.Values[1]) || e.Parts[1][0] != 3 || !e.PartsAreRaters || e.Ratings[1] != 2 || p.Task.Response != "score" {
		t.Errorf("evidence %+v", e)
	}
}

func TestJudgeRows(t *testing.T) {
	p, err := OpenStandardTable(t.Context(), file(t, "round,judge,x,y\n1,A,20,60\n1,B,60,100\n2,A,30,70\n"), StandardTable{Rows: JudgementRows})
	if err != nil {
		t.Fatal(err)
	}
	want := []practice.JudgeRound{{Name: "1", Judges: []string{"A", "B"}, Judgements: [][]float64{{0.2, 0.6}, {0.6, 1}}}, {Name: "2", Judges: []string{"A"}, Judgements: [][]float64{{0.3, 0.7}}}}
	if !reflect.DeepEqual(p.Evidence.Rounds, want) || len(p.Notes) != 1 || p.Notes[0].Code != "percent" {
		t.Errorf("rounds %+v, notes %v", p.Evidence.Rounds, p.Notes)
	}
	p, err = OpenStandardTable(t.Context(), file(t, "judge,class,items,share\nA,hard,4,0.9\nB,hard,4,0.8\nA,easy,6,0.5\n"), StandardTable{Rows: ClassRows})
	classes := []practice.JudgeClasses{{Judge: "A", Items: []int{4, 6}, Shares: []float64{0.9, 0.5}}, {Judge: "B", Items: []int{4}, Shares: []float64{0.8}}}
	if err != nil || !reflect.DeepEqual(p.Evidence.Classes, classes) {
		t.Errorf("classes %+v (%v)", p.Evidence.Classes, err)
	}
	bounds := file(t, "min_cut,max_cut,min_fail,max_fail\n40,60,5,30\n")
	p, err = OpenStandardTable(t.Context(), file(t, "score\n50\n"), StandardTable{Rows: ValueRows, Bounds: bounds})
	if err != nil || !reflect.DeepEqual(p.Evidence.Bounds, []practice.JudgeBounds{{LowestCut: 40, HighestCut: 60, LowestFail: 5, HighestFail: 30}}) || p.Evidence.Values[0] != 50 {
		t.Errorf("evidence %+v (%v)", p.Evidence, err)
	}
	beside := file(t, "score\n7\n8\n")
	p, err = OpenStandardTable(t.Context(), file(t, "judge,x\nA,0.5\n"), StandardTable{Rows: JudgementRows, Trainees: beside})
	if err != nil || len(p.Evidence.Values) != 2 {
		t.Errorf("trainees beside judges: %+v (%v)", p.Evidence, err)
	}
}

// Every cell that cannot be used is named with its place.
func TestStandardTablesSayWhatIsWrong(t *testing.T) {
	blank := file(t, "min_cut,max_cut,min_fail,max_fail\n40,60,5,30\n40,,5,30\n")
	for _, c := range []struct {
		text  string
		table StandardTable
		kind  error
		says  string
	}{
		{"a\n1\n", StandardTable{Rows: ExpertRows}, problem.ErrMissing, `column "score"`},
		{"expert,score\nA,1\n,2\n", StandardTable{Rows: ExpertRows}, problem.ErrMissing, `table.csv:3: column "expert"`},
		{"expert,run,score\nA,1,1\nA,,2\n", StandardTable{Rows: ExpertRows}, problem.ErrMissing, `table.csv:3: column "run"`},
		{"score\n12\n-4\n", StandardTable{Rows: ExpertRows, Measure: Time}, problem.ErrRange, `table.csv:3: column "score": "-4"`},
		{"competent,score\n1,5\nmaybe,6\n", StandardTable{Rows: GroupRows}, problem.ErrUnknown, `table.csv:3: column "competent": "maybe"`},
		{"score\n5\n", StandardTable{Rows: RatingRows}, problem.ErrMissing, `column "rating"`},
		{"judge,x,y\nA,0.3,0.7\nB,0.5,\n", StandardTable{Rows: JudgementRows}, problem.ErrMissing, `column "y": "judge B"`},
		{"judge,item,chance\nA,x,0.5\nA,x,0.6\n", StandardTable{Rows: JudgementRows}, problem.ErrDuplicate, "one judgement"},
		{"judge,class,items,share\nA,x,1.5,0.5\n", StandardTable{Rows: ClassRows}, problem.ErrRange, "a whole number of items"},
		{"score\n5\n", StandardTable{Rows: ValueRows, Bounds: blank}, problem.ErrMissing, `table.csv:3: column "max_cut"`},
		{"score\n5\n", StandardTable{Rows: ValueRows}, nil, "judges' bounds are missing"},
		{"competent,score\n1,5\n", StandardTable{Rows: GroupRows, Trainees: blank}, nil, "holds the trainees already"},
		{"score\n5\n", StandardTable{Rows: "people"}, nil, "expected experts, groups"},
	} {
		_, err := OpenStandardTable(t.Context(), file(t, c.text), c.table)
		if err == nil || !strings.Contains(err.Error(), c.says) || c.kind != nil && !errors.Is(err, c.kind) {
			t.Errorf("%q: %v, want %v with %s", c.text, err, c.kind, c.says)
		}
	}
}

// Two people with two rows each are two people, whatever the number of rows.
func TestSeveralRowsOfOnePerson(t *testing.T) {
	for _, c := range []struct {
		name, text string
		rows       StandardRows
		noted      bool
	}{
		{"trainees twice", "trainee,score,competent\nA,1,0\nA,2,0\nB,5,1\nB,6,1\n", GroupRows, true},
		{"trainees once", "trainee,score,competent\nA,1,0\nB,2,0\nC,5,1\nD,6,1\n", GroupRows, false},
		{"ratings", "ID,score,rating\n7,1,1\n7,2,2\n8,5,3\n", RatingRows, true},
		{"runs under another name", "name,run,score\nAnn,1,5\nAnn,2,6\nBo,1,7\n", ExpertRows, true},
		{"runs of experts", "expert,run,score\nAnn,1,5\nAnn,2,6\nBo,1,7\n", ExpertRows, false},
		{"groups are no people", "site,score,competent\nX,1,0\nX,2,0\nX,5,1\nX,6,1\n", GroupRows, false},
	} {
		p, err := OpenStandardTable(t.Context(), file(t, c.text), StandardTable{Rows: c.rows})
		if err != nil {
			t.Fatal(err)
		}
		if noted := slices.ContainsFunc(p.Notes, func(n Note) bool { return n.Code == "several-rows" }); noted != c.noted {
			t.Errorf("%s: notes %v", c.name, p.Notes)
		}
	}
}

// 0.5, 0.6 and 0.7 beside 50, 60 and 70 are the same judgements on another scale; as percentages the
// first judge's total would be 0.018 items, not 1.8.
func TestJudgesOnTwoScales(t *testing.T) {
	open := func(text string) error {
		_, err := OpenStandardTable(t.Context(), file(t, text), StandardTable{Rows: JudgementRows})
		return err
	}
	if err := open("judge,i1,i2,i3\nP,0.5,0.6,0.7\nQ,50,60,70\n"); !errors.Is(err, problem.ErrAmbiguous) {
		t.Errorf("two scales: %v", err)
	}
	for _, text := range []string{"judge,i1,i2,i3\nP,1,60,70\nQ,50,60,70\n", "judge,i1,i2,i3\nP,0.5,0.6,1\nQ,1,1,0\n", "judge,i1,i2\nP,0,0\nQ,50,60\n"} {
		if err := open(text); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}
