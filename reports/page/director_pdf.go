package page

import (
	"bytes"
	"io"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"tyro/reports"
)

// The measures of the printed page, in millimetres; letters in points.
const (
	pdfMargin  = 11.0
	pdfGap     = 2.6
	pdfPad     = 2.0
	pdfSmall   = 7.2
	pdfBody    = 8.4
	pdfAnswer  = 12.0
	pdfLeading = 0.44 // of a line, millimetres a point
)

// A sheet is the printed page being filled.
type sheet struct {
	*fpdf.Fpdf
	width float64 // between the margins
	err   error
}

// writePDF writes the page on paper of a size, A4 or Letter: always one sheet. Where it
// would not fit, letters get smaller, and then fewer trainees are listed.
func (d *director) writePDF(w io.Writer, paper string) error {
	for _, fit := range []struct {
		scale float64
		rows  int
	}{{1, 14}, {0.94, 14}, {0.9, 12}, {0.86, 10}, {0.82, 7}, {0.78, 4}, {0.74, 2}, {0.7, 0}} {
		s := newSheet(paper)
		height := s.fill(d, fit.scale, fit.rows)
		if s.err != nil {
			return s.err
		}
		_, page := s.GetPageSize()
		if height > page-pdfMargin+1.5 && fit.scale > 0.7 {
			continue
		}
		return s.Output(w)
	}
	return nil
}

func newSheet(paper string) *sheet {
	f := fpdf.New("P", "mm", paper, "")
	f.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	f.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	f.SetMargins(pdfMargin, pdfMargin, pdfMargin)
	f.SetAutoPageBreak(false, 0)
	f.SetCellMargin(0)
	f.SetCatalogSort(true)
	f.SetCreationDate(time.Unix(0, 0).UTC()) // the same study gives the same bytes
	f.SetModificationDate(time.Unix(0, 0).UTC())
	f.SetLang("en")
	f.AddPage()
	width, _ := f.GetPageSize()
	return &sheet{Fpdf: f, width: width - 2*pdfMargin}
}

// fill writes everything and returns how far down it goes.
func (s *sheet) fill(d *director, scale float64, rows int) float64 {
	s.SetTitle("For the program director: "+printed(d.Title), true)
	x, y := pdfMargin, pdfMargin-1.5
	y = s.words(x, y, s.width, pdfBody*scale, "B", teal, "For the program director")
	y = s.words(x, y, s.width, 14*scale, "B", black, d.Title)
	y = s.words(x, y, s.width, pdfBody*scale, "", black, d.Basis)
	y = s.words(x, y, s.width, pdfBody*scale, "B", black, d.Meaning) + pdfGap
	half := (s.width - pdfGap) / 2
	for i := 0; i < len(d.Boxes); i += 2 {
		left, right := d.Boxes[i], d.Boxes[i+1]
		write := func(b box) func(x, y, w float64) float64 {
			return func(x, y, w float64) float64 { return s.question(b, x, y, w, scale) }
		}
		y = s.pair(x, y, half, write(left), write(right)) + pdfGap
	}
	y = s.framed(x, y, s.width, func(x, y, w float64) float64 { return s.who(d, x, y, w, scale, rows) }) + pdfGap
	standard := func(x, y, w float64) float64 {
		y = s.words(x, y, w, pdfBody*scale, "B", grey, "The standard, and who set it")
		for _, line := range d.Standard {
			y = s.words(x, y, w, pdfBody*scale, "", black, line)
		}
		return s.words(x, y+1, w, pdfSmall*scale, "", grey, d.Made+".")
	}
	y = s.pair(x, y, half, standard, func(x, y, w float64) float64 { return s.curve(d, x, y, w, scale) }) + pdfGap
	s.SetFillColor(138, 74, 0)
	end := s.words(x+3, y, s.width-3, pdfBody*scale, "", black, "Caution. "+d.Caution)
	s.Rect(x, y, 1.2, end-y, "F")
	return end
}

type rgb [3]int

