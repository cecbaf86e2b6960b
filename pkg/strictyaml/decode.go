package strictyaml

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Rules are what one kind of file may hold.
type Rules struct {
	What     string                  // "machine profile", for messages
	MaxBytes int                     // a longer text is refused unread
	Depth    int                     // how deep brackets may nest; the YAML parser recurses, so input must not choose it
	Aliases  int                     // how many aliases there may be; 0: neither anchors nor aliases
	Keys     string                  // the known keys, as an answer to one that is not
	Wanted   func(key string) string // what kind of value a key takes, as an answer to a wrong one
}

// Fault is what is wrong, and where.
type Fault struct {
	Line, Column int    // from 1; 0 when the trouble has no place in the file
	Key          string // as in the file: "mirrors[0].at_mm"; "" when it is not about one key
	Text         string // what is wrong and what to do, lower case, one line
}

// ErrEmpty is the Fault of a file with nothing in it, or remarks only.
var ErrEmpty = &Fault{Text: "there is nothing in it"}

// Error is one line: line, column and key as far as known, then the text.
func (f *Fault) Error() string {
	var b strings.Builder
	if f.Line > 0 {
		fmt.Fprintf(&b, "%d:%d: ", f.Line, f.Column)
	}
	if f.Key != "" {
		b.WriteString(f.Key + ": ")
	}
	b.WriteString(f.Text)
	return strings.Map(printable, b.String())
}

// printable keeps a key that was read from a strange file from breaking the
// line or steering the terminal.
func printable(r rune) rune {
	if unicode.IsPrint(r) {
		return r
	}
	return unicode.ReplacementChar
}

// Source is a text that was read, for finding the place of a key later.
type Source struct{ file *ast.File }

// byteOrderMark may stand before a text (YAML 1.2.2, 5.2): some editors write it,
// and the YAML parser would take it for the first key's first letter.
var byteOrderMark = []byte("\ufeff")

// Decode reads data into the struct that into points to. Where a text is wanted,
// what looks like a number is taken as it is written. Every error is a *Fault.
func Decode(data []byte, rules Rules, into any) (Source, error) {
	data = bytes.TrimPrefix(data, byteOrderMark)
	if fault := rules.plain(data); fault != nil {
		return Source{}, fault
	}
	file, err := parser.ParseBytes(data, 0)
	if err != nil {
		return Source{}, rules.fault(Source{}, err)
	}
	if len(file.Docs) > 1 {
		second := &Fault{Text: `only one ` + rules.What + ` to a file: take out the line "---" and what follows it`}
		if start := file.Docs[1].Start; start != nil {
			second.Line, second.Column = start.Position.Line, start.Position.Column
		}
		return Source{}, second
	}
	source := Source{file}
	if fault := rules.aliases(file); fault != nil {
		return source, fault
	}
	switch err := yaml.UnmarshalWithOptions(data, into, yaml.Strict()); {
	case errors.Is(err, io.EOF):
		return source, ErrEmpty
	case err != nil:
		return source, rules.fault(source, err)
	}
	source.keepTexts("", reflect.ValueOf(into))
	return source, nil
}

// plain refuses what is not a small text of plain YAML.
func (r Rules) plain(data []byte) *Fault {
	switch {
	case len(data) > r.MaxBytes:
		return &Fault{Text: fmt.Sprintf("over %d KB: this is not a %s", r.MaxBytes>>10, r.What)}
	case !utf8.Valid(data):
		return &Fault{Text: "not a text in UTF-8: this is not a " + r.What}
	}
	depth := 0
	for _, t := range lexer.Tokenize(string(data)) {
		switch t.Type {
		case token.TagType, token.AnchorType, token.AliasType, token.MergeKeyType:
			if text := r.unused(t); text != "" {
				return at(t.Position, text)
			}
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		}
		if depth > r.Depth {
			return at(t.Position, "brackets nested too deep: this is not a "+r.What)
		}
	}
	return nil
}

// unused says that a mark of YAML's is not used in such a file, "" when it is.
func (r Rules) unused(t *token.Token) string {
	marks := "anchors, aliases and tags are"
	switch {
	case r.Aliases > 0 && t.Type != token.TagType:
		return ""
	case r.Aliases > 0:
		marks = "tags are"
	}
	return fmt.Sprintf("%q: %s not used in a %s: write the value out", t.Value, marks, r.What)
}

// at is a Fault about a place rather than a key.
func at(p *token.Position, text string) *Fault {
	return &Fault{Line: p.Line, Column: p.Column, Text: text}
}

// aliases bounds what aliases can make of a file: at most so many of them, and
// none within an anchored value, so that nothing grows more than once.
func (r Rules) aliases(file *ast.File) *Fault {
	count := &aliasCount{}
	for _, doc := range file.Docs {
		if doc.Body != nil {
			ast.Walk(count, doc.Body)
		}
	}
	switch {
	case count.nested != nil:
		return at(count.nested.Position, "an alias within an anchored value: write that value out")
	case count.aliases > r.Aliases:
		return &Fault{Text: fmt.Sprintf("%d aliases: at most %d are read", count.aliases, r.Aliases)}
	}
	return nil
}

// aliasCount walks a tree for its aliases.
type aliasCount struct {
	aliases  int
	anchored bool
	nested   *token.Token // the first alias within an anchored value
}

// Visit counts an alias; below an anchor it goes on with a visitor that knows.
func (c *aliasCount) Visit(n ast.Node) ast.Visitor {
	switch node := n.(type) {
	case *ast.AliasNode:
		c.aliases++
		if c.anchored && c.nested == nil {
			c.nested = node.GetToken()
		}
		return nil
	case *ast.AnchorNode:
		below := &aliasCount{anchored: true}
		if node.Value != nil {
			ast.Walk(below, node.Value)
		}
		c.aliases += below.aliases
		if c.nested == nil {
			c.nested = below.nested
		}
		return nil
	}
	return c
}

// fault turns the YAML library's error into one line with the place, the key
// and what to do.
func (r Rules) fault(source Source, err error) *Fault {
	var located yaml.Error
	if !errors.As(err, &located) || located.GetToken() == nil {
		return &Fault{Text: firstLine(err.Error())}
	}
	place := located.GetToken()
	out := at(place.Position, firstLine(located.GetMessage()))
	out.Key = source.keyAt(place.Position)
	var unknown *yaml.UnknownFieldError
	var kind *yaml.TypeError
	var node *yaml.UnexpectedNodeTypeError
	switch {
	case errors.As(err, &unknown):
		out.Key = place.Value
		out.Text = "no such key: " + r.Keys
	case errors.As(err, &kind), errors.As(err, &node):
		out.Text = r.Wanted(out.Key)
	}
	return out
}

// firstLine keeps messages to one line.
func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return line
}
