package photo

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// quietChild names, in the environment, the file that a child of the test reads.
const quietChild = "PHOTO_TEST_QUIET_CHILD"

// The libraries speak past os.Stderr, so only a process of its own shows it.
func TestQuietLibrariesLeavesOurOwnWordsAlone(t *testing.T) {
	if path := os.Getenv(quietChild); path != "" {
		speak(path)
	}
	data := jpegOf(t, scene(200, 150))
	path := saved(t, "cut.jpg", append(append([]byte{}, data[:len(data)/2]...), endOfJPEG...))
	loud := childsStderr(t, path, "loud")
	require.Contains(t, loud, "Corrupt JPEG data", "the library itself complains")
	quiet := childsStderr(t, path, "quiet")
	assert.NotContains(t, quiet, "Corrupt JPEG data")
	assert.Contains(t, quiet, "own word: the photo is cut off or damaged")
	assert.Contains(t, quiet, "panic: own crash")
}

// speak is the child: it reads, says its word and crashes.
func speak(path string) {
	if os.Getenv(quietChild+"_MODE") == "quiet" {
		if err := QuietLibraries(); err != nil {
			panic(err)
		}
	}
	_, err := Read(path, DefaultLimits())
	fmt.Fprintln(os.Stderr, "own word:", err)
	go panic("own crash") // in a goroutine: testing would catch it here
	select {}
}

func childsStderr(t *testing.T, path, mode string) string {
	t.Helper()
	command := exec.Command(os.Args[0], "-test.run=^"+t.Name()+"$")
	command.Env = append(os.Environ(), quietChild+"="+path, quietChild+"_MODE="+mode)
	var stderr bytes.Buffer
	command.Stderr = &stderr
	require.Error(t, command.Run())
	return stderr.String()
}
