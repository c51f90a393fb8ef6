package grid

import (
	"bytes"
	"context"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"

	"tyro/analysis"
	"tyro/datasets/problem"
)

// The separators of cells that text files have.
var Separators = []rune{',', ';', '\t', '|'}

// separatorWords are what separators are called.
func SeparatorWord(r rune) string {
	return map[rune]string{0: "none", ',': "comma", ';': "semicolon", '\t': "tab", '|': "bar", ' ': "space"}[r]
}

func separatorNamed(word string) (rune, bool) {
	for _, r := range append([]rune{' '}, Separators...) {
		if word == SeparatorWord(r) {
			return r, true
		}
	}
	return 0, false
}

// ReadText decodes a text file, finds its separator and cuts it into cells.
func ReadText(ctx context.Context, file string, data []byte, encoding, separator string) (*Grid, error) {
	g := newGrid(file, "CSV")
	if line := endlessCell(data); line > 0 {
		return nil, problem.Problem{File: file, Line: line, Err: problem.ErrFormat, Expect: fmt.Sprintf("cells of at most %d million characters", mostText>>20)}
	}
	text, err := g.decode(data, encoding)
	if err != nil {
		return nil, err
	}
	if line := mergeMark(text); line > 0 {
		return nil, problem.Problem{File: file, Line: line, Err: problem.ErrFormat, Expect: "one version of the table; a tool that joins versions left its marks here: choose the rows that hold, and take the marks out"}
	}
	text, before := g.headLines(text)
	if bytes.HasPrefix(text, []byte(`"`)) {
		text = g.unquoteLines(text)
	}
	text = g.singleQuotes(text)
	if separator != "" {
		g.Separator, _ = separatorNamed(separator)
	}
	if g.Separator == 0 {
		g.Separator = sniff(text)
		if g.Separator == ',' && spaced(text) {
			g.Separator = ' '
			g.Notes = append(g.Notes, analysis.Warning{Code: "spaces-part-cells", Text: fmt.Sprintf("%s: nothing but spaces parts its cells, which are as many in every row; where a cell has a space in it, write the table with commas or tabs", g.File)})
		}
	}
	if g.Separator == ' ' {
		text = oneSpace(text)
	}
	if g.Separator == '\t' {
		g.Format = "TSV"
	}
	if bytes.Count(firstLine(text), []byte(string(g.Separator))) >= 2*mostColumns {
		return nil, problem.Problem{File: file, Line: before + 1, Err: problem.ErrFormat, Expect: fmt.Sprintf("at most %d columns", mostColumns)}
	}
	err = g.cut(ctx, text, before)
	g.apostrophes()
	return g, err
}

// endlessCell is the line with a cell longer than any that is read; 0 where there is none.
// It looks before anything is copied: from the last end of a cell in a stretch to the next.
func endlessCell(data []byte) int {
	from := 0
	for len(data)-from > 2*mostText {
		n := bytes.LastIndexAny(data[from:from+2*mostText], ",;\t|\n\r")
		if n < 0 {
			return 1 + bytes.Count(data[:from], []byte("\n"))
		}
		from += n + 1
	}
	return 0
}

// decode turns bytes into text: UTF-8, UTF-16 with or without a byte-order mark,
// Windows-1252, which is said, or the encoding that was given. Old line ends become new ones.
func (g *Grid) decode(data []byte, encoding string) ([]byte, error) {
	g.Encoding = encodingOf(data)
	if encoding != "" {
		g.Encoding = shownAs(encoding)
	}
	unreadable := func(expect string) error {
		return problem.Problem{File: g.File, Err: problem.ErrFormat, Expect: expect}
	}
	switch g.Encoding {
	case "UTF-16LE", "UTF-16BE":
		order := unicode.LittleEndian
		if g.Encoding == "UTF-16BE" {
			order = unicode.BigEndian
		}
		wide, err := unicode.UTF16(order, unicode.UseBOM).NewDecoder().Bytes(data)
		if err != nil || len(data)%2 != 0 || bytes.ContainsRune(wide, utf8.RuneError) {
			return nil, unreadable(g.Encoding + " text to the end of the file")
		}
		data = wide
	case "UTF-8":
	default:
		for i, b := range data {
			if g.Encoding == "Windows-1252" && (b == 0x81 || b == 0x8d || b == 0x8f || b == 0x90 || b == 0x9d) {
				return nil, g.badByte(data, i)
			}
		}
		if encoding == "" {
			i := invalidAt(data)
			if line := manyByteLine(data); line > 0 {
				return nil, problem.Problem{File: g.File, Line: 1 + bytes.Count(data[:i], []byte("\n")), Err: problem.ErrFormat, Expect: fmt.Sprintf("one encoding; this line is no UTF-8, but line %d is: save the file as UTF-8, or say --encoding windows-1252 where all of it is (in a study file: encoding)", line)}
			}
			g.Notes = append(g.Notes, analysis.Warning{Code: "encoding-taken", Text: fmt.Sprintf("%s is not UTF-8 (line %d) and is read as Windows-1252; if letters look wrong, save it as UTF-8 or say --encoding, such as windows-1250 for Polish or Czech and windows-1251 for Russian (in a study file: encoding)", g.File, 1+bytes.Count(data[:i], []byte("\n")))})
		}
		text, ok := decoded(data, g.Encoding)
		if !ok {
			return nil, unreadable(g.Encoding + " text to the end of the file; another encoding (--encoding, in a study file: encoding), or UTF-8, may fit")
		}
		data = text
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if i := invalidAt(data); i >= 0 {
		return nil, g.badByte(data, i)
	}
	return plainLines(data), nil
}

// plainLines ends every line with a line feed alone.
func plainLines(text []byte) []byte {
	if bytes.IndexByte(text, '\r') < 0 {
		return text
	}
	out := make([]byte, 0, len(text))
	for {
		n := bytes.IndexByte(text, '\r')
		if n < 0 {
			return append(out, text...)
		}
		out = append(append(out, text[:n]...), '\n')
		if text = text[n+1:]; len(text) > 0 && text[0] == '\n' {
			text = text[1:]
		}
	}
}

// manyByteLine is the line of the first letter that is written in several bytes of UTF-8, in
// a text that is not UTF-8 as a whole; 0 where there is none. In Windows-1252 such bytes
// are two signs that hardly follow each other, such as Ã and ¼.
func manyByteLine(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if n > 1 && r != '\ufeff' {
			return 1 + bytes.Count(data[:i], []byte("\n"))
		}
		i += n
	}
	return 0
}

