package report

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
)

// Schemas are the formats as JSON Schema (draft 2020-12): report.schema.json,
// and measurements.schema.json, to which the first refers.
//
//go:embed report.schema.json measurements.schema.json
var Schemas embed.FS

// names of the files in Schemas.
const (
	reportSchemaFile       = "report.schema.json"
	measurementsSchemaFile = "measurements.schema.json"
)

// schemaSet is Schemas, made ready once.
type schemaSet struct {
	report, measurements *jsonschema.Schema
	known                map[string]bool // every key that a format describes
}

// schemas panics when an embedded schema is bad: a programmer's error.
var schemas = sync.OnceValue(func() schemaSet {
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat() // of times
	set := schemaSet{known: map[string]bool{}}
	ids := map[string]string{}
	for _, name := range []string{measurementsSchemaFile, reportSchemaFile} {
		data, err := Schemas.ReadFile(name)
		if err != nil {
			panic(err)
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			panic(fmt.Sprintf("report: %s: %v", name, err))
		}
		ids[name] = doc.(map[string]any)["$id"].(string)
		if err := compiler.AddResource(ids[name], doc); err != nil {
			panic(fmt.Sprintf("report: %s: %v", name, err))
		}
		addProperties(set.known, doc)
	}
	set.report = compiler.MustCompile(ids[reportSchemaFile])
	set.measurements = compiler.MustCompile(ids[measurementsSchemaFile])
	return set
})

// addProperties collects the names below every "properties".
func addProperties(names map[string]bool, schema any) {
	switch v := schema.(type) {
	case map[string]any:
		if properties, ok := v["properties"].(map[string]any); ok {
			for name := range properties {
				names[name] = true
			}
		}
		for _, inner := range v {
			addProperties(names, inner)
		}
	case []any:
		for _, inner := range v {
			addProperties(names, inner)
		}
	}
}

// onlyKnown is the document without the keys that no format describes. It is
// needed because encoding/json takes "Status" for "status".
func onlyKnown(doc any) any {
	switch v := doc.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for key, value := range v {
			if schemas().known[key] {
				out[key] = onlyKnown(value)
			}
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, value := range v {
			out[i] = onlyKnown(value)
		}
		return out
	}
	return doc
}

// validate says in one line what does not fit the schema, nil when all does.
func validate(schema *jsonschema.Schema, doc any) error {
	err := schema.Validate(doc)
	if err == nil {
		return nil
	}
	var invalid *jsonschema.ValidationError
	if !errors.As(err, &invalid) {
		return err
	}
	faults := leaves(invalid, nil)
	slices.Sort(faults) // the library's order changes from run to run
	faults = slices.Compact(faults)
	if more := len(faults) - 1; more > 0 {
		return fmt.Errorf("%s (and %d more)", faults[0], more)
	}
	return errors.New(faults[0])
}

// leaves are the faults at the ends of the branches, one line each.
func leaves(e *jsonschema.ValidationError, out []string) []string {
	if len(e.Causes) == 0 {
		return append(out, OneLine(place(e.InstanceLocation)+": "+faultText(e.ErrorKind)))
	}
	for _, cause := range e.Causes {
		out = leaves(cause, out)
	}
	return out
}

// place is written as in programs: stations[0].burn.offset.
func place(path []string) string {
	var b strings.Builder
	for _, part := range path {
		switch {
		case strings.Trim(part, "0123456789") == "":
			b.WriteString("[" + part + "]")
		case b.Len() == 0:
			b.WriteString(part)
		default:
			b.WriteString("." + part)
		}
	}
	if b.Len() == 0 {
		return "the whole file"
	}
	return b.String()
}

// english for the words that are not replaced below.
var english = message.NewPrinter(language.English)

// faultText puts the commonest faults in plain words.
func faultText(fault jsonschema.ErrorKind) string {
	switch f := fault.(type) {
	case *kind.Required:
		slices.Sort(f.Missing)
		return fmt.Sprintf(`has no "%s"`, strings.Join(f.Missing, `", "`))
	case *kind.Type:
		return fmt.Sprintf("is %s, not %s", article(f.Got), article(f.Want[0]))
	case *kind.Enum:
		return fmt.Sprintf("is %v, not one of %s", f.Got, strings.Trim(fmt.Sprint(f.Want), "[]"))
	}
	return fault.LocalizedString(english)
}

// article puts a JSON type into a sentence.
func article(kind string) string {
	switch kind {
	case "null":
		return kind
	case "array":
		return "a list"
	case "object", "integer":
		return "an " + kind
	}
	return "a " + kind
}
