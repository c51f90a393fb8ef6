package grid

import (
	"bytes"
	"fmt"
	"regexp"

	"tyro/analysis"
	"tyro/datasets/internal/pattern"
)

var (
	ruleCell   = pattern.New(`^:?[-=_+]{3,}:?$`)
	edgeSpaces = regexp.MustCompile(`(?m)^[ \t]+|[ \t]+$`)
	spaceRuns  = regexp.MustCompile(`[ \t]{2,}`)
)

// isRule reports whether a row only draws a line, as terminals and text documents do
// below the names.
func isRule(cells [][]byte) bool {
	drawn := false
	for _, c := range cells {
		if len(c) > 0 && (c[0] >= '0' && c[0] <= '9' || c[0] >= 'A' && c[0] <= 'Z' || c[0] >= 'a' && c[0] <= 'z') {
			return false // as most rows
		}
		if c = bytes.TrimSpace(c); len(c) == 0 {
			continue
		}
		if !ruleCell.MatchString(string(c)) {
			return false
		}
		drawn = true
	}
	return drawn
}

// oneSpace leaves one space where several set columns apart, and none around a line.
func oneSpace(text []byte) []byte {
	return spaceRuns.ReplaceAll(edgeSpaces.ReplaceAll(text, nil), []byte(" "))
}

// unquoteLines takes away the quotes around whole lines, which a spreadsheet puts there when
// a file is saved with another separator than it was opened with.
func (g *Grid) unquoteLines(text []byte) []byte {
	whole := bytes.TrimRight(text, "\n")
	if bytes.IndexByte(whole, '\n') < 0 {
		return text
	}
	for line := range bytes.SplitSeq(whole, []byte("\n")) {
		inner := bytes.ReplaceAll(bytes.TrimSuffix(bytes.TrimPrefix(line, []byte(`"`)), []byte(`"`)), []byte(`""`), nil)
		if len(line) < 3 || line[0] != '"' || line[len(line)-1] != '"' || bytes.IndexByte(inner, '"') >= 0 || !bytes.ContainsAny(inner, ",;\t|") {
			return text
		}
	}
	g.Notes = append(g.Notes, analysis.Warning{Code: "quoted-lines", Text: fmt.Sprintf("%s: every line stands in quotes as a whole; they are taken away", g.File)})
	lines := bytes.Split(whole, []byte("\n"))
	for i, line := range lines {
		lines[i] = bytes.ReplaceAll(line[1:len(line)-1], []byte(`""`), []byte(`"`))
	}
	return append(bytes.Join(lines, []byte("\n")), '\n')
}

// mergeMark is the line of a mark that a tool for versions left in a text; 0 for none.
func mergeMark(text []byte) int {
	for _, mark := range []string{"<<<<<<< ", ">>>>>>> "} {
		if bytes.HasPrefix(text, []byte(mark)) {
			return 1
		}
		if i := bytes.Index(text, []byte("\n"+mark)); i >= 0 {
			return 2 + bytes.Count(text[:i], []byte("\n"))
		}
	}
	return 0
}
