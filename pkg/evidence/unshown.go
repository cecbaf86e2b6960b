package evidence

import (
	"slices"

	"burngauge.dev/burngauge/pkg/report/phrase"
)

// Unshown lists the texts that a PDF of the sheet cannot show whole, each with what
// it is: `technician "山田"`. Its fonts have Latin, Greek and Cyrillic letters; for
// every other it has a question mark. HTML shows all of them.
func (s Sheet) Unshown() (list []string) {
	if s.check() != nil {
		return nil // nor can it be written
	}
	for _, f := range newWording(s).texts() {
		list = phrase.Unshown(list, f.Label, f.Text)
	}
	return list
}

// texts are those of the sheet that come from elsewhere.
func (c *wording) texts() []fact {
	list := slices.Concat(c.Job, c.Target, []fact{{"rule", c.Rule}})
	for _, line := range c.Notes {
		list = append(list, fact{"notes", line})
	}
	for _, t := range []tableView{c.Numbers, c.Pointer, c.Others, c.Unassigned} {
		for _, r := range t.Rows {
			for i, cell := range r.Cells {
				list = append(list, fact{t.Columns[i].Head, cell.Text})
			}
			for _, words := range r.Remarks {
				list = append(list, fact{"remark", words})
			}
		}
	}
	for _, p := range c.Pictures {
		list = append(list, fact{"photo", p.File})
	}
	return list
}
