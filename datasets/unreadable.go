package datasets

import (
	"cmp"
	"errors"
	"reflect"
	"regexp"
	"strings"

	"github.com/goccy/go-yaml"

	"tyro/datasets/problem"
)

// unreadable says in plain words, with its line, why a study file could not be read.
func unreadable(err error) Problem {
	p := Problem{File: StudyFile, Err: problem.ErrFormat, Expect: "a study file, in lines of the form name: value, indented alike (YAML)"}
	var at yaml.Error
	if !errors.As(err, &at) {
		return p
	}
	if t := at.GetToken(); t != nil {
		p.Value = t.Value
		if t.Position != nil {
			p.Line = t.Position.Line
		}
	}
	var (
		wrongType *yaml.TypeError
		tooBig    *yaml.OverflowError
		twice     *yaml.DuplicateKeyError
		unknown   *yaml.UnknownFieldError
		shape     *yaml.UnexpectedNodeTypeError
	)
	switch {
	case errors.As(err, &unknown):
		return unknownName(quoted(unknown.Message, p.Value), p.Line)
	case errors.As(err, &twice), strings.Contains(at.GetMessage(), "already defined"):
		p.Err, p.Expect = problem.ErrDuplicate, "every name once"
		p.Value = quoted(at.GetMessage(), p.Value)
	case errors.As(err, &tooBig):
		p.Err, p.Expect = problem.ErrRange, "a number of usual size"
	case errors.As(err, &wrongType):
		p.Expect = kindWords(wrongType.DstType)
		if p.Expect == numberWords {
			p.Err = problem.ErrNotNumber
			switch {
			case commaDecimal.MatchString(p.Value):
				p.Expect += " with a decimal point"
			case startsWithDigit.MatchString(p.Value):
				p.Expect += " alone, without a unit; times are in seconds: 300 for five minutes"
			}
		}
	case errors.As(err, &shape):
		p.Expect = "another kind of value: a list, a block of names, or a single value, as in the demo study"
	}
	return p
}

// unknownName says that a study file cannot have a name where it stands, and where it may or what was meant.
func unknownName(name string, line int) Problem {
	return Problem{File: StudyFile, Line: line, Value: name, Err: problem.ErrUnknown, Expect: "a name that study files know at this place" + cmp.Or(standsUnder(name), DidYouMean(name, studyKeys()))}
}

// startsWithDigit is a number with more behind it, such as 300 s and 5:00.
var startsWithDigit = regexp.MustCompile(`^\s*\d`)

// commaDecimal is a number with a decimal comma.
var commaDecimal = regexp.MustCompile(`^\s*\d+,\d+\s*$`)

var inQuotes = regexp.MustCompile(`"([^"]+)"`)

// quoted is the name in quotes within a message; the other where there is none.
func quoted(message, other string) string {
	if m := inQuotes.FindStringSubmatch(message); m != nil {
		return m[1]
	}
	return strings.TrimSpace(other)
}

const numberWords = "a number"

func kindWords(t reflect.Type) string {
	if t == nil {
		return "another kind of value"
	}
	switch t.Kind() {
	case reflect.Int, reflect.Int64, reflect.Uint64, reflect.Float64:
		return numberWords
	case reflect.Bool:
		return "true or false"
	case reflect.String:
		return "a text"
	case reflect.Slice, reflect.Array:
		return "a list"
	case reflect.Map, reflect.Struct:
		return "names with values, one a line"
	case reflect.Pointer:
		return kindWords(t.Elem())
	}
	return "another kind of value"
}
