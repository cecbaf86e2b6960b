package main

import (
	"embed"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// topicFiles are the texts, one for each topic; {{name}} stands for a list of the
// code's own, from lists.
//
//go:embed topics/*.txt
var topicFiles embed.FS

// helpTopics are commands that do nothing and only have a text: `burngauge help
// photos`.
func helpTopics() []*cobra.Command {
	return []*cobra.Command{
		topic("photos", "How to take a photo that can be measured"),
		topic("cautions", "What to mind before firing or turning a screw"),
		topic("targets", "Printing targets, and describing one of your own"),
		topic("numbers", "What offset, ±, rings, verdict and limit mean"),
		topic("refusals", "Why a photo is refused, and what to do"),
		topic("warnings", "What the warnings beside a number mean"),
		topic("report", "What a report holds and what is made from it"),
		topic("json", "The keys of the JSON"),
		topic("many-photos", "Spreading archives over processes and machines"),
		topic("exit-codes", "What the exit codes mean"),
	}
}

func topic(name, short string) *cobra.Command {
	text, err := topicFiles.ReadFile("topics/" + name + ".txt")
	if err != nil {
		panic(err) // a topic without its text: a programmer's error
	}
	return &cobra.Command{Use: name, Short: short, Long: lists().Replace(strings.TrimSpace(string(text)))}
}

// lists are what the topics print from the code's own lists.
func lists() *strings.Replacer {
	return strings.NewReplacer(
		"{{cautions}}", caution.Text(command.HelpWidth),
		"{{refusals}}", codeTable(report.Refusals()),
		"{{unreadable}}", codeTable(report.UnreadableCodes()),
		"{{warnings}}", codeTable(report.WarningCodes()),
		"{{states}}", codeTable(report.States()),
		"{{set-states}}", codeTable(report.SetStates()),
	)
}

func codeTable(codes []report.Meaning) string {
	rows := make([][2]string, len(codes))
	for i, c := range codes {
		rows[i] = [2]string{c.Code, c.Text}
	}
	return command.Table(rows...)
}
