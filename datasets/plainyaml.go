package datasets

import (
	"bytes"
	"errors"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"tyro/datasets/problem"
)

// The most that a study file may hold; those that people write are far smaller.
const (
	mostYAML    = 1 << 20
	mostNesting = 30
)

// plainYAML refuses what no study file needs and what can make a small one unfold without
// end: anchors, aliases, merged keys, and blocks within blocks without end.
func plainYAML(data []byte) error {
	if len(data) > mostYAML {
		return Problem{File: StudyFile, Err: problem.ErrFormat, Expect: "a study file of at most a million characters"}
	}
	depth, bracket := 0, 0
	for _, b := range data { // before the text is cut, since that takes long for deep ones
		switch b {
		case '[', '{':
			bracket++
		case ']', '}':
			bracket--
		}
		if bracket > mostNesting {
			return Problem{File: StudyFile, Err: problem.ErrFormat, Expect: "at most 30 brackets within each other"}
		}
	}
	for _, t := range lexer.Tokenize(string(data)) {
		switch t.Type {
		case token.AnchorType, token.AliasType, token.MergeKeyType:
			return Problem{File: StudyFile, Line: t.Position.Line, Value: t.Value, Err: problem.ErrUnknown, Expect: "names and values alone, without anchors (&), references (*) and merged names (<<)"}
		case token.TagType:
			return Problem{File: StudyFile, Line: t.Position.Line, Value: t.Value, Err: problem.ErrUnknown, Expect: "names and values alone, without tags (!); a text that begins with ! stands in quotes"}
		}
		depth = max(depth, t.Position.IndentNum)
	}
	if depth > 200 {
		return Problem{File: StudyFile, Err: problem.ErrFormat, Expect: "lines that are indented by at most 200 spaces"}
	}
	return nil
}

// tabIndented is the first line that begins with a tab and holds more; 0 for none.
func tabIndented(data []byte) int {
	for n, line := range bytes.Split(data, []byte("\n")) {
		if more := bytes.TrimLeft(line, " \t"); len(bytes.TrimSpace(more)) > 0 && more[0] != '#' && bytes.Contains(line[:len(line)-len(more)], []byte("\t")) {
			return n + 1
		}
	}
	return 0
}

// asWritten is a node of which texts are as they stand in the file. The library reads 007 and 1.10
// as numbers first, which are 7 and 1.1 as texts: another trainee, another version.
func asWritten(n ast.Node, to reflect.Type) ast.Node {
	switch to.Kind() {
	case reflect.Pointer:
		return asWritten(n, to.Elem())
	case reflect.String:
		switch n.(type) {
		case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
			return ast.String(n.GetToken())
		}
	case reflect.Slice:
		if list, ok := n.(*ast.SequenceNode); ok {
			for i, v := range list.Values {
				list.Values[i] = asWritten(v, to.Elem())
			}
		}
	case reflect.Map, reflect.Struct:
		for _, p := range pairsOf(n) {
			if to.Kind() == reflect.Struct {
				if field := fieldType(to, p.Key.GetToken().Value); field != nil {
					p.Value = asWritten(p.Value, field)
				}
				continue
			}
			if key, ok := asWritten(p.Key, to.Key()).(ast.MapKeyNode); ok {
				p.Key = key
			}
			p.Value = asWritten(p.Value, to.Elem())
		}
	}
	return n
}

// pairsOf are the names of a block with what stands behind them.
func pairsOf(n ast.Node) []*ast.MappingValueNode {
	switch m := n.(type) {
	case *ast.MappingNode:
		return m.Values
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{m}
	}
	return nil
}

// strangers are the names that a study file cannot have where they stand, in its order. The library tells one
// of them, now this and now that.
func strangers(n ast.Node, to reflect.Type) Problems {
	var ps Problems
	switch to.Kind() {
	case reflect.Pointer:
		return strangers(n, to.Elem())
	case reflect.Slice:
		if list, ok := n.(*ast.SequenceNode); ok {
			for _, v := range list.Values {
				ps = append(ps, strangers(v, to.Elem())...)
			}
		}
	case reflect.Map:
		for _, p := range pairsOf(n) {
			ps = append(ps, strangers(p.Value, to.Elem())...)
		}
	case reflect.Struct:
		for _, p := range pairsOf(n) {
			at := p.Key.GetToken()
			if field := fieldType(to, at.Value); field != nil {
				ps = append(ps, strangers(p.Value, field)...)
				continue
			}
			ps = append(ps, unknownName(at.Value, at.Position.Line))
		}
	}
	return ps
}

// fieldType is the type of a struct's field by its name in the file; nil for none.
func fieldType(of reflect.Type, name string) reflect.Type {
	for f := range of.NumField() {
		field := of.Field(f)
		switch called, option, _ := strings.Cut(field.Tag.Get("yaml"), ","); {
		case called == name:
			return field.Type
		case called == "" && option == "inline":
			if t := fieldType(field.Type, name); t != nil {
				return t
			}
		}
	}
	return nil
}

// decodeYAML fills a study from its file. The library panics on some texts that are no YAML:
// they are unreadable like others.
func decodeYAML(data []byte, into *Study) (err error) {
	defer func() {
		if recover() != nil {
			err = Problem{File: StudyFile, Err: problem.ErrFormat, Expect: "a study file, in lines of the form name: value, indented alike (YAML)"}
		}
	}()
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // editors put a mark of the encoding first
	if err := plainYAML(data); err != nil {
		return err
	}
	file, err := parser.ParseBytes(data, 0)
	if err == nil && len(file.Docs) > 0 && file.Docs[0].Body != nil {
		err = yaml.NodeToValue(asWritten(file.Docs[0].Body, reflect.TypeOf(into)), into, yaml.Strict())
	}
	if err != nil {
		if line := tabIndented(data); line > 0 {
			return Problem{File: StudyFile, Line: line, Err: problem.ErrFormat, Expect: "lines that are indented by spaces; this one begins with a tab"}
		}
		if unknown := (*yaml.UnknownFieldError)(nil); errors.As(err, &unknown) {
			if ps := strangers(file.Docs[0].Body, reflect.TypeOf(into)); len(ps) > 0 {
				return ps
			}
		}
		return unreadable(err)
	}
	return nil
}
