package grid

import (
	"bytes"
	"slices"
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
	"golang.org/x/text/encoding/unicode"
)

// An alphabet is an encoding of text that nothing in a file names.
type alphabet struct {
	name, shown string
	text        encoding.Encoding
	many        bool // letters of several bytes, so that a file of another encoding seldom fits
}

// alphabets are those that --encoding knows, as Encoding Standard names them (WHATWG).
var alphabets = []alphabet{
	{"windows-1250", "Windows-1250", charmap.Windows1250, false}, // Polish, Czech, Hungarian
	{"windows-1251", "Windows-1251", charmap.Windows1251, false}, // Cyrillic
	{"windows-1252", "Windows-1252", charmap.Windows1252, false}, // Western Europe
	{"windows-1253", "Windows-1253", charmap.Windows1253, false}, // Greek
	{"windows-1254", "Windows-1254", charmap.Windows1254, false}, // Turkish
	{"windows-1255", "Windows-1255", charmap.Windows1255, false}, // Hebrew
	{"windows-1256", "Windows-1256", charmap.Windows1256, false}, // Arabic
	{"shift_jis", "Shift_JIS", japanese.ShiftJIS, true},
	{"euc-jp", "EUC-JP", japanese.EUCJP, true},
	{"euc-kr", "EUC-KR", korean.EUCKR, true},
	{"gb18030", "GB18030", simplifiedchinese.GB18030, true},
	{"big5", "Big5", traditionalchinese.Big5, true},
}

var unicodes = []alphabet{
	{"utf-8", "UTF-8", nil, true},
	{"utf-16le", "UTF-16LE", unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), true},
	{"utf-16be", "UTF-16BE", unicode.UTF16(unicode.BigEndian, unicode.UseBOM), true},
}

// Encodings are the names that --encoding knows.
func Encodings() []string {
	var out []string
	for _, a := range slices.Concat(unicodes, alphabets) {
		out = append(out, a.name)
	}
	return out
}

// shownAs is how what was read names an encoding.
func shownAs(name string) string {
	for _, a := range slices.Concat(unicodes, alphabets) {
		if a.name == name {
			return a.shown
		}
	}
	return ""
}

// decoded is a text of another alphabet; false where a byte of it stands for no letter there.
func decoded(data []byte, shown string) ([]byte, bool) {
	k := slices.IndexFunc(alphabets, func(a alphabet) bool { return a.shown == shown })
	if k < 0 {
		return nil, false
	}
	out, err := alphabets[k].text.NewDecoder().Bytes(data)
	return out, err == nil && !bytes.Contains(out, []byte("\ufffd"))
}

// mayBe lists the alphabets of several bytes a letter that fit a whole file.
func mayBe(data []byte) string {
	var out []string
	for _, a := range alphabets {
		if _, fits := decoded(data, a.shown); a.many && fits {
			out = append(out, a.name)
		}
	}
	return strings.Join(out, ", ")
}

// EncodingOfNames finds the encoding in which a text that is no UTF-8 has all of some names that are not of plain
// letters; blank where there are none, where several have them, or where the text may be what it is taken for anyway.
func EncodingOfNames(data []byte, names []string) string {
	names = slices.DeleteFunc(slices.Clone(names), plainLetters)
	if len(names) == 0 || encodingOf(data) != "Windows-1252" {
		return ""
	}
	var fits []string
	for _, a := range alphabets {
		has := func(name string) bool {
			b, err := a.text.NewEncoder().String(name)
			return err == nil && bytes.Contains(data, []byte(b))
		}
		if slices.ContainsFunc(names, func(name string) bool { return !has(name) }) {
			continue
		}
		if _, whole := decoded(data, a.shown); whole {
			fits = append(fits, a.name)
		}
	}
	if len(fits) != 1 || fits[0] == "windows-1252" {
		return ""
	}
	return fits[0]
}

func plainLetters(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r >= 0x80 }) < 0
}
