package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/caution"
)

// pasted is a command in a document and the output that stands below it.
type pasted struct {
	command string
	output  []string // "..." stands for any lines, also none
}

// pastedIn finds the indented blocks that begin with a "$".
func pastedIn(document string) []pasted {
	var out []pasted
	open := false
	for line := range strings.Lines(document) {
		line = strings.TrimRight(line, " \n")
		text, indented := strings.CutPrefix(line, "    ")
		command, begins := strings.CutPrefix(text, "$ ")
		switch {
		case indented && begins:
			out = append(out, pasted{command: command})
			open = true
		case indented && open, line == "" && open:
			last := &out[len(out)-1]
			last.output = append(last.output, text)
		default:
			open = false
		}
	}
	for i := range out {
		out[i].output = withoutBlankEnd(out[i].output)
	}
	return out
}

func withoutBlankEnd(lines []string) []string {
	for len(lines) > 0 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	return lines
}

// varying is what differs from run to run or from release to release: it is
// masked on both sides. The pasted outputs have none of it today.
var varying = []struct {
	is   *regexp.Regexp
	mask string
}{
	{regexp.MustCompile(`\b[0-9a-f]{64}\b`), "HASH"},
	{regexp.MustCompile(`\b\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)`), "TIME"},
	{regexp.MustCompile(`\b(burngauge|mirrorplan|rehearse|OpenCV) v?\d+\.\d+(\.\d+)?\S*`), "$1 VERSION"},
}

func masked(line string) string {
	for _, v := range varying {
		line = v.is.ReplaceAllString(line, v.mask)
	}
	return strings.TrimRight(line, " ")
}

// differs names the first pasted line that the output does not have in its
// place, "" when all are there and nothing else is.
func differs(want, got []string) string {
	at, free := 0, false // free: lines may be left out here
	for i := 0; i < len(want); i++ {
		if want[i] == "..." {
			free = true
			continue
		}
		from := at
		for free && at < len(got) && masked(got[at]) != masked(want[i]) {
			at++
		}
		if at == len(got) || masked(got[at]) != masked(want[i]) {
			return want[i] + "\nis not what follows; that is:\n" + strings.Join(got[from:min(from+3, len(got))], "\n")
		}
		at, free = at+1, false
	}
	if at < len(got) && !free {
		return "more follows:\n" + strings.Join(got[at:], "\n")
	}
	return ""
}

func TestAStaleOutputIsFound(t *testing.T) {
	got := []string{"a", "b", "", "c"}
	for _, want := range [][]string{{"a", "b", "", "c"}, {"a", "...", "c"}, {"...", "c"}, {"a", "..."}, {"...", "a", "...", "b", "...", "c", "..."}} {
		assert.Empty(t, differs(want, got), "%q", want)
	}
	for _, want := range [][]string{{"a", "b"}, {"a", "x", "", "c"}, {"...", "c", "b"}, {"a", "...", "b"}, {"a", "b", "", "c", "d"}, nil} {
		assert.NotEmpty(t, differs(want, got), "%q", want)
	}
	assert.Empty(t, differs([]string{"at 2026-01-02T03:04:05Z by burngauge 1.2.0"}, []string{"at 2027-11-12T13:14:15+01:00 by burngauge 2.0.1-dirty"}))
	assert.Equal(t, []pasted{{"one", []string{"a", "", "b"}}, {"two", nil}},
		pastedIn("    $ one\n    a\n\n    b\n\ntext\n\n    not pasted\n\n    $ two\n"))
}

// programs builds every program and gives an environment that finds them.
func programs(t *testing.T) []string {
	t.Helper()
	bin := t.TempDir()
	output, err := exec.Command("go", "build", "-buildvcs=false", "-tags=gocv_specific_modules", "-o", bin, "../../cmd/...").CombinedOutput()
	require.NoError(t, err, "%s", output)
	return append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"), "NO_COLOR=1")
}

