package problem

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Clip shortens a value for a message.
func Clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// List joins some of a list.
func List(list []string, most int) string {
	if len(list) <= most {
		return strings.Join(list, ", ")
	}
	return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
}

// Lines lists some lines.
func Lines(lines []int) string {
	var out []string
	for _, n := range lines {
		out = append(out, fmt.Sprint(n))
	}
	return List(out, 8)
}
