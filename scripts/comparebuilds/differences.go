package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
)

// leftOut are keys that may differ between two builds: texts for people, and what
// follows from them, from the clock or from the build itself.
var leftOut = map[string]bool{
	"text": true, "rule": true, "reason": true, "cautions": true, "about": true, // texts
	"created": true, "tool": true, // the clock, the build
	"digest":    true, // of a report, with its texts
	"decisions": true, // the way, not the result
}

// leftOutTexts are keys left out where a text stands: a report's digest in a plan,
// what a finding rests on, the machine's name. The same key may hold numbers elsewhere.
var leftOutTexts = map[string]bool{"report": true, "evidence": true, "machine": true}

// difference is one place where two documents are not the same.
type difference struct {
	path     string // "measurements[3].offset.right_mm"
	old, new string // as written; "absent" where there is none
}

func (d difference) String() string { return fmt.Sprintf("%s: %s, now %s", d.path, d.old, d.new) }

const absent = "absent"

// differences of two JSON documents, in the order of the keys. Numbers are the same
// only when they are written with the same digits; an object's keys may stand in
// any order, a list's entries not.
func differences(old, new []byte) ([]difference, error) {
	a, err := parseJSON(old)
	if err != nil {
		return nil, fmt.Errorf("the old one: %w", err)
	}
	b, err := parseJSON(new)
	if err != nil {
		return nil, fmt.Errorf("the new one: %w", err)
	}
	return walk(nil, "", a, b), nil
}

// parseJSON keeps numbers as they are written.
func parseJSON(data []byte) (value any, err error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if err := d.Decode(&value); err != nil {
		return nil, err
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, fmt.Errorf("something follows the document")
	}
	return value, nil
}

// walk adds the differences of two values at a path.
func walk(out []difference, path string, old, new any) []difference {
	switch a := old.(type) {
	case map[string]any:
		if b, ok := new.(map[string]any); ok {
			return walkObject(out, path, a, b)
		}
	case []any:
		if b, ok := new.([]any); ok {
			return walkList(out, path, a, b)
		}
	default:
		if old == new { // of two scalars, or of a scalar and something else
			return out
		}
	}
	return append(out, difference{path, shown(old), shown(new)})
}

func walkObject(out []difference, path string, old, new map[string]any) []difference {
	keys := maps.Clone(old)
	maps.Copy(keys, new)
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		a, inOld := old[key]
		b, inNew := new[key]
		at := path + "." + key
		if path == "" {
			at = key
		}
		switch {
		case leftOut[key] || leftOutTexts[key] && isText(a) && isText(b):
		case !inOld:
			out = append(out, difference{at, absent, shown(b)})
		case !inNew:
			out = append(out, difference{at, shown(a), absent})
		default:
			out = walk(out, at, a, b)
		}
	}
	return out
}

func isText(value any) bool {
	_, is := value.(string)
	return is
}

func walkList(out []difference, path string, old, new []any) []difference {
	for i := range max(len(old), len(new)) {
		at := path + "[" + strconv.Itoa(i) + "]"
		switch {
		case i >= len(old):
			out = append(out, difference{at, absent, shown(new[i])})
		case i >= len(new):
			out = append(out, difference{at, shown(old[i]), absent})
		default:
			out = walk(out, at, old[i], new[i])
		}
	}
	return out
}

// longestShown is how much of a value a line has room for, bytes.
const longestShown = 60

// shown is a value as it is written, cut short.
func shown(value any) string {
	text, err := json.Marshal(value)
	if err != nil {
		return fmt.Sprint(value)
	}
	if len(text) > longestShown {
		return string(text[:longestShown]) + "..."
	}
	return string(text)
}
