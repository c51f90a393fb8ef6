package practice

// A FileRead is how one sheet of a file was read: what was taken of it, and what was not.
type FileRead struct {
	File, Sheet, Format, Encoding, Separator, Decimal string
	Shape                                             string // one row an attempt, one column an attempt, …

	Columns       []ColumnRead
	ColumnsUnused []string
	SheetsUnread  []string
	Rows          int // below the head
	RowsUsed      int
	Attempts      int
	TimeoutsSet   int // attempts that became timeouts because their time reached the limit
	Dropped       []DroppedRow
	Tasks         []string // named in the file
	First, Last   string   // dates, blank where there are none

	Trainees         int
	Fewest, Most     int // attempts of one trainee
	TraineesWithGaps int // whose attempt numbers leave some out
}

// A ColumnRead is how a column was understood.
type ColumnRead struct {
	Name, As string // As: trainee, attempt, seconds, …
	How      string // numbers with decimal points, times as m:ss, …
	Samples  []SampleRead
}

// A SampleRead is a cell as it stands in the file, and what was made of it.
type SampleRead struct{ Cell, Value string }

// A DroppedRow is a row that was not used, and why.
type DroppedRow struct {
	Row    int
	Reason string
}
