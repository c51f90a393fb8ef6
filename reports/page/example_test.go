package page_test

import (
	"context"
	"os"

	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports/page"
)

// The whole job on a study folder, as one page on standard output.
func ExampleRun() {
	file, err := datasets.Open(context.Background(), "mystudy")
	if err != nil {
		panic(err)
	}
	p, err := file.Practice("")
	if err != nil {
		panic(err)
	}
	s, err := study.New(p, study.Options{})
	if err != nil {
		panic(err)
	}
	report, err := page.Run(context.Background(), s)
	if err != nil {
		panic(err)
	}
	if err := report.WriteHTML(os.Stdout); err != nil {
		panic(err)
	}
}
