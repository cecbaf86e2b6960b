package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/refusal"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// sourcesBelow parses every Go file of the folder that is no test.
func sourcesBelow(t *testing.T, folder string) (files []*ast.File) {
	t.Helper()
	err := filepath.WalkDir(filepath.Join(top, folder), func(path string, _ fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		files = append(files, file)
		return err
	})
	require.NoError(t, err)
	return files
}

// text is the value of a string literal, "" of anything else.
func text(e ast.Expr) string {
	literal, ok := e.(*ast.BasicLit)
	if !ok || literal.Kind != token.STRING {
		return ""
	}
	value, _ := strconv.Unquote(literal.Value)
	return value
}

// refusalConstants are the values of all constants of a type called Code, whichever
// package declares it.
func refusalConstants(t *testing.T) (codes []string) {
	t.Helper()
	for _, file := range sourcesBelow(t, "pkg") {
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			kind := spec.Type
			if selector, ok := kind.(*ast.SelectorExpr); ok {
				kind = selector.Sel
			}
			if name, ok := kind.(*ast.Ident); ok && name.Name == "Code" {
				for _, value := range spec.Values {
					codes = append(codes, text(value))
				}
			}
			return true
		})
	}
	return sortedOnce(codes)
}

// warningsAdded are the codes that pkg/measure gives warnings: the second argument
// wherever it adds one.
func warningsAdded(t *testing.T) (codes []string) {
	t.Helper()
	for _, file := range sourcesBelow(t, "pkg/measure") {
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) < 3 {
				return true
			}
			if method, ok := call.Fun.(*ast.SelectorExpr); ok && method.Sel.Name == "when" {
				codes = append(codes, text(call.Args[1]))
			}
			return true
		})
	}
	return sortedOnce(codes)
}

func sortedOnce(list []string) []string {
	slices.Sort(list)
	return slices.Compact(list)
}

func TestEveryRefusalOfTheCodeIsExplainedAndNoOther(t *testing.T) {
	var explained []string
	for _, e := range refusal.All() {
		explained = append(explained, string(e.Code))
	}
	for _, e := range photo.Codes() {
		explained = append(explained, string(e.Code))
	}
	assert.Equal(t, refusalConstants(t), sortedOnce(explained))
}

func TestEveryWarningOfTheCodeIsExplainedAndNoOther(t *testing.T) {
	var explained []string
	for _, m := range report.WarningCodes() {
		explained = append(explained, m.Code)
	}
	assert.Equal(t, warningsAdded(t), sortedOnce(explained))
}

// Both topics print each code with its words, on as many lines as it takes.
func TestTheHelpPrintsTheLists(t *testing.T) {
	words := func(topic string) string {
		out, _, code := call("help", topic)
		require.Zero(t, code)
		return strings.Join(strings.Fields(out), " ")
	}
	refusals, warnings := words("refusals"), words("warnings")
	for _, e := range refusal.All() {
		assert.Contains(t, refusals, string(e.Code)+" "+e.Meaning+": "+e.Remedy)
	}
	for _, e := range photo.Codes() {
		assert.Contains(t, refusals, string(e.Code)+" "+e.Meaning+": "+e.Remedy)
	}
	for _, m := range report.WarningCodes() {
		assert.Contains(t, warnings, m.Code+" "+m.Text)
	}
}

// What a text shows as a command of burngauge is one, with flags that it has.
func TestTheCommandsInTheHelpAreCommands(t *testing.T) {
	root := newRootCmd(terminal.NewStreams(nil, io.Discard, io.Discard))
	texts := []string{root.Example}
	for _, cmd := range root.Commands() {
		texts = append(texts, cmd.Example)
		if cmd.IsAdditionalHelpTopicCommand() {
			texts = append(texts, cmd.Long)
		}
	}
	seen := 0
	for _, line := range shownCommands(strings.Join(texts, "\n"), "burngauge") {
		_, talk, code := call(append(line[1:], "--help")...)
		assert.Zero(t, code, "%s: %s", strings.Join(line, " "), talk)
		seen++
	}
	assert.Greater(t, seen, 20)
}

// shownCommands are the lines of a text that begin with one of the programs, or
// have it after a prompt or a pipe's words, cut into words. Redirections, comments
// and what stands behind two spaces are left out.
func shownCommands(text string, programs ...string) (list [][]string) {
	for line := range strings.Lines(strings.ReplaceAll(text, "\\\n", " ")) {
		line = strings.TrimPrefix(strings.TrimSpace(line), "$ ")
		line, _, _ = strings.Cut(line, " #")
		line, _, _ = strings.Cut(line, " > ")
		if parts := strings.SplitN(line, "  ", 2); len(parts) == 2 && !strings.HasPrefix(strings.TrimSpace(parts[1]), "-") {
			line = parts[0]
		}
		if words := strings.Fields(line); len(words) > 1 && slices.Contains(programs, words[0]) {
			list = append(list, words)
		}
	}
	return list
}

// The topic on the JSON names every key of a decision, each at the beginning of a line.
func TestTheKeysOfADecisionAreInTheTopic(t *testing.T) {
	out, talk, code := call("help", "json")
	require.Zero(t, code, talk)
	_, decisions, found := strings.Cut(out, "\n  decisions ")
	require.True(t, found)
	of := reflect.TypeFor[report.Decision]()
	for i := range of.NumField() {
		key, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ",")
		assert.Regexp(t, `(?m)^ +`+key+` +\S`, decisions)
	}
}

// Whatever topic asks for another pulse says what to mind.
func TestWhereATopicAsksToFireTheCautionsAreNamed(t *testing.T) {
	for _, topic := range helpTopics() {
		if topic.Name() != "cautions" && firing.MatchString(topic.Long) {
			assert.Contains(t, topic.Long, "burngauge help cautions", topic.Name())
		}
	}
}
