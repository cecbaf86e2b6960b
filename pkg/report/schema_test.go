package report

import (
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
)

// verdicts of Python's jsonschema, a validator of other authors: for each line
// "FILE SCHEMA" on standard input, "valid" or the fault. It checks the schemas
// themselves first.
const independentValidator = `
import json, sys
import jsonschema
docs = {name: json.load(open(name)) for name in ("report.schema.json", "measurements.schema.json")}
store = {doc["$id"]: doc for doc in docs.values()}
for doc in docs.values():
    jsonschema.Draft202012Validator.check_schema(doc)
for line in sys.stdin:
    file, schema = line.rstrip("\n").split("\t")
    resolver = jsonschema.RefResolver(docs[schema]["$id"], docs[schema], store=store)
    check = jsonschema.Draft202012Validator(docs[schema], resolver=resolver)
    faults = list(check.iter_errors(json.load(open(file))))
    print("valid" if not faults else "fault: " + faults[0].message.replace("\n", " "))
`

// spoilt are texts that do not fit the schema, made from one that does.
func spoilt(good string) (out []string) {
	for _, edit := range [][2]string{
		{`"limit_mm": 2,`, ``},
		{`"limit_mm": 2,`, `"limit_mm": "2",`},
		{`"schema": "burngauge.report/1"`, `"schema": "burngauge.report/11"`},
		{`"right_mm": -0.4375`, `"right_mm": null`},
		{`"status": "measured"`, `"status": "refused"`},
		{`"status": "refused"`, `"status": "measured"`},
		{`"others": []`, `"others": [null]`},
		{`"others": []`, `"others": null`},
		{`"mark": "pointer"`, `"mark": "dot"`},
		{`"clock": "11:00"`, `"clock": "13:00"`},
		{`"bytes": 1`, `"bytes": 1.5`},
		{`"probability": `, `"probability": 3, "probability_": `},
		{`"unassigned": [`, `"unassigned": [{},`},
		{`"digest":`, `"hash":`},
	} {
		if bad := strings.Replace(good, edit[0], edit[1], 1); bad != good {
			out = append(out, bad)
		}
	}
	return out
}

func TestAnIndependentValidatorAgrees(t *testing.T) {
	interpreter := needs.Python(t, "jsonschema", "python3-jsonschema")
	later, _ := decorated(t)
	good := string(encoded(t, sample()))
	var list strings.Builder
	require.NoError(t, WriteJSON(&list, []Measurement{example(), refused()}))
	bad := spoilt(good)
	require.Greater(t, len(bad), 13)

	dir := t.TempDir()
	var input strings.Builder
	for i, text := range append([]string{good, string(later), list.String()}, bad...) {
		path := filepath.Join(dir, string(rune('a'+i))+".json")
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		schema := reportSchemaFile
		if i == 2 {
			schema = measurementsSchemaFile
		}
		input.WriteString(path + "\t" + schema + "\n")
	}
	command := exec.Command(interpreter, "-W", "ignore", "-c", independentValidator)
	command.Stdin = strings.NewReader(input.String())
	command.Stderr = os.Stderr
	out, err := command.Output()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Len(t, lines, 3+len(bad))
	assert.Equal(t, []string{"valid", "valid", "valid"}, lines[:3])
	for i, text := range bad {
		assert.Contains(t, lines[3+i], "fault: ", "%d", i)
		_, err := Read(strings.NewReader(text))
		assert.Error(t, err, "%d: %s", i, lines[3+i])
	}
}

// Every field of the types is described, or its values would be lost on reading.
func TestSchemasDescribeEveryField(t *testing.T) {
	var walk func(kind reflect.Type)
	walk = func(kind reflect.Type) {
		switch kind.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			walk(kind.Elem())
		case reflect.Struct:
			for i := range kind.NumField() {
				field := kind.Field(i)
				if name, _, _ := strings.Cut(field.Tag.Get("json"), ","); field.IsExported() {
					assert.True(t, schemas().known[name], "%s.%s", kind, field.Name)
					walk(field.Type)
				}
			}
		}
	}
	walk(reflect.TypeFor[Report]())
	walk(reflect.TypeFor[measurements]())
	assert.NotContains(t, schemas().known, "x_")
}

// Later programs may add keys anywhere.
func TestSchemasStayOpen(t *testing.T) {
	require.NoError(t, fs.WalkDir(Schemas, ".", func(path string, entry fs.DirEntry, err error) error {
		if entry.IsDir() {
			return err
		}
		data, err := Schemas.ReadFile(path)
		require.NoError(t, err)
		require.True(t, json.Valid(data))
		for _, word := range []string{"additionalProperties", "unevaluatedProperties", "maxProperties", "propertyNames"} {
			assert.NotContains(t, string(data), word, path)
		}
		return nil
	}))
}
