package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"burngauge.dev/burngauge/pkg/plan/sheet"
	"burngauge.dev/burngauge/pkg/terminal"
)

// writers are the kinds of file that a plan is written to, by their endings.
var writers = map[string]func(sheet.Sheet, io.Writer) error{
	".json": func(s sheet.Sheet, w io.Writer) error { return encode(w, s.Plan) },
	".pdf":  sheet.Sheet.WritePDF,
	".svg":  sheet.Sheet.WriteSVG,
}

// checkOutputs refuses file names whose ending names no kind, before any work.
func checkOutputs(paths []string) error {
	for _, path := range paths {
		if writers[ending(path)] == nil {
			return terminal.Usagef("mirrorplan plan report.json --machine machine.yaml -o plan.pdf",
				"-o %s: the name ends in none of .json, .pdf, .svg, which say what to write", path)
		}
	}
	return nil
}

func ending(path string) string { return strings.ToLower(filepath.Ext(path)) }

// writeOutputs writes the plan's files, each whole or not at all.
func writeOutputs(streams terminal.Streams, s sheet.Sheet, paths []string) error {
	for _, path := range paths {
		err := terminal.WriteFile(path, func(w io.Writer) error { return writers[ending(path)](s, w) })
		if err != nil {
			return notDrawn(err)
		}
		streams.Note("written: %s", path)
	}
	return nil
}

// notDrawn gives a plan that does not fit the machine its exit code.
func notDrawn(err error) error {
	var wrong *sheet.InputError
	if errors.As(err, &wrong) {
		return terminal.Fail(terminal.ExitUsage, fmt.Errorf("plan: %w", wrong), "")
	}
	return err
}
