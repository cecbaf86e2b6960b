package spot

import (
	"fmt"
	"os"
)

// Dump is for development.
func (d *darkness) Dump(path string) {
	f, _ := os.Create(path)
	defer f.Close()
	fmt.Fprintln(f, d.n, d.step, d.x0, d.y0)
	for k := range d.value {
		s := 0
		if d.support.in[k] {
			s = 1
		}
		if d.core.in[k] {
			s = 2
		}
		fmt.Fprintln(f, d.light[k], d.value[k], s)
	}
}
