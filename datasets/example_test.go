package datasets_test

import (
	"context"
	"fmt"
	"os"

	"tyro/datasets"
	"tyro/datasets/demo"
)

// A study folder, read and checked, as the practice that every analysis takes.
func ExampleOpen() {
	dir, err := os.MkdirTemp("", "study")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	if err := demo.Write(dir); err != nil {
		panic(err)
	}
	file, err := datasets.Open(context.Background(), dir)
	if err != nil {
		panic(err) // every problem, with file, row, column and what was expected
	}
	p, err := file.Practice("cannulation")
	fmt.Println(len(p.Trainees), "trainees,", len(p.Experts), "experts,", p.Task.Rule, err)
	// Output: 36 trainees, 10 experts, 2 in a row <nil>
}
