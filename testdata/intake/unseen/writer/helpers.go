package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"unicode/utf16"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
)

// numbered makes n codes or heads by a format, such as P01 to P08.
func numbered(format string, n int) []string { return numberedFrom(format, 1, n) }

// numberedFrom is numbered with another first number.
func numberedFrom(format string, from, n int) []string {
	var out []string
	for i := range n {
		out = append(out, fmt.Sprintf(format, from+i))
	}
	return out
}

// headLine is the head of a wide text table: the first column and n numbered ones.
func headLine(first, sep, format string, n int) string {
	return strings.Join(append([]string{first}, numbered(format, n)...), sep)
}

// headCells is the head of a wide sheet: the first column and n numbered ones.
func headCells(first, format string, n int) []any {
	out := []any{first}
	for _, s := range numbered(format, n) {
		out = append(out, s)
	}
	return out
}

// fixed writes a number with so many decimals.
func fixed(decimals int) func(v float64) string {
	return func(v float64) string { return fmt.Sprintf("%.*f", decimals, v) }
}

// fixedComma is fixed with a decimal comma.
func fixedComma(decimals int) func(v float64) string {
	return func(v float64) string { return strings.ReplaceAll(fixed(decimals)(v), ".", ",") }
}

// oneDigit and oneDigitComma always write one decimal.
func oneDigit(v float64) string      { return fixed(1)(v) }
func oneDigitComma(v float64) string { return fixedComma(1)(v) }

// wholeHalfEven rounds to a whole number, a half to the even one; wholeHalfUp rounds a half up.
func wholeHalfEven(v float64) string { return fmt.Sprintf("%.0f", v) }
func wholeHalfUp(v float64) string   { return fmt.Sprint(int(math.Round(v))) }

// minutesCut writes minutes and seconds, parts of a second cut off.
func minutesCut(v float64) string { return fmt.Sprintf("%d:%02d", int(v)/60, int(v)%60) }

// lineEnds writes other line ends.
func lineEnds(text []byte, end string) []byte {
	return bytes.ReplaceAll(text, []byte("\n"), []byte(end))
}

// crlf ends lines with a carriage return and a line feed.
func crlf(text []byte) []byte { return lineEnds(text, "\r\n") }

// inUTF16 is text in UTF-16, with a byte order mark if asked for.
func inUTF16(order binary.AppendByteOrder, mark bool, text []byte) []byte {
	var out []byte
	if mark {
		out = order.AppendUint16(out, 0xFEFF)
	}
	for _, u := range utf16.Encode([]rune(string(text))) {
		out = order.AppendUint16(out, u)
	}
	return out
}

// encoded is text in another encoding.
func encoded(e encoding.Encoding, text []byte) []byte {
	out, err := e.NewEncoder().Bytes(text)
	must(err)
	return out
}

// latin is text in Latin-1.
func latin(text []byte) []byte { return encoded(charmap.ISO8859_1, text) }
