package exif

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Stored rows [1 2 3; 4 5 6] and what each orientation makes of them,
// by hand from the EXIF table (row 0 / column 0 sides).
func TestOrientationTable(t *testing.T) {
	want := map[int][][]int{
		1: {{1, 2, 3}, {4, 5, 6}}, 2: {{3, 2, 1}, {6, 5, 4}}, 3: {{6, 5, 4}, {3, 2, 1}}, 4: {{4, 5, 6}, {1, 2, 3}},
		5: {{1, 4}, {2, 5}, {3, 6}}, 6: {{4, 1}, {5, 2}, {6, 3}}, 7: {{6, 3}, {5, 2}, {4, 1}}, 8: {{3, 6}, {2, 5}, {1, 4}},
	}
	for o := 1; o <= 8; o++ {
		for i := range 6 {
			ux, uy := Upright(o, i%3, i/3, 3, 2)
			assert.Equal(t, i+1, want[o][uy][ux], "orientation %d", o)
		}
	}
}
