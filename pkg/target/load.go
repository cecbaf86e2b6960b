package target

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"unicode"
)

// maxSpecBytes bounds a spec file. A full one is under 1 KB; the bound keeps a
// photo given by mistake from being read as YAML.
const maxSpecBytes = 64 << 10

// SpecError says what is wrong with a target spec, or that there is none of
// that name. Commands end with the exit code of a wrong spec when they see it.
type SpecError struct {
	File         string // as it was named; base name or path
	Line, Column int    // from 1; 0 when the trouble has no place in the file
	Key          string // as in the file: "line_mm", "index.from_mm", "rings_mm[1]"; "" when it is not about one key
	Text         string // what is wrong and what to do, lower case, one line
}

// Error is one line: file, line, column and key as far as known, then the text.
func (e *SpecError) Error() string {
	var b strings.Builder
	b.WriteString("target spec " + e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Column)
	}
	if e.Key != "" {
		b.WriteString(": " + e.Key)
	}
	b.WriteString(": " + e.Text)
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

// Load returns the built-in target of that name or, when there is none, the
// spec in the file of that name. A file that is called like a built-in is
// reached by "./pair". All errors are *SpecError.
func Load(nameOrFile string) (Spec, error) {
	if spec, ok := Builtin(nameOrFile); ok {
		return spec, nil
	}
	data, err := rules.ReadFile(nameOrFile)
	if err != nil {
		return Spec{}, &SpecError{File: fmt.Sprintf("%q", nameOrFile), Text: whyUnread(err)}
	}
	return Parse(filepath.Base(nameOrFile), data)
}

// whyUnread turns a failure to read a file into what to do about it.
func whyUnread(err error) string {
	choice := "name one of the built-in targets (" + strings.Join(names, ", ") + ") or a spec file"
	if errors.Is(err, fs.ErrNotExist) {
		return "neither a built-in target nor a file: " + choice
	}
	return fmt.Sprintf("cannot be read (%v): %s", err, choice)
}
