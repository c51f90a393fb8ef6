package main

import (
	"fmt"
	"strings"
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
