package reports

import (
	"bytes"
	"encoding/json"
	"io"
	"reflect"
	"strings"
)

// WriteJSON writes a document for programs. Long lists are written one entry at a time, so
// that the text of many trainees is never in memory as a whole.
func WriteJSON(w io.Writer, d Document) error {
	v := reflect.Indirect(reflect.ValueOf(d))
	if _, own := d.(json.Marshaler); own || v.Kind() != reflect.Struct {
		return (&jsonWriter{w: w}).end(d)
	}
	j := &jsonWriter{w: w}
	j.write("{")
	if j.fields(v, 0) > 0 {
		j.write("\n")
	}
	j.write("}\n")
	return j.err
}

// A jsonWriter writes values with two spaces for every level; the first error stays.
type jsonWriter struct {
	w             io.Writer
	plain, spaced bytes.Buffer
	err           error
}

func (j *jsonWriter) write(text string) {
	if j.err == nil {
		_, j.err = io.WriteString(j.w, text)
	}
}

// end is a whole value with a line end.
func (j *jsonWriter) end(v any) error {
	j.value(v, "")
	j.write("\n")
	return j.err
}

// value is one value whose further lines begin with prefix.
func (j *jsonWriter) value(v any, prefix string) {
	if j.err != nil {
		return
	}
	j.plain.Reset()
	j.spaced.Reset()
	enc := json.NewEncoder(&j.plain)
	enc.SetEscapeHTML(false)
	if j.err = enc.Encode(v); j.err != nil {
		return
	}
	if j.err = json.Indent(&j.spaced, bytes.TrimSuffix(j.plain.Bytes(), []byte("\n")), prefix, "  "); j.err == nil {
		_, j.err = j.w.Write(j.spaced.Bytes())
	}
}

// fields are those of a struct, of which so many of the document's stand before; it counts on.
// An embedded struct's fields stand in its place.
func (j *jsonWriter) fields(v reflect.Value, before int) int {
	for i := range v.NumField() {
		f, of := v.Type().Field(i), v.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "" && reflect.Indirect(of).Kind() == reflect.Struct:
			before = j.fields(reflect.Indirect(of), before)
			continue
		case !f.IsExported() || name == "-", strings.Contains(options, "omitempty") && empty(of):
			continue
		case name == "":
			name = f.Name
		}
		if before > 0 {
			j.write(",")
		}
		j.write("\n  ")
		j.value(name, "")
		j.write(": ")
		j.field(of)
		before++
	}
	return before
}

// empty reports whether omitempty leaves a value out.
func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map, reflect.String, reflect.Array:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

// field is a field's value: a list entry by entry.
func (j *jsonWriter) field(v reflect.Value) {
	listed := v.Kind() == reflect.Slice && v.Len() > 0 && v.Type().Elem().Kind() != reflect.Uint8
	if _, own := v.Interface().(json.Marshaler); !listed || own {
		j.value(v.Interface(), "  ")
		return
	}
	for i := range v.Len() {
		if i > 0 {
			j.write(",")
		} else {
			j.write("[")
		}
		j.write("\n    ")
		j.value(v.Index(i).Interface(), "    ")
	}
	j.write("\n  ]")
}