// readme is the README, and a shell in which a reader would run its lines: beside
// fixtures.
func readme(t *testing.T) (document string, shell func(line string) (string, error)) {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	environment, root := programs(t), t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(root, "fixtures"), os.DirFS("../../fixtures")))
	return string(text), func(line string) (string, error) {
		cmd := exec.Command("sh", "-c", line)
		cmd.Dir, cmd.Env = root, environment
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
}

// demoLoop is the commands with which scripts/demo comes to its first plan: the
// README shows that plan.
func demoLoop(t *testing.T) []string {
	t.Helper()
	script, err := os.ReadFile("../../scripts/demo")
	require.NoError(t, err)
	out := []string{"mkdir -p out/demo/loop"}
	for _, found := range regexp.MustCompile(`(?m)^run (\w+ (\w+) .*)$`).FindAllStringSubmatch(string(script), -1) {
		if found[2] == "plan" {
			return out
		}
		out = append(out, strings.ReplaceAll(found[1], "$loop", "out/demo/loop"))
	}
	require.Fail(t, "scripts/demo makes no plan")
	return nil
}

// The outputs pasted into the README are what its commands print today, after
// scripts/demo, and its picture is what they draw.
func TestTheReadmesOutputsAreThoseOfItsCommands(t *testing.T) {
	if testing.Short() {
		t.Skip("it fires a simulated machine")
	}
	document, shell := readme(t)
	for _, line := range demoLoop(t) {
		output, err := shell(line)
		require.NoError(t, err, "%s: %s", line, output)
	}
	blocks := pastedIn(document)
	require.NotEmpty(t, blocks)
	for _, b := range blocks {
		t.Run(b.command, func(t *testing.T) {
			output, _ := shell(b.command) // what it says of a refused photo is pasted too
			got := withoutBlankEnd(strings.Split(output, "\n"))
			if d := differs(b.output, got); d != "" {
				assert.Fail(t, "README.md is stale below $ "+b.command, "%s\n\nall that is printed now:\n%s", d, output)
			}
		})
	}
}

// Every line of the README that calls a program calls one that there is, with flags
// that it has; so does every `PROGRAM help TOPIC`.
func TestTheReadmesCommandsAreCommands(t *testing.T) {
	document, shell := readme(t)
	lines := shownCommands(document, "burngauge", "mirrorplan", "rehearse")
	require.Greater(t, len(lines), 15)
	for _, words := range lines {
		line := strings.Join(words, " ") + " --help"
		output, err := shell(line)
		assert.NoError(t, err, "%s: %s", line, output)
	}
	for _, found := range topicsIn(document) {
		output, err := shell(found)
		assert.NoError(t, err, "%s: %s", found, output)
	}
}

// topicsIn are the calls of help in a table's cell: `burngauge help json`, `report`
// are two.
func topicsIn(document string) (calls []string) {
	for _, cell := range regexp.MustCompile("`(\\w+) help ([\\w-]+)`((?:, `[\\w-]+`)*)").FindAllStringSubmatch(document, -1) {
		calls = append(calls, cell[1]+" help "+cell[2])
		for _, more := range regexp.MustCompile("`([\\w-]+)`").FindAllStringSubmatch(cell[3], -1) {
			calls = append(calls, cell[1]+" help "+more[1])
		}
	}
	return calls
}

// A newcomer reads it in five minutes.
func TestTheReadmeIsShort(t *testing.T) {
	document, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	assert.LessOrEqual(t, strings.Count(string(document), "\n"), 220)
}

// The README has the lines for whoever fires or turns, all of them and no other.
func TestTheReadmesCautionsAreThoseOfTheList(t *testing.T) {
	document, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, section, _ := strings.Cut(string(document), "\n## Before you fire\n")
	section, _, _ = strings.Cut(section, "\n## ")
	var lines []string
	for _, line := range strings.Split(section, "\n- ")[1:] {
		lines = append(lines, strings.Join(strings.Fields(line), " "))
	}
	assert.Equal(t, caution.For(caution.Firing|caution.Turning), lines)
	for _, first := range []string{"local rules", "maker's instructions", "safety officer"} {
		assert.Contains(t, strings.Join(strings.Fields(section), " "), first)
	}
}
