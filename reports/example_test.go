package reports_test

import (
	"os"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// An answer as a document, as a table for a spreadsheet. The chance of two passes in a row among
// three attempts that pass with chance 0.5 each is 3/8.
func ExampleWriteCSV() {
	rule, _ := practice.ParseRule("2 in a row")
	s, err := study.New(practice.Practice{}, study.Options{})
	if err != nil {
		panic(err)
	}
	answer, err := study.Operating(rule, 0.5, 3)
	if err != nil {
		panic(err)
	}
	d := reports.NewOperatingCurve(s, answer)
	if err := reports.WriteCSV(os.Stdout, d); err != nil {
		panic(err)
	}
	// Output:
	// share,attempts,lower,upper,status
	// 0.5,,,,cannot-be-estimated
	// 0.8,,,,cannot-be-estimated
	// 0.9,,,,cannot-be-estimated
	//
	// # operating
	// attempt,met_by
	// 1,0
	// 2,0.25
	// 3,0.375
}
