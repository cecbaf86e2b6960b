package plan

import "burngauge.dev/burngauge/pkg/caution"

// Cautions are the safety lines that belong with every plan, below who comes first:
// whoever reads it fires and turns screws next. The caller owns the copy.
func Cautions() []string { return append([]string{caution.Advice}, caution.Lines()...) }
