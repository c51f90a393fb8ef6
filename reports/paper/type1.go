package paper

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// typed is a canvas for PostScript that remembers which letters of which font it wrote, so
// that they can be embedded: the back end names fonts, and embeds none. Letters are written
// by codes of one byte.
type typed struct {
	vg.Canvas
	fonts map[string]*subset // by the font's name
}

// A subset is those letters of a font that are used.
type subset struct {
	face font.Face
	code map[rune]byte
	free []byte // codes not yet given, for letters beyond ASCII
}

// can reports whether a text can be written with codes of one byte: not where the font
// lacks a letter, or all codes are given.
func (c typed) can(f font.Face, text string) bool {
	_, ok := c.of(f).encode(text)
	return ok
}

func (c typed) of(f font.Face) *subset {
	s := c.fonts[f.Name()]
	if s == nil {
		s = &subset{face: f, code: map[rune]byte{}}
		for b := 128; b <= 255; b++ {
			s.free = append(s.free, byte(b))
		}
		c.fonts[f.Name()] = s
	}
	return s
}

// FillString implements vg.Canvas.
func (c typed) FillString(f font.Face, at vg.Point, text string) {
	if codes, ok := c.of(f).encode(text); ok {
		c.Canvas.FillString(f, at, codes)
	}
}

