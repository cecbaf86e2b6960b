package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// The tables have every word of the planner's lists, once and at a line's beginning, and
// their texts whole; no line is wider than help is.
func TestTheTablesAreThoseOfThePlanner(t *testing.T) {
	for topic, list := range map[string][]plan.Explained{"statuses": plan.Statuses(), "findings": plan.FindingCodes(), "plan-format": plan.Keys()} {
		out, talk, code := call("help", topic)
		require.Zero(t, code, talk)
		plain := strings.Join(strings.Fields(out), " ")
		for _, e := range list {
			assert.Regexp(t, `(?m)^  `+e.Word+` +\S`, out, topic)
			assert.Contains(t, plain, e.Word+" "+strings.Join(strings.Fields(e.Text), " "), topic)
		}
		for line := range strings.Lines(out) {
			assert.LessOrEqual(t, len([]rune(strings.TrimRight(line, "\n"))), command.HelpWidth, line)
		}
	}
}

// Every topic that a text of the program names is one.
func TestTopicsThatAreNamedExist(t *testing.T) {
	exists := map[string]bool{}
	for _, topic := range helpTopics() {
		exists[topic.Name()] = true
	}
	for _, args := range [][]string{{}, {"plan", "--help"}, {"learn", "--help"}, {"machine", "--help"}, {"machine", "new", "--help"}, {"machine", "check", "--help"},
		{"machine", "new"}, {"help", "planning"}, {"help", "findings"}, {"help", "statuses"}, {"help", "plan-format"}, {"help", "machine-profile"}, {"help", "cautions"}, {"help", "exit-codes"}} {
		out, talk, code := call(args...)
		require.Zero(t, code, talk)
		for _, after := range strings.Split(out, "mirrorplan help ")[1:] {
			topic := strings.FieldsFunc(after, func(r rune) bool { return r != '-' && (r < 'a' || r > 'z') })[0]
			assert.True(t, exists[topic], "%v names the topic %q", args, topic)
		}
	}
}

// Where a topic asks to fire or to turn, the brief cautions stand in it.
func TestTopicsThatAskToFireOrTurnHaveTheCautions(t *testing.T) {
	for _, topic := range []string{"planning", "statuses", "machine-profile"} {
		out, talk, code := call("help", topic)
		require.Zero(t, code, talk)
		assert.Contains(t, out, reminder, topic)
	}
}
