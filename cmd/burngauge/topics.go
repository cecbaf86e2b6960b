package main

import (
	"embed"
	"strings"

	"github.com/spf13/cobra"

	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/refusal"
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
		"{{reminder}}", reminder,
		"{{refusals}}", table(refusal.All(), func(e refusal.Entry) [2]string { return [2]string{string(e.Code), e.Meaning + ": " + e.Remedy} }),
		"{{unreadable}}", table(photo.Codes(), func(e photo.Entry) [2]string { return [2]string{string(e.Code), e.Meaning + ": " + e.Remedy} }),
		"{{warnings}}", table(report.WarningCodes(), meaning),
		"{{states}}", table(report.States(), meaning),
		"{{set-states}}", table(report.SetStates(), meaning),
	)
}

func meaning(m report.Meaning) [2]string { return [2]string{m.Code, m.Text} }

// table is a list in two columns, a row for each entry.
func table[T any](list []T, row func(T) [2]string) string {
	rows := make([][2]string, len(list))
	for i, entry := range list {
		rows[i] = row(entry)
	}
	return command.Table(rows...)
}
