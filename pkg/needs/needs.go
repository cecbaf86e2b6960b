// Package needs is for tests that hold results against other people's programs. A
// program that is missing skips its test on a developer's machine, and fails it
// where the environment variable CI is set, as scripts/test sets it: there every
// program is installed, and a check that did not run must not look like one that
// passed. Only tests import it.
package needs

import (
	"os"
	"os/exec"
	"testing"
)

// Program wants the program of this name, which the Debian package has.
func Program(t testing.TB, name, debian string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		Missing(t, name+" is missing", debian)
	}
}

// Python is a Python interpreter that has the module: the first on the path, or
// the system's own, which sees the modules of Debian packages.
func Python(t testing.TB, module, debian string) string {
	t.Helper()
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if path, err := exec.LookPath(name); err == nil && exec.Command(path, "-c", "import "+module).Run() == nil {
			return path
		}
	}
	Missing(t, "no python3 has the module "+module, debian)
	return ""
}

// Missing ends the test: what is wrong, and the Debian package that helps.
func Missing(t testing.TB, what, debian string) {
	t.Helper()
	end(t)("%s, so this was not checked: apt-get install %s, or scripts/install --tests", what, debian)
}

// Refused ends the test where the system does not allow what it needs, a small disk
// to be mounted say: no package helps.
func Refused(t testing.TB, what string) {
	t.Helper()
	end(t)("%s, so this was not checked", what)
}

// end skips the test, or fails it where CI is set.
func end(t testing.TB) func(format string, args ...any) {
	if os.Getenv("CI") != "" {
		return t.Fatalf
	}
	return t.Skipf
}
