package needs

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// ended is a test that notes how it was ended.
type ended struct {
	testing.TB
	how string
}

func (e *ended) Helper()               {}
func (e *ended) Skipf(string, ...any)  { e.how = "skipped" }
func (e *ended) Fatalf(string, ...any) { e.how = "failed" }

func TestAMissingProgramSkipsHereAndFailsInCI(t *testing.T) {
	for value, want := range map[string]string{"": "skipped", "true": "failed"} {
		t.Setenv("CI", value)
		e := &ended{TB: t}
		Program(e, "no-such-program-is-installed", "nothing")
		assert.Equal(t, want, e.how, "CI=%q", value)
		e = &ended{TB: t}
		assert.Empty(t, Python(e, "no_such_module", "nothing"))
		assert.Equal(t, want, e.how, "CI=%q", value)
		e = &ended{TB: t}
		Refused(e, "no disk can be mounted")
		assert.Equal(t, want, e.how, "CI=%q", value)
	}
}

func TestAProgramThatIsThereEndsNothing(t *testing.T) {
	e := &ended{TB: t}
	Program(e, "sh", "dash")
	assert.Empty(t, e.how)
}
