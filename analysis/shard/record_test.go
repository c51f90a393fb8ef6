package shard

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

type inner struct {
	Name  string
	Value float64
	Err   error
}

type outer struct {
	A   float64
	B   []float64
	C   []inner
	D   *inner
	E   int
	F   uint64
	G   bool
	H   [3]float64
	Row [][]float64
}

// What a record gives back is the same to the bit, with what JSON has no number for, with
// minus zero, and with lists that are nil or empty.
func TestRecordsGiveBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	odd := []float64{0, math.Copysign(0, -1), math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, math.SmallestNonzeroFloat64, 0.1, 1.0 / 3}
	number := func() float64 {
		if k := r.IntN(2 * len(odd)); k < len(odd) {
			return odd[k]
		}
		for {
			if v := math.Float64frombits(r.Uint64()); !math.IsNaN(v) {
				return v
			}
		}
	}
	for range 2000 {
		v := outer{A: number(), E: int(r.Int64()) - 1<<62, F: r.Uint64(), G: r.IntN(2) == 0, H: [3]float64{number(), number(), number()}}
		switch r.IntN(3) {
		case 0:
			v.B, v.C = []float64{}, []inner{}
		case 1:
			v.B, v.C = []float64{number(), number()}, []inner{{"a \"b\"\n<é\u2028", number(), nil}, {"", number(), errors.New("no level")}}
			v.D, v.Row = &inner{Name: "d", Value: number()}, [][]float64{nil, {}, {number()}}
		}
		text, err := Encode(v)
		if err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(string(text), "\n\r") {
			t.Fatalf("a record of several lines: %q", text)
		}
		got, err := Decode[outer](text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		again, err := Encode(got)
		if err != nil || string(again) != string(text) || !sameBits(reflect.ValueOf(v), reflect.ValueOf(got)) {
			t.Fatalf("%+v\ncomes back as\n%+v (%v)", v, got, err)
		}
	}
}

// sameBits compares values with NaN equal to NaN, 0 unlike −0, nil unlike empty.
func sameBits(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Float64:
		return math.Float64bits(a.Float()) == math.Float64bits(b.Float()) || math.IsNaN(a.Float()) && math.IsNaN(b.Float())
	case reflect.Struct:
		for i := range a.NumField() {
			if !sameBits(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() || a.Kind() == reflect.Slice && a.IsNil() != b.IsNil() {
			return false
		}
		for i := range a.Len() {
			if !sameBits(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Pointer:
		return a.IsNil() == b.IsNil() && (a.IsNil() || sameBits(a.Elem(), b.Elem()))
	case reflect.Interface:
		return a.IsNil() == b.IsNil() && (a.IsNil() || a.Interface().(error).Error() == b.Interface().(error).Error())
	}
	return a.Interface() == b.Interface()
}

// What a record cannot give back is refused, and so is a record of another kind.
func TestRecordsRefuse(t *testing.T) {
	type hidden struct{ a float64 }
	if _, err := Encode(hidden{1}); err == nil {
		t.Error("a field that is not exported is lost in silence")
	}
	if _, err := Encode(map[string]int{}); err == nil {
		t.Error("a map is taken")
	}
	if _, err := Encode("\xff"); err == nil {
		t.Error("text that is not UTF-8 is changed in silence")
	}
	for _, bad := range []string{``, `[]`, `["x",1]`, `["x",1,null,2]`, `["x","y",null]`, `[1,1,null]`, `{"Name":"x"}`, `null`, `["x",1,5]`} {
		if v, err := Decode[inner]([]byte(bad)); err == nil {
			t.Errorf("%s is read as %+v", bad, v)
		}
	}
	if a, b := Layout[inner](), Layout[struct {
		Name  string
		Value float32
		Err   error
	}](); a == b || a != "{Name string, Value float64, Err interface}" {
		t.Errorf("layouts %s and %s", a, b)
	}
}
