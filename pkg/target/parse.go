package target

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// keys of a spec, as an answer to a key that is not one of them.
const (
	topKeys   = "name, rings_mm, rings_u_mm, line_mm, cross_mm, rim_mm, index, tape_mm, checked"
	indexKeys = "from_mm, to_mm, width_mm"
)

// maxBrackets bounds how deep lists and mappings nest; a spec needs two. The
// YAML parser recurses, so hostile input must not choose the depth.
const maxBrackets = 16

// Parse reads one spec in YAML. name is the file's, for messages. Keys that no
// spec has, numbers out of range and rings that cannot be told apart are
// refused; every error is a *SpecError.
func Parse(name string, data []byte) (Spec, error) {
	if err := plainYAML(name, data); err != nil {
		return Spec{}, err
	}
	file, err := parser.ParseBytes(data, 0)
	if err != nil {
		return Spec{}, yamlError(name, nil, err)
	}
	if len(file.Docs) > 1 {
		return Spec{}, &SpecError{File: name, Text: `one spec to a file: take out the line "---" and what follows it`}
	}
	var spec Spec
	if err := yaml.UnmarshalWithOptions(data, &spec, yaml.Strict()); err != nil {
		return Spec{}, yamlError(name, file, err)
	}
	if fault := spec.fault(); fault != nil {
		return Spec{}, fault.in(name, file)
	}
	return spec, nil
}

// plainYAML refuses what is not a small text of plain YAML. Anchors, aliases,
// merge keys and tags have no use in a spec, and aliases let ten lines grow to
// gigabytes.
func plainYAML(name string, data []byte) error {
	switch {
	case len(data) > maxSpecBytes:
		return &SpecError{File: name, Text: fmt.Sprintf("over %d KB: this is not a target spec", maxSpecBytes>>10)}
	case !utf8.Valid(data):
		return &SpecError{File: name, Text: "not a text in UTF-8: this is not a target spec"}
	}
	depth := 0
	for _, t := range lexer.Tokenize(string(data)) {
		switch t.Type {
		case token.AnchorType, token.AliasType, token.MergeKeyType, token.TagType:
			return at(name, t.Position, fmt.Sprintf("%q: anchors, aliases and tags are not used in a spec: write the value out", t.Value))
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		}
		if depth > maxBrackets {
			return at(name, t.Position, "brackets nested too deep: this is not a target spec")
		}
	}
	return nil
}

// at is a SpecError about a place rather than a key.
func at(name string, p *token.Position, text string) *SpecError {
	return &SpecError{File: name, Line: p.Line, Column: p.Column, Text: text}
}

// yamlError turns the YAML library's error into one line with the place, the
// key and what to do. file may be nil when the text could not be parsed.
func yamlError(name string, file *ast.File, err error) *SpecError {
	var located yaml.Error
	if !errors.As(err, &located) || located.GetToken() == nil {
		return &SpecError{File: name, Text: firstLine(err.Error())}
	}
	place := located.GetToken()
	out := at(name, place.Position, firstLine(located.GetMessage()))
	out.Key = keyAt(file, place.Position)
	var unknown *yaml.UnknownFieldError
	var kind *yaml.TypeError
	var node *yaml.UnexpectedNodeTypeError
	switch {
	case errors.As(err, &unknown):
		out.Key = place.Value
		out.Text = "no such key: a spec has " + topKeys + "; index has " + indexKeys
	case errors.As(err, &kind), errors.As(err, &node):
		out.Text = wanted(out.Key)
	}
	return out
}

// wanted says what kind of value a key takes.
func wanted(key string) string {
	switch key {
	case "":
		return "a spec is a list of keys, each with a value: " + topKeys
	case "name", "checked":
		return "write a text in quotation marks here"
	case "rings_mm":
		return "write a list of diameters here, like [4, 8, 12, 16]"
	case "index":
		return "write the bar here, like {from_mm: 0.7, to_mm: 3.2, width_mm: 1.3}"
	}
	return "write a plain number here, like 0.30"
}

// keyAt names the key whose value starts at the place, "" when there is none.
func keyAt(file *ast.File, place *token.Position) string {
	if file == nil {
		return ""
	}
	search := &placeSearch{place: *place}
	for _, doc := range file.Docs {
		if doc.Body != nil {
			ast.Walk(search, doc.Body)
		}
	}
	return search.key
}

// placeSearch walks a tree for the last, innermost value at one place.
type placeSearch struct {
	place token.Position
	key   string
}

// Visit notes the node's path when it starts at the place.
func (s *placeSearch) Visit(n ast.Node) ast.Visitor {
	t := n.GetToken()
	if t != nil && t.Position.Line == s.place.Line && t.Position.Column == s.place.Column {
		s.key = strings.TrimPrefix(strings.TrimPrefix(n.GetPath(), "$"), ".")
	}
	return s
}

// firstLine keeps messages to one line.
func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return line
}
