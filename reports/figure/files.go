package figure

import (
	"bytes"
	"math"

	"tyro/reports"
)

// Files are what a document leaves in a folder beside its tables: pictures as SVG, and
// tables too long to print. Nothing for a document without pictures.
func Files(d reports.Document) (map[string][]byte, error) {
	var tables []reports.Table
	switch d := d.(type) {
	case *reports.Agreement:
		tables = d.Extra()
	case *reports.Cohort:
		tables = tablesOfCohort(d)
	case *reports.Curves:
		tables = []reports.Table{d.Bands()}
	case *reports.Monitor:
		tables = []reports.Table{d.PointsTable()}
	case *reports.WaysToStop:
		tables = []reports.Table{d.CurveTable()}
	}
	pictures, err := Pictures(d)
	if err != nil {
		return nil, err
	}
	files, err := svgFiles(pictures)
	if err != nil {
		return nil, err
	}
	for _, t := range tables {
		var b bytes.Buffer
		if err := t.WriteCSV(&b); err != nil {
			return nil, err
		}
		files[t.Name+".csv"] = b.Bytes()
	}
	if s, ok := d.(*reports.Standard); ok && s.StudyBlock != "" {
		files["standard.yaml"] = []byte(s.StudyBlock)
	}
	return files, nil
}

// Pictures are a document's figures as they lie in a folder, each named for its command.
func Pictures(d reports.Document) ([]Picture, error) {
	var out []Picture
	switch d := d.(type) {
	case *reports.Agreement:
		out = Agreement(d, 460)
	case *reports.Cohort:
		out = picturesOfCohort(d, math.Inf(1))
		if d.Checks != nil {
			out = append(out, picturesOfChecks(d, math.Inf(1))...)
		}
	case *reports.Comparison:
		out = Comparison(d, 360, 320)
	case *reports.Retention:
		out = []Picture{Calendar(d, 420, 240)}
	case *reports.OutcomeComparison:
		out = []Picture{transferPicture(d, 420, 240)}
	case *reports.Curves:
		out = picturesOfCurves(d)
	case *reports.Monitor:
		out = picturesOfMonitor(d)
	case *reports.Proficiency:
		out = picturesOfProficiency(d, 460)
	case *reports.Quota:
		out = picturesOfQuota(d, QuotaWidth, QuotaHeight)
	case *reports.Standard:
		out = []Picture{Standard(d, 460)}
	case *reports.UntilProficient:
		out = picturesOfUntilProficient(d, 460)
	case *reports.Plan:
		out = []Picture{planPicture(d, 380, 300)}
	case *reports.WaysToStop:
		out = []Picture{Ways(d, 3)}
	}
	var drawn []Picture
	for _, p := range out {
		if p.Draw != nil {
			drawn = append(drawn, p.named(fileNamed(d, p.Name), ""))
		}
	}
	return drawn, nil
}
