package datasets

import (
	"bytes"
	"fmt"
	"regexp"
)

var (
	singleHead  = regexp.MustCompile(`^'[^'\n]*'(?:[,;\t|]'[^'\n]*')+\n`)
	singleOpen  = regexp.MustCompile(`(?m)(^|[,;\t|])'`)
	singleClose = regexp.MustCompile(`(?m)'([,;\t|]|$)`)
)

// singleQuotes gives cells that stand in single quotes, as some databases write them, double
// ones. The names of the columns show it, and no double quote may stand in the file.
func (g *grid) singleQuotes(text []byte) []byte {
	if !singleHead.Match(text) || bytes.IndexByte(text, '"') >= 0 {
		return text
	}
	g.notes = append(g.notes, Note{Code: "single-quotes", Text: fmt.Sprintf("%s: cells stand in single quotes, which are taken away", g.file)})
	return singleClose.ReplaceAll(singleOpen.ReplaceAll(text, []byte(`$1"`)), []byte(`"$1`))
}
