package datasets

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
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
	var keys []string
	eachKey(func(_, key string) { keys = append(keys, key) })
	return keys
}

// standsUnder says where study files know a name that stands at the wrong place; blank where
// they know none.
func standsUnder(key string) string {
	var places []string
	eachKey(func(place, k string) {
		if k == key && !slices.Contains(places, cmp.Or(place, "the top of the file")) {
			places = append(places, cmp.Or(place, "the top of the file"))
		}
	})
	if places == nil {
		return ""
	}
	return fmt.Sprintf("; %s stands under %s", key, strings.Join(places, ", or "))
}

// eachKey gives every name that study files know with the names above it.
func eachKey(see func(place, key string)) {
	seen := map[reflect.Type]bool{}
	var visit func(place string, t reflect.Type)
	visit = func(place string, t reflect.Type) {
		switch t.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Map:
			visit(place, t.Elem())
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
			below := place
			if name != "" && name != "-" {
				see(place, name)
				below = strings.TrimPrefix(place+": "+name, ": ")
			}
			if name != "-" {
				visit(below, f.Type)
			}
		}
	}
	visit("", reflect.TypeFor[Study]())
}
