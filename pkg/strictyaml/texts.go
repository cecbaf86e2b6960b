package strictyaml

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// keepTexts gives every text of the struct that the file writes like a number, or
// like true, as it stands there. YAML reads 1.50 as the number 1.5 and 0042 as the
// octal 34; where a text is wanted, a work order's number must not change so. What
// comes from an alias is left as it is.
func (s Source) keepTexts(key string, into reflect.Value) {
	switch into.Kind() {
	case reflect.Pointer:
		if !into.IsNil() {
			s.keepTexts(key, into.Elem())
		}
	case reflect.Struct:
		for i := range into.NumField() {
			if field := into.Type().Field(i); field.IsExported() {
				s.keepTexts(keyOf(key, field), into.Field(i))
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range into.Len() {
			s.keepTexts(fmt.Sprintf("%s[%d]", key, i), into.Index(i))
		}
	case reflect.String:
		if text, ok := s.unquoted(key); ok && into.CanSet() {
			into.SetString(text)
		}
	}
}

// keyOf is the key of a field below another key; an inline struct has none of its own.
func keyOf(parent string, field reflect.StructField) string {
	name, options, _ := strings.Cut(field.Tag.Get("yaml"), ",")
	if strings.Contains(options, "inline") {
		return parent
	}
	if name == "" {
		name = strings.ToLower(field.Name) // as the YAML library has it
	}
	return strings.TrimPrefix(parent+"."+name, ".")
}

// unquoted is what the file has at the key, when that is a number or a truth value.
func (s Source) unquoted(key string) (string, bool) {
	switch node := s.node(key).(type) {
	case *ast.IntegerNode, *ast.FloatNode, *ast.InfinityNode, *ast.NanNode, *ast.BoolNode:
		return node.GetToken().Value, true
	}
	return "", false
}
