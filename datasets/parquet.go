package datasets

import "context"

func parquetGrid(ctx context.Context, file string, data []byte) (*grid, error) {
	return nil, Problem{File: file, Err: ErrFormat, Expect: "a table as CSV, TSV, XLSX or ODS; this is Parquet: export it as CSV"}
}
