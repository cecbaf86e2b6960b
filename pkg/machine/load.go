package machine

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/strictyaml"
)

//go:embed profiles/starter.yaml
var starterFile []byte

// cautionsAt is the line of the file that stands for the cautions.
const cautionsAt = "# CAUTIONS\n"

// commentWidth is how many letters wide the file's comments are.
const commentWidth = 86

// starter is the file with the cautions for whoever measures a machine to fill it in.
var starter = bytes.Replace(starterFile, []byte(cautionsAt), []byte(cautions()), 1)

// cautions are the lines of the one list for measuring, as a comment.
func cautions() string {
	lines := append([]string{caution.Advice}, caution.For(caution.Measuring)...)
	text := caution.Wrap(lines, commentWidth-1)
	return "# Before you measure between the tube and the mirrors:\n#" + strings.ReplaceAll(text, "\n", "\n#") + "\n"
}

// StarterYAML is the built-in profile as a commented file, to be changed into
// one of another machine. The machine is invented. The caller owns the copy.
func StarterYAML() []byte { return bytes.Clone(starter) }

// Default is the built-in profile, of an invented machine.
func Default() Profile {
	profile, err := Parse("starter.yaml", starter)
	if err != nil {
		panic(fmt.Sprintf("machine: built-in profile: %v", err)) // a programmer's error
	}
	return profile
}

// ProfileError says what is wrong with a profile. Commands end with the exit
// code of a wrong profile when they see it.
type ProfileError struct {
	File  string // as it was named
	Cause error  // a *strictyaml.Fault, or why the file could not be read
}

// Error is one line: the file, the place and key as far as known, the text.
func (e *ProfileError) Error() string {
	return fmt.Sprintf("machine profile %s: %v", e.File, e.Cause)
}

// Unwrap returns the cause.
func (e *ProfileError) Unwrap() error { return e.Cause }

// Load reads the profile in a file and returns its text too. Every error is a
// *ProfileError.
func Load(path string) (Profile, []byte, error) {
	data, err := rules.ReadFile(path)
	if err != nil {
		return Profile{}, nil, &ProfileError{File: fmt.Sprintf("%q", path), Cause: whyUnread(err)}
	}
	profile, err := Parse(filepath.Base(path), data)
	return profile, data, err
}

// whyUnread turns a failure to read a file into words.
func whyUnread(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file")
	case errors.Is(err, strictyaml.ErrFolder):
		return err
	}
	return fmt.Errorf("cannot be read: %w", err)
}