var (
	black = rgb{0x1f, 0x26, 0x2b}
	grey  = rgb{0x4f, 0x5a, 0x62}
	teal  = rgb{0x12, 0x5a, 0x68}
	// The places' marks, as on the page.
	placeInk = map[string]rgb{"look-now": {0x9c, 0x1c, 0x2e}, "close": teal, "needs-more": {0x5b, 0x4a, 0x00}, "stopped": grey, "met": {0x2c, 0x5e, 0x1a}}
)

// words writes a paragraph and returns where the next one starts.
func (s *sheet) words(x, y, w, size float64, weight string, ink rgb, text string) float64 {
	if text == "" {
		return y
	}
	s.SetFont("sans", weight, size)
	s.SetTextColor(ink[0], ink[1], ink[2])
	line := size * pdfLeading
	for _, part := range s.lines(text, w) {
		s.SetXY(x, y)
		s.CellFormat(w, line, part, "", 0, "L", false, 0, "")
		y += line
	}
	return y + 0.5
}

// lines breaks a text at spaces, and inside a word where it is wider than the line.
func (s *sheet) lines(text string, w float64) []string {
	var out []string
	line := ""
	for word := range strings.SplitSeq(printed(text), " ") {
		for s.GetStringWidth(word) > w-1 {
			cut := len([]rune(word)) - 1
			for cut > 1 && s.GetStringWidth(string([]rune(word)[:cut])) > w-1 {
				cut--
			}
			if line != "" {
				out, line = append(out, line), ""
			}
			out, word = append(out, string([]rune(word)[:cut])), string([]rune(word)[cut:])
		}
		switch {
		case line == "":
			line = word
		case s.GetStringWidth(line+" "+word) <= w-0.5:
			line += " " + word
		default:
			out, line = append(out, line), word
		}
	}
	return append(out, line)
}

// printed keeps what the font can show: characters beyond it become question marks.
func printed(text string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xffff {
			return '?'
		}
		return r
	}, reports.Printable(text))
}

// framed draws a frame around what write writes, and returns where it ends.
func (s *sheet) framed(x, y, w float64, write func(x, y, w float64) float64) float64 {
	end := write(x+pdfPad, y+pdfPad*0.7, w-2*pdfPad) + pdfPad*0.4
	s.frame(x, y, w, end-y)
	return end
}

func (s *sheet) frame(x, y, w, h float64) {
	s.SetDrawColor(0xb4, 0xbe, 0xc3)
	s.SetLineWidth(0.2)
	s.Rect(x, y, w, h, "D")
	s.SetFillColor(teal[0], teal[1], teal[2])
	s.Rect(x, y, w, 0.7, "F")
}

// pair frames two parts side by side, both as high as the higher one.
func (s *sheet) pair(x, y, half float64, left, right func(x, y, w float64) float64) float64 {
	a := left(x+pdfPad, y+pdfPad*0.7, half-2*pdfPad)
	b := right(x+half+pdfGap+pdfPad, y+pdfPad*0.7, half-2*pdfPad)
	end := max(a, b) + pdfPad*0.4
	s.frame(x, y, half, end-y)
	s.frame(x+half+pdfGap, y, half, end-y)
	return end
}

func (s *sheet) question(b box, x, y, w, scale float64) float64 {
	y = s.words(x, y, w, pdfBody*scale, "B", grey, string(rune('0'+b.Number))+"  "+b.Question)
	y = s.words(x, y, w, pdfAnswer*scale, "B", black, b.Answer)
	for _, line := range b.Lines {
		y = s.words(x, y, w, pdfBody*scale, "", black, line)
	}
	return y
}

// A column of the printed list: its head, its share of the width, and its text.
var pdfColumns = []struct {
	head  string
	share float64
	of    func(whoRow) string
}{
	{"Trainee", 0.10, func(r whoRow) string { return r.Trainee }},
	{"Needs", 0.09, func(r whoRow) string { return r.Needs }},
	{"Last date", 0.095, func(r whoRow) string { return r.Last }},
	{"Still to go", 0.105, func(r whoRow) string { return r.More }},
	{"Why", 0.285, func(r whoRow) string { return r.Why }},
	{"Suggested", 0.2, func(r whoRow) string { return r.Suggest }},
	{"Decision", 0.125, func(whoRow) string { return "" }},
}

