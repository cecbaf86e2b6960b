package command

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/needs"
	"burngauge.dev/burngauge/pkg/terminal"
)

// sample is a program with a command below a command, a topic and a hidden command.
func sample(streams terminal.Streams) *cobra.Command {
	run := func(*cobra.Command, []string) error { return nil }
	root := &cobra.Command{Use: "gauge", Short: "Measure", Long: "Measure it.", Version: "gauge 1.2 (Go 9)"}
	Root(root, streams)
	outer := &cobra.Command{Use: "outer", Short: "Hold others"}
	inner := &cobra.Command{Use: "inner FILE", Short: "Do it", RunE: run,
		Long: "Takes <a_b> and *c*, [d] or `e`.\nOne paragraph.\n\n  left   right\n  wide   narrow"}
	inner.Flags().Bool("loud", false, "say more")
	var side string
	ChoiceFlag(inner, &side, "side", "side to begin at", "left", "right")
	outer.AddCommand(inner)
	root.AddCommand(outer, &cobra.Command{Use: "secret", Hidden: true, RunE: run},
		&cobra.Command{Use: "signs", Short: "What the signs mean", Long: "Signs\n\n  a_b  .dot and *star*\n  ±    both"})
	return root
}

// manPages runs `man` and gives the names of the pages.
func manPages(t *testing.T) (folder string, names []string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "man")
	var out, talk bytes.Buffer
	require.Zero(t, Program{Out: &out, Err: &talk, Args: []string{"man", folder}}.Run(sample), talk.String())
	assert.Empty(t, out.String()+talk.String())
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return folder, names
}

func TestEveryCommandAndTopicHasItsPage(t *testing.T) {
	_, names := manPages(t)
	assert.ElementsMatch(t, []string{"gauge.1", "gauge-man.1", "gauge-outer.1", "gauge-outer-inner.1", "gauge-signs.7"}, names)
}

// groff, by others, shows what the page says.
func TestPagesSayWhatTheHelpSays(t *testing.T) {
	needs.Program(t, "groff", "groff")
	folder, _ := manPages(t)
	shown := func(page string) string {
		text, err := exec.Command("groff", "-man", "-Tutf8", "-P-cbou", "-K", "utf8", filepath.Join(folder, page)).Output()
		require.NoError(t, err)
		return string(text)
	}
	inner := shown("gauge-outer-inner.1")
	assert.Contains(t, strings.Join(strings.Fields(inner), " "), "Takes <a_b> and *c*, [d] or `e`. One paragraph.")
	assert.Contains(t, inner, "left   right\n")
	assert.Contains(t, inner, "gauge outer inner FILE")
	assert.Regexp(t, `(?m)^\s*--loud +say more$`, inner)
	assert.Regexp(t, `(?m)^\s*--side=left +side to begin at \(one of left, right\)$`, inner)
	signs := shown("gauge-signs.7")
	assert.Contains(t, signs, "a_b  .dot and *star*\n")
	assert.Contains(t, signs, "±    both\n")
	assert.Contains(t, shown("gauge.1"), "gauge-signs(7)")
}
