package datasets

import (
	"io"
	"math"
	"slices"

	"github.com/parquet-go/parquet-go"
)

// WriteParquet writes a log in the canonical form as Parquet: the rows and columns of WriteLog,
// texts as strings, measures as double, attempts as whole numbers where all are; what is blank
// there is null here. Reading it back gives the same attempts.
func WriteParquet(w io.Writer, l Log) error {
	whole := !slices.ContainsFunc(l.Attempts, func(a Attempt) bool { return a.Number != math.Trunc(a.Number) || math.Abs(a.Number) > 1<<53 })
	text := func(of func(Attempt) string) func(Attempt) parquet.Value {
		return func(a Attempt) parquet.Value {
			if s := of(a); s != "" {
				return parquet.ByteArrayValue([]byte(s))
			}
			return parquet.NullValue()
		}
	}
	words := func(name string, of func(Attempt) string) parquetOut {
		return parquetOut{name, parquet.Encoded(parquet.String(), &parquet.RLEDictionary), text(of)}
	}
	columns := []parquetOut{
		words("trainee", func(a Attempt) string { return a.Trainee }), words("arm", func(a Attempt) string { return a.Arm }),
		words("task", func(a Attempt) string { return a.Task }), words("session", func(a Attempt) string { return a.Session }),
	}
	if l.Dated() {
		columns = append(columns, words("date", func(a Attempt) string { return l.Date(a) }))
	}
	attempt := parquetOut{"attempt", parquet.Leaf(parquet.DoubleType), func(a Attempt) parquet.Value { return parquet.DoubleValue(a.Number) }}
	if whole {
		attempt = parquetOut{"attempt", parquet.Int(64), func(a Attempt) parquet.Value { return parquet.Int64Value(int64(a.Number)) }}
	}
	columns = append(columns, attempt)
	for j, name := range l.Measures {
		columns = append(columns, parquetOut{name, parquet.Leaf(parquet.DoubleType), func(a Attempt) parquet.Value {
			if v := l.Values(a)[j]; !math.IsNaN(v) {
				return parquet.DoubleValue(v)
			}
			return parquet.NullValue()
		}})
	}
	columns = append(columns, words("outcome", func(a Attempt) string { return a.Outcome.String() }))
	return writeColumns(w, columns, l.canonical())
}

// A parquetOut is a column to write.
type parquetOut struct {
	name string
	node parquet.Node
	of   func(Attempt) parquet.Value
}

// rowsAtATime are written together.
const rowsAtATime = 1024

func writeColumns(w io.Writer, columns []parquetOut, attempts []Attempt) error {
	group := parquet.Group{}
	var names []string
	for _, c := range columns {
		group[c.name] = parquet.Compressed(parquet.Optional(c.node), &parquet.Snappy)
		names = append(names, c.name)
	}
	out := parquet.NewGenericWriter[any](w, parquet.NewSchema("attempts", inOrder{group, names}))
	var rows []parquet.Row
	for i, a := range attempts {
		row := make(parquet.Row, len(columns))
		for j, c := range columns {
			v := c.of(a)
			there := 1
			if v.IsNull() {
				there = 0
			}
			row[j] = v.Level(0, there, j)
		}
		if rows = append(rows, row); len(rows) == rowsAtATime || i == len(attempts)-1 {
			if _, err := out.WriteRows(rows); err != nil {
				return err
			}
			rows = rows[:0]
		}
	}
	return out.Close()
}

// inOrder is a group whose columns keep their order; the library sorts them by name.
type inOrder struct {
	parquet.Group
	names []string
}

// Fields lists the columns in order.
func (g inOrder) Fields() []parquet.Field {
	fields := g.Group.Fields()
	slices.SortFunc(fields, func(a, b parquet.Field) int { return slices.Index(g.names, a.Name()) - slices.Index(g.names, b.Name()) })
	return fields
}
