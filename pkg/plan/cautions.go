package plan

import "burngauge.dev/burngauge/pkg/caution"

// advice stands above the cautions of a plan.
const advice = "This is advice, and it commands nothing. The machine maker’s instructions, local rules and your laser safety officer come first: where they differ from these lines, follow them."

// Cautions are the safety lines that belong with every plan, for one line each:
// whoever reads it fires and turns screws next. The caller owns the copy.
func Cautions() []string { return append([]string{advice}, caution.Lines()...) }