func (g *Grid) badByte(data []byte, i int) error {
	if data[i] == 0 {
		return problem.Problem{File: g.File, Line: 1 + bytes.Count(data[:i], []byte("\n")), Value: "byte 0x00", Err: problem.ErrFormat, Expect: "UTF-8 text; a file with zero bytes was not written to its end, or is no text: save it again from where it came"}
	}
	way := ""
	if names := mayBe(data); names != "" {
		way = fmt.Sprintf("; it may be %s: say --encoding (in a study file: encoding)", names)
	}
	return problem.Problem{File: g.File, Line: 1 + bytes.Count(data[:i], []byte("\n")), Value: fmt.Sprintf("byte 0x%02x", data[i]), Err: problem.ErrFormat, Expect: "UTF-8 text (save the file as UTF-8)" + way}
}

// encodingOf finds how a text is encoded from its bytes.
func encodingOf(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		return "UTF-16LE"
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return "UTF-16BE"
	}
	even, odd, n := 0, 0, min(len(data), 4096)&^1
	for i := 0; i < n; i += 2 {
		if data[i] == 0 {
			even++
		}
		if data[i+1] == 0 {
			odd++
		}
	}
	switch {
	case 5*odd > n && even == 0: // more than two in five characters of plain letters
		return "UTF-16LE"
	case 5*even > n && odd == 0:
		return "UTF-16BE"
	}
	if i := invalidAt(data); i >= 0 && data[i] >= 0x80 && bytes.IndexByte(data, 0) < 0 {
		return "Windows-1252"
	}
	return "UTF-8"
}

