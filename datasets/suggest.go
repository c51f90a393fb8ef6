package datasets

import (
	"fmt"
	"reflect"
	"strings"
)

// DidYouMean names the known word closest to the one given, where it is close, as an
// addition to a message; blank where none is.
func DidYouMean(word string, known []string) string {
	best, least := "", 3
	for _, k := range known {
		if d := editDistance(strings.ToLower(word), strings.ToLower(k)); d < least && d < max(2, len(k)) {
			best, least = k, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf(" (did you mean %s?)", best)
}

// editDistance is the number of letters to put in, take out or change (Levenshtein,
// 1966).
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		before := row[0]
		row[0] = i + 1
		for j := range y {
			change := before
			if x[i] != y[j] {
				change++
			}
			before = row[j+1]
			row[j+1] = min(row[j+1]+1, row[j]+1, change)
		}
	}
	return row[len(y)]
}

// studyKeys are the names that study files know, at any place.
func studyKeys() []string {
	seen := map[reflect.Type]bool{}
	var keys []string
	var visit func(t reflect.Type)
	visit = func(t reflect.Type) {
		switch t.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Map:
			visit(t.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		if seen[t] {
			return
		}
		seen[t] = true
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
			if name != "" && name != "-" {
				keys = append(keys, name)
			}
			if name != "-" {
				visit(f.Type)
			}
		}
	}
	visit(reflect.TypeFor[Study]())
	return keys
}
