package strictyaml

import (
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// Fault is about the value of a key, written like "mirrors[0].at_mm". Its place
// in the source is that of the value or, when that is missing or comes from an
// alias, of what should hold it.
func (s Source) Fault(key, text string) *Fault {
	out := &Fault{Key: key, Text: text}
	for at := key; at != ""; at = parent(at) {
		if place := s.place(at); place != nil {
			out.Line, out.Column = place.Line, place.Column
			break
		}
	}
	return out
}

// Has reports whether the source gives a key, written like "mirrors[0].at_mm", a
// value. One without anything after its colon has none.
func (s Source) Has(key string) bool {
	node := s.node(key)
	return node != nil && node.Type() != ast.NullType
}

// place is where a key's value starts, nil when it is not in the source.
func (s Source) place(key string) *token.Position {
	node := s.node(key)
	if node == nil || node.GetToken() == nil {
		return nil
	}
	return node.GetToken().Position
}

// node is a key's value, nil when it is not in the source.
func (s Source) node(key string) ast.Node {
	path, err := yaml.PathString("$." + key)
	if err != nil || s.file == nil {
		return nil
	}
	node, err := path.FilterFile(s.file)
	if err != nil {
		return nil
	}
	return node
}

// parent drops the last part of a key, "" when there is but one.
func parent(key string) string {
	return key[:max(strings.LastIndexAny(key, ".["), 0)]
}

// keyAt names the key whose value starts at the place, "" when there is none.
func (s Source) keyAt(place *token.Position) string {
	if s.file == nil {
		return ""
	}
	search := &placeSearch{place: *place}
	for _, doc := range s.file.Docs {
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
