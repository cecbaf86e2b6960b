package terminal

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// no-color.org: "when present and not an empty string (regardless of its
// value), prevents the addition of ANSI color".
func TestNoColorIsObeyedWhateverItsValue(t *testing.T) {
	env := func(vars map[string]string) func(string) string {
		return func(name string) string { return vars[name] }
	}
	assert.True(t, colourWanted(env(nil)))
	assert.True(t, colourWanted(env(map[string]string{"NO_COLOR": ""})))
	assert.False(t, colourWanted(env(map[string]string{"NO_COLOR": "0"})))
	assert.False(t, colourWanted(env(map[string]string{"NO_COLOR": "1"})))
	assert.False(t, colourWanted(env(map[string]string{"TERM": "dumb"})))
}