// who writes the fifth box with so many rows.
func (s *sheet) who(d *director, x, y, w, scale float64, rows int) float64 {
	b := d.Who
	y = s.words(x, y, w, pdfBody*scale, "B", grey, "5  "+b.Question)
	if b.Nothing != "" {
		y = s.words(x, y, w, pdfAnswer*scale, "B", black, "Not known")
		return s.words(x, y, w, pdfBody*scale, "", black, b.Nothing)
	}
	at := x
	for _, c := range b.Counts {
		text := strings.TrimSpace(reports.Whole(float64(c.N)) + " " + c.Words)
		s.words(at, y, 40, pdfAnswer*0.85*scale, "B", placeInk[c.Place], text)
		at += s.GetStringWidth(text) + 6
	}
	y += pdfAnswer * 0.85 * scale * pdfLeading * 1.15
	if len(b.Rows) > 0 {
		y = s.row(x, y, w, pdfSmall*scale, "B", func(k int) (string, rgb) { return pdfColumns[k].head, black })
	}
	for _, r := range b.Rows[:min(rows, len(b.Rows))] {
		y = s.row(x, y, w, pdfSmall*scale, "", func(k int) (string, rgb) {
			if k == 1 {
				return pdfColumns[k].of(r), placeInk[r.Place]
			}
			return pdfColumns[k].of(r), black
		})
	}
	if more := len(b.Rows) - rows; more > 0 {
		y = s.words(x, y, w, pdfSmall*scale, "B", black, leftText(more))
	}
	if len(b.Met) <= mostPrintedMet {
		y = s.words(x, y, w, pdfSmall*scale, "", black, b.Met)
	}
	y = s.words(x, y, w, pdfSmall*scale, "", grey, b.Note) + 1.6
	by := "Decided by"
	if d.Decides != "" {
		by += " (" + d.Decides + ")"
	}
	third := w / 3
	for k, label := range []string{by + ":", "Name:", "Date:"} {
		s.words(x+float64(k)*third, y, third-4, pdfBody*scale, "", black, label)
	}
	y += 5.5
	s.SetDrawColor(black[0], black[1], black[2])
	for k := range 3 {
		s.Line(x+float64(k)*third, y, x+float64(k+1)*third-4, y)
	}
	return y + 1
}

// row writes one row of the list, every cell as high as it needs, with a line below.
func (s *sheet) row(x, y, w, size float64, weight string, cell func(k int) (string, rgb)) float64 {
	end, at := y, x
	for k, c := range pdfColumns {
		text, ink := cell(k)
		style := weight
		if k < 2 {
			style = "B"
		}
		end = max(end, s.words(at, y+0.3, c.share*w-1.5, size, style, ink, text))
		at += c.share * w
	}
	s.SetDrawColor(0xb4, 0xbe, 0xc3)
	s.SetLineWidth(0.15)
	s.Line(x, end, x+w, end)
	return end
}

// curve puts the picture under its heading.
func (s *sheet) curve(d *director, x, y, w, scale float64) float64 {
	y = s.words(x, y, w, pdfBody*scale, "B", grey, "Proficient by attempt")
	if d.Curve == nil {
		return s.words(x, y, w, pdfBody*scale, "", black, "There is nothing to draw.")
	}
	png, err := d.png()
	if err != nil {
		s.err = err
		return y
	}
	s.RegisterImageOptionsReader("curve", fpdf.ImageOptions{ImageType: "PNG"}, bytes.NewReader(png))
	height := w / d.Curve.Ratio()
	s.ImageOptions("curve", x, y, w, height, false, fpdf.ImageOptions{ImageType: "PNG"}, 0, "")
	return s.words(x, y+height+1.2, w, pdfSmall*scale, "", grey, d.Curve.Key())
}
