package shard

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A record is what one item gave, as JSON that gives back the very same value: a struct is a
// list of its fields in order, a number has all its digits, and what JSON has no number for
// is a word. A list that is nil is null, an empty one is not. Of an error its text is kept.

var errorType = reflect.TypeFor[error]()

// Layout describes the records of a type: the names of their fields.
func Layout[T any]() string { return layoutOf(reflect.TypeFor[T]()) }

func layoutOf(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Struct:
		var parts []string
		for i := range t.NumField() {
			f := t.Field(i)
			parts = append(parts, strings.TrimSuffix(f.Name+" "+layoutOf(f.Type), " "))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case reflect.Slice, reflect.Array:
		return "[" + layoutOf(t.Elem()) + "]"
	case reflect.Pointer:
		return "*" + layoutOf(t.Elem())
	}
	return t.Kind().String()
}

// Encode writes a value as a record. A type that a record cannot give back, with a field
// that is not exported, a map or a function, is an error.
func Encode[T any](v T) ([]byte, error) {
	var b bytes.Buffer
	err := encode(&b, reflect.ValueOf(&v).Elem())
	return b.Bytes(), err
}

func encode(b *bytes.Buffer, v reflect.Value) error {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		encodeFloat(b, v.Float())
	case reflect.Bool:
		b.WriteString(strconv.FormatBool(v.Bool()))
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		b.WriteString(strconv.FormatInt(v.Int(), 10))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		b.WriteString(strconv.FormatUint(v.Uint(), 10))
	case reflect.String:
		return encodeText(b, v.String())
	case reflect.Pointer:
		if v.IsNil() {
			b.WriteString("null")
			return nil
		}
		b.WriteByte('[')
		if err := encode(b, v.Elem()); err != nil {
			return err
		}
		b.WriteByte(']')
	case reflect.Slice, reflect.Array:
		if v.Kind() == reflect.Slice && v.IsNil() {
			b.WriteString("null")
			return nil
		}
		return encodeList(b, v.Len(), v.Index)
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				return fmt.Errorf("%s has a field that no record can hold: %s", v.Type(), v.Type().Field(i).Name)
			}
		}
		return encodeList(b, v.NumField(), v.Field)
	case reflect.Interface:
		if err, ok := v.Interface().(error); ok {
			return encodeText(b, err.Error())
		} else if v.IsNil() && v.Type() == errorType {
			b.WriteString("null")
			return nil
		}
		return fmt.Errorf("no record can hold a %s", v.Type())
	default:
		return fmt.Errorf("no record can hold a %s", v.Type())
	}
	return nil
}

func encodeList(b *bytes.Buffer, n int, at func(int) reflect.Value) error {
	b.WriteByte('[')
	for i := range n {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := encode(b, at(i)); err != nil {
			return err
		}
	}
	b.WriteByte(']')
	return nil
}

func encodeText(b *bytes.Buffer, s string) error {
	if !utf8.ValidString(s) {
		return fmt.Errorf("no record can hold the text %q: it is not UTF-8", s)
	}
	text, err := json.Marshal(s)
	b.Write(text)
	return err
}

func encodeFloat(b *bytes.Buffer, v float64) {
	switch {
	case math.IsNaN(v):
		b.WriteString(`"nan"`)
	case math.IsInf(v, 1):
		b.WriteString(`"inf"`)
	case math.IsInf(v, -1):
		b.WriteString(`"-inf"`)
	default:
		b.Write(strconv.AppendFloat(nil, v, 'g', -1, 64))
	}
}

// errLayout is a record of another layout.
var errLayout = errors.New("the record is of another kind")

// Decode reads a record.
func Decode[T any](record []byte) (T, error) {
	var out T
	d := json.NewDecoder(bytes.NewReader(record))
	d.UseNumber()
	var tree any
	if err := d.Decode(&tree); err != nil {
		return out, err
	}
	return out, decode(reflect.ValueOf(&out).Elem(), tree)
}

func decode(v reflect.Value, tree any) error {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		x, err := decodeFloat(tree)
		v.SetFloat(x)
		return err
	case reflect.Bool:
		x, ok := tree.(bool)
		v.SetBool(x)
		return unless(ok)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		x, _ := tree.(json.Number)
		n, err := strconv.ParseInt(string(x), 10, 64)
		v.SetInt(n)
		return err
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		x, _ := tree.(json.Number)
		n, err := strconv.ParseUint(string(x), 10, 64)
		v.SetUint(n)
		return err
	case reflect.String:
		x, ok := tree.(string)
		v.SetString(x)
		return unless(ok)
	case reflect.Pointer:
		list, ok := tree.([]any)
		if tree == nil || !ok || len(list) != 1 {
			return unless(tree == nil)
		}
		v.Set(reflect.New(v.Type().Elem()))
		return decode(v.Elem(), list[0])
	case reflect.Slice, reflect.Array, reflect.Struct:
		return decodeList(v, tree)
	case reflect.Interface:
		if text, ok := tree.(string); ok && v.Type() == errorType {
			v.Set(reflect.ValueOf(errors.New(text)))
			return nil
		}
		return unless(tree == nil && v.Type() == errorType)
	}
	return errLayout
}

func decodeList(v reflect.Value, tree any) error {
	if v.Kind() == reflect.Slice && tree == nil {
		return nil
	}
	list, ok := tree.([]any)
	at, n := v.Index, len(list)
	switch {
	case !ok:
		return errLayout
	case v.Kind() == reflect.Struct:
		at, n = v.Field, v.NumField()
	case v.Kind() == reflect.Array:
		n = v.Len()
	default:
		v.Set(reflect.MakeSlice(v.Type(), n, n))
	}
	if n != len(list) {
		return errLayout
	}
	for i, one := range list {
		if err := decode(at(i), one); err != nil {
			return err
		}
	}
	return nil
}

func decodeFloat(tree any) (float64, error) {
	switch x := tree.(type) {
	case json.Number:
		return strconv.ParseFloat(string(x), 64)
	case string:
		switch x {
		case "nan":
			return math.NaN(), nil
		case "inf":
			return math.Inf(1), nil
		case "-inf":
			return math.Inf(-1), nil
		}
	}
	return 0, errLayout
}

func unless(ok bool) error {
	if ok {
		return nil
	}
	return errLayout
}