// encode is a text as the inside of a PostScript string.
func (s *subset) encode(text string) (string, bool) {
	var b strings.Builder
	var buffer sfnt.Buffer
	for _, r := range text {
		code, known := s.code[r]
		if !known {
			if g, err := s.face.Face.GlyphIndex(&buffer, r); err != nil || g == 0 {
				return "", false
			}
			switch {
			case r >= ' ' && r <= '~':
				code = byte(r)
			case len(s.free) > 0:
				code, s.free = s.free[0], s.free[1:]
			default:
				return "", false
			}
			s.code[r] = code
		}
		if code >= 128 || strings.ContainsRune(`()\`, rune(code)) {
			fmt.Fprintf(&b, `\%03o`, code)
		} else {
			b.WriteByte(code)
		}
	}
	return b.String(), true
}

// embedded are the fonts as Type 1 programs (Adobe Type 1 Font Format, 1990), by name.
func (c typed) embedded() ([]byte, error) {
	var b bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(c.fonts)) {
		if len(c.fonts[name].code) == 0 {
			continue
		}
		program, err := c.fonts[name].type1(name)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%%%%BeginResource: font %s\n%s%%%%EndResource\n", name, program)
	}
	return b.Bytes(), nil
}

// The keys with which the format hides a font's private part and its letters.
const (
	programKey = 55665
	letterKey  = 4330
)

// type1 is the font program of the letters used.
func (s *subset) type1(name string) ([]byte, error) {
	em := int(s.face.Face.UnitsPerEm())
	runes := slices.SortedFunc(maps.Keys(s.code), func(a, b rune) int { return int(s.code[a]) - int(s.code[b]) })
	var encoding, letters bytes.Buffer
	notdef, err := s.letter(0)
	if err != nil {
		return nil, err
	}
	letter := func(name string, program []byte) {
		fmt.Fprintf(&letters, "/%s %d RD ", name, len(program)+4)
		letters.Write(hidden(program, letterKey))
		letters.WriteString(" ND\n")
	}
	letter(".notdef", notdef)
	var buffer sfnt.Buffer
	for _, r := range runes {
		glyph, err := s.face.Face.GlyphIndex(&buffer, r)
		if err != nil {
			return nil, err
		}
		program, err := s.letter(glyph)
		if err != nil {
			return nil, err
		}
		name := fmt.Sprintf("uni%04X", r)
		if r > 0xffff {
			name = fmt.Sprintf("u%06X", r)
		}
		fmt.Fprintf(&encoding, "dup %d /%s put\n", s.code[r], name)
		letter(name, program)
	}
	var private bytes.Buffer
	private.WriteString("dup /Private 8 dict dup begin\n/RD {string currentfile exch readstring pop} executeonly def\n/ND {noaccess def} executeonly def\n/NP {noaccess put} executeonly def\n/BlueValues [] def\n/MinFeature {16 16} def\n/password 5839 def\n")
	fmt.Fprintf(&private, "2 index /CharStrings %d dict dup begin\n%send\nend\nreadonly put\nnoaccess put\ndup /FontName get exch definefont pop\nmark currentfile closefile\n", len(runes)+1, letters.Bytes())
	var b bytes.Buffer
	fmt.Fprintf(&b, "%%!PS-AdobeFont-1.0: %s\n9 dict begin\n/FontName /%s def\n/PaintType 0 def\n/FontType 1 def\n/FontMatrix [%.8g 0 0 %.8g 0 0] readonly def\n/FontBBox {%d %d %d %d} readonly def\n", name, name, 1/float64(em), 1/float64(em), -em, -em, 2*em, 2*em)
	fmt.Fprintf(&b, "/Encoding 256 array\n0 1 255 {1 index exch /.notdef put} for\n%sreadonly def\ncurrentdict end\ncurrentfile eexec\n", encoding.Bytes())
	for text := hex.EncodeToString(hidden(private.Bytes(), programKey)); text != ""; {
		n := min(64, len(text))
		b.WriteString(text[:n] + "\n")
		text = text[n:]
	}
	for range 8 {
		b.WriteString(strings.Repeat("0", 64) + "\n")
	}
	b.WriteString("cleartomark\n")
	return b.Bytes(), nil
}

// letter is the program that draws a letter, in units of the font.
func (s *subset) letter(glyph sfnt.GlyphIndex) ([]byte, error) {
	var buffer sfnt.Buffer
	em := fixed.I(int(s.face.Face.UnitsPerEm()))
	wide, err := s.face.Face.GlyphAdvance(&buffer, glyph, em, 0)
	if err != nil {
		return nil, err
	}
	segments, err := s.face.Face.LoadGlyph(&buffer, glyph, em, nil)
	if err != nil {
		return nil, err
	}
	var out []byte
	number := func(vs ...int) {
		for _, v := range vs {
			out = append(out, charNumber(v)...)
		}
	}
	number(0, wide.Round())
	out = append(out, 13) // hsbw
	pen := [2]int{}
	at := func(p fixed.Point26_6) [2]int { return [2]int{p.X.Round(), -p.Y.Round()} }
	open := false
	curve := func(a, b, to [2]int) {
		number(a[0]-pen[0], a[1]-pen[1], b[0]-a[0], b[1]-a[1], to[0]-b[0], to[1]-b[1])
		out = append(out, 8) // rrcurveto
		pen = to
	}
	for _, g := range segments {
		switch g.Op {
		case sfnt.SegmentOpMoveTo:
			if open {
				out = append(out, 9) // closepath
			}
			to := at(g.Args[0])
			number(to[0]-pen[0], to[1]-pen[1])
			out = append(out, 21) // rmoveto
			pen, open = to, true
		case sfnt.SegmentOpLineTo:
			to := at(g.Args[0])
			number(to[0]-pen[0], to[1]-pen[1])
			out = append(out, 5) // rlineto
			pen = to
		case sfnt.SegmentOpQuadTo: // as the cubic curve that it is
			c, to := at(g.Args[0]), at(g.Args[1])
			third := func(from [2]int) [2]int {
				return [2]int{(from[0] + 2*c[0]) / 3, (from[1] + 2*c[1]) / 3}
			}
			curve(third(pen), third(to), to)
		case sfnt.SegmentOpCubeTo:
			curve(at(g.Args[0]), at(g.Args[1]), at(g.Args[2]))
		}
	}
	if open {
		out = append(out, 9)
	}
	return append(out, 14), nil // endchar
}

// charNumber is a whole number as letters' programs have it.
func charNumber(v int) []byte {
	switch {
	case v >= -107 && v <= 107:
		return []byte{byte(v + 139)}
	case v >= 108 && v <= 1131:
		return []byte{byte((v-108)>>8 + 247), byte(v - 108)}
	case v >= -1131 && v <= -108:
		return []byte{byte((-v-108)>>8 + 251), byte(-v - 108)}
	}
	return binary.BigEndian.AppendUint32([]byte{255}, uint32(int32(v)))
}

// hidden is a text as the format hides it, behind four bytes that mean nothing.
func hidden(text []byte, key uint16) []byte {
	out := make([]byte, 0, len(text)+4)
	for _, plain := range slices.Concat([]byte{0, 0, 0, 0}, text) {
		c := plain ^ byte(key>>8)
		key = (uint16(c)+key)*52845 + 22719
		out = append(out, c)
	}
	return out
}
