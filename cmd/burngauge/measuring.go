package main

import (
	"errors"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/terminal"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// Values of --roll.
const (
	rollIndex = "index" // the index mark decides
	rollPhoto = "photo" // the photo's top is the target's top
)

// photoEndings are those offered when a photo's name is completed.
var photoEndings = []string{"jpg", "jpeg", "png", "heic", "heif", "avif", "JPG", "JPEG", "PNG", "HEIC", "HEIF", "AVIF"}

const ndjsonUsage = "write one line of JSON for each measurement, as each is done"

// measuring holds the flags that every measuring command has.
type measuring struct {
	target      string  // built-in name or spec file
	mark        string  // burn, pointer or both
	limitMM     float64 // 0: the inner ring's radius
	roll        string
	units       string // of tables and overlays
	overlayDir  string // "": none
	failOutside bool
}

func addMeasuringFlags(cmd *cobra.Command, m *measuring) {
	flags := cmd.Flags()
	m.target = target.DefaultName
	flags.Var(command.Name{To: &m.target, Kind: "NAME|FILE"}, "target", "built-in target, as burngauge target --list shows them, or spec file")
	command.ChoiceFlag(cmd, &m.mark, "mark", "mark to measure", measure.Burn, measure.Pointer, measure.Both)
	flags.Var(length{to: &m.limitMM}, "limit", "distance from the centre that still counts as inside (default: the inner ring's radius, which is common practice and has no source)")
	command.ChoiceFlag(cmd, &m.roll, "roll", "what shows the target's top: its index mark, or the photo's own top", rollIndex, rollPhoto)
	addUnitsFlag(cmd, &m.units, "unit of tables and overlays; JSON and CSV are always in mm")
	flags.Var(command.Name{To: &m.overlayDir, Kind: "DIR"}, "overlay", "write a picture of each result into the folder DIR")
	flags.BoolVar(&m.failOutside, "fail-outside", false, "exit with code 7 when a mark is outside the limit")
	command.Complete(cmd, "target", cobra.FixedCompletions(target.Names(), cobra.ShellCompDirectiveDefault))
	command.Complete(cmd, "limit", cobra.FixedCompletions(nil, cobra.ShellCompDirectiveNoFileComp))
	folderFlag(cmd, "overlay")
}

func addUnitsFlag(cmd *cobra.Command, to *string, usage string) {
	command.ChoiceFlag(cmd, to, "units", usage, string(report.Millimetres), string(report.Inches))
}

// folderFlag completes a flag's value to folders.
func folderFlag(cmd *cobra.Command, name string) {
	if err := cmd.MarkFlagDirname(name); err != nil {
		panic(err) // the flag does not exist: a programmer's error
	}
}

// settings turns the flags into what the measuring wants.
func (m measuring) settings() (measure.Options, error) {
	spec, err := loadTarget(m.target)
	if err != nil {
		return measure.Options{}, err
	}
	settings := measure.DefaultOptions()
	settings.Target = spec
	settings.Mark = m.mark
	settings.LimitMM = m.limitMM
	settings.RollPhoto = m.roll == rollPhoto
	return settings, nil
}

// loadTarget reads a target; a wrong spec is a wrong use of the command.
func loadTarget(name string) (target.Spec, error) {
	spec, err := target.Load(name)
	var wrong *target.SpecError
	if errors.As(err, &wrong) {
		return target.Spec{}, terminal.Fail(terminal.ExitUsage, err, "burngauge target --list")
	}
	return spec, err
}
