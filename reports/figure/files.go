package figure

import "tyro/reports"

// Files are what a document leaves in a folder beside its tables: pictures as SVG, and
// tables too long to print. Nothing for a document without pictures.
func Files(d reports.Document) (map[string][]byte, error) {
	switch d := d.(type) {
	case *reports.Agreement:
		return filesOfAgreement(d)
	case *reports.Cohort:
		return filesOfCohort(d)
	case *reports.Comparison:
		return filesOfCompare(d)
	case *reports.OutcomeComparison:
		return filesOfOutcomes(d)
	case *reports.Retention:
		return filesOfRetention(d)
	case *reports.Curves:
		return curveFiles(d)
	case *reports.Monitor:
		return monitorFiles(d)
	case *reports.Proficiency:
		return FilesOfProficiency(d)
	case *reports.Quota:
		return filesOfQuota(d)
	case *reports.Standard:
		return filesOfStandard(d)
	case *reports.UntilProficient:
		return filesOfUntilProficient(d)
	case *reports.WaysToStop:
		return filesOfWays(d)
	}
	return nil, nil
}
