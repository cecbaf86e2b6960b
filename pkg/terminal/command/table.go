package command

import (
	"strings"
	"unicode/utf8"
)

// Table is rows of two cells for a help text: the first cells in one column,
// indented by two spaces, the second broken to HelpWidth beside it. A word that is
// longer than the column stays whole.
func Table(rows ...[2]string) string {
	const indent, gap = 2, 2
	first := 0
	for _, row := range rows {
		first = max(first, utf8.RuneCountInString(row[0]))
	}
	var b strings.Builder
	for i, row := range rows {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(strings.Repeat(" ", indent) + row[0])
		at := indent + utf8.RuneCountInString(row[0]) // letters on this line so far
		column, lead := indent+first+gap, ""
		b.WriteString(strings.Repeat(" ", column-at))
		at = column
		for _, word := range strings.Fields(row[1]) {
			long := utf8.RuneCountInString(word)
			if lead != "" && at+1+long > HelpWidth {
				b.WriteString("\n" + strings.Repeat(" ", column))
				at, lead = column, ""
			}
			b.WriteString(lead + word)
			at += len(lead) + long
			lead = " "
		}
	}
	return b.String()
}