// invalidAt is the position of the first byte that cannot be UTF-8 text; -1 if none.
func invalidAt(data []byte) int {
	if utf8.Valid(data) {
		return bytes.IndexByte(data, 0)
	}
	for i := 0; i < len(data); {
		if data[i] == 0 {
			return i
		}
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// headLines takes away a line that names the separator, and lines of comments at the top,
// and counts them.
func (g *Grid) headLines(text []byte) ([]byte, int) {
	taken := 0
	line, rest, _ := bytes.Cut(text, []byte("\n"))
	if sep, ok := bytes.CutPrefix(bytes.ToLower(bytes.Trim(line, `"`)), []byte("sep=")); ok && utf8.RuneCount(sep) == 1 {
		g.Separator, _ = utf8.DecodeRune(sep)
		text, taken = rest, 1
	} else if bytes.EqualFold(line, []byte(`sep=\t`)) {
		g.Separator, text, taken = '\t', rest, 1
	}
	comments, said := 0, []string(nil)
	for {
		line, rest, more := bytes.Cut(text, []byte("\n"))
		mark := bytes.TrimLeft(line, " \t")
		if !more || !(bytes.HasPrefix(mark, []byte("#")) && !bytes.HasPrefix(mark, []byte("#1")) || bytes.HasPrefix(mark, []byte("//")) || bytes.HasPrefix(mark, []byte("%"))) {
			break
		}
		// A head whose first name is # has as many cells as the rows below it.
		if sep := sniff(text); comments == 0 && bytes.ContainsRune(line, sep) && bytes.Count(line, []byte(string(sep))) == bytes.Count(firstLine(rest), []byte(string(sep))) && !bytes.HasPrefix(mark, []byte("# ")) {
			break
		}
		if comments++; comments <= 3 {
			said = append(said, string(bytes.TrimSpace(line)))
		}
		text = rest
	}
	if comments > 0 {
		g.Notes = append(g.Notes, analysis.Warning{Code: "comment-lines", Text: fmt.Sprintf("%s: %d lines of comments at the top are not read: %q; where they say a unit or what does not count, say so by flags", g.File, comments, problem.Clip(strings.ToValidUTF8(strings.Join(said, "; "), "?")))})
	}
	return text, taken + comments
}

func firstLine(text []byte) []byte {
	line, _, _ := bytes.Cut(text, []byte("\n"))
	return line
}

// sniffed is how many lines are looked at to find the separator.
const sniffed = 200

// sniff finds the separator: the one that cuts most lines into the same number of
// cells, above one; where several do, the one that cuts them into more. A comma gives way
// to any other that cuts as many lines alike, since it may stand within numbers: Name;1;2
// above KS;98,4;87,5 has as many commas as semicolons in every row of data.
func sniff(text []byte) rune {
	var lines [][]byte
	for rest := text; len(rest) > 0 && len(lines) < sniffed; {
		var line []byte
		line, rest, _ = bytes.Cut(rest, []byte("\n"))
		if len(line) > mostText {
			break
		}
		if len(bytes.TrimSpace(line)) > 0 {
			lines = append(lines, line)
		}
	}
	best, bestAgree, bestCells := ',', 0.0, 1
	for _, sep := range Separators {
		cells, agree := agreement(lines, sep)
		share := float64(agree) / float64(max(1, len(lines)))
		within := best == ',' && share >= bestAgree
		// A few lines of a title or a note may differ.
		if cells > 1 && (within || share > bestAgree+0.2 || share > bestAgree-0.2 && cells > bestCells || bestCells == 1) {
			best, bestAgree, bestCells = sep, share, cells
		}
	}
	return best
}

// agreement is the number of cells that most lines have, and how many lines have it.
func agreement(lines [][]byte, sep rune) (cells, agree int) {
	counts := map[int]int{}
	for _, line := range lines {
		n, quoted := 1, false
		for _, r := range string(line) {
			switch {
			case r == '"':
				quoted = !quoted
			case r == sep && !quoted:
				n++
			}
		}
		counts[n]++
	}
	for n, lines := range counts {
		if lines > agree || lines == agree && n > cells {
			cells, agree = n, lines
		}
	}
	return cells, agree
}

var jsonStart = regexp.MustCompile(`^(?:\{\s*["}]|\[\s*[{\[]|\[\s*\n)`)

// FormatOf names what a file is that is no table of text, by its first bytes; blank for
// text.
func FormatOf(data []byte) string {
	head := strings.ToLower(string(bytes.TrimLeft(data[:min(len(data), 512)], " \t\r\n\ufeff")))
	starts := func(parts ...string) bool {
		for _, p := range parts {
			if strings.HasPrefix(string(data[:min(len(data), 64)]), p) {
				return true
			}
		}
		return false
	}
	switch {
	case starts("PK\x03\x04", "PK\x05\x06"):
		return "a ZIP archive"
	case starts("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"):
		return "an old workbook or document (XLS), or one with a password: save it as XLSX without a password"
	case starts("%PDF"):
		return "a PDF document: export the table as CSV or XLSX"
	case strings.HasPrefix(head, "mime-version:"):
		return "a web page (MHTML), whatever its name: open it in a spreadsheet program and save it as XLSX or CSV"
	case strings.HasPrefix(head, "create table"), strings.HasPrefix(head, "insert into"), strings.HasPrefix(head, "--") && strings.Contains(head, "insert into"), strings.HasPrefix(head, "/*!"):
		return "what a database wrote to be restored (SQL): export the table as CSV"
	case strings.HasPrefix(head, "version https://git-lfs"), strings.HasPrefix(head, "[internetshortcut]"):
		return "a pointer to a file that is kept elsewhere: get the file itself"
	case starts("PAR1"):
		return "Parquet"
	case starts("\x1f\x8b"):
		return "a GZIP archive: unpack it first"
	case starts("7z\xbc\xaf", "Rar!"):
		return "an archive: unpack it first"
	case starts("\x89PNG", "\xff\xd8\xff", "GIF8"):
		return "a picture: type the table, or export it as CSV"
	case starts("$FL2", "$FL3", "<stata_dta>") || starts("\x72\x02", "\x73\x02", "\x76\x02"):
		return "a data file of a statistics program: export it as CSV"
	case starts("RDX", "X\n\x00", "SQLite format 3", "\x89HDF"):
		return "a data file of another program: export it as CSV"
	case strings.HasPrefix(head, "{\\rtf"):
		return "a text document (RTF): export the table as CSV or XLSX"
	case strings.HasPrefix(head, "<!doctype html"), strings.HasPrefix(head, "<html"), strings.HasPrefix(head, "<table"):
		return "a web page (HTML), whatever its name: open it in a spreadsheet program and save it as XLSX or CSV"
	case strings.HasPrefix(head, "<?xml"), strings.HasPrefix(head, "<"):
		return "an XML file: open it in a spreadsheet program and save it as XLSX or CSV"
	case jsonStart.MatchString(head):
		return "a JSON file: export the table as CSV"
	}
	return ""
}
