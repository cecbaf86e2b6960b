package sheet

import (
	"math"
	"strings"

	"burngauge.dev/burngauge/pkg/machine"
)

// Size of the drawn plate in letters, and what a letter's height is to its width
// on most terminals.
const (
	plateWide   = 27
	plateTall   = 9
	letterShape = 2.0
	edge        = 3 // letters kept clear left and right of a screw's place
)

// ascii draws the mount: [A] is a screw to turn with an arrow above it, and one
// below it for the way back; (A) is one to leave alone, + the mirror's middle.
func ascii(m mount) []string {
	grid := make([][]byte, plateTall)
	for i := range grid {
		grid[i] = []byte(strings.Repeat(" ", plateWide))
	}
	place := m.letters()
	col, row := place(0, 0)
	grid[row][col] = '+'
	for i, s := range m.Screws {
		col, row := free(grid)(place(s.RightMM, s.UpMM))
		name := machine.ScrewNames[i]
		if m.Turns[i] == 0 {
			put(grid[row], col, "("+name+")")
			continue
		}
		put(grid[row-1], col, curl(m.Turns[i]))
		put(grid[row], col, "["+name+"]")
		if m.Back[i] != 0 {
			put(grid[row+1], col, curl(m.Back[i]))
		}
	}
	return framed(grid)
}

// curl is the arrow over the top of a screw.
func curl(turns float64) string {
	if turns < 0 {
		return "<-."
	}
	return ".->"
}

// letters gives the column and row of a place on the plate; the outermost ones
// leave room for a screw and its arrow.
func (m mount) letters() func(right, up float64) (col, row int) {
	left, right, bottom, top := m.bounds()
	scale := min((plateWide-1-2*edge)/max(right-left, least), (plateTall-3)*letterShape/max(top-bottom, least))
	return func(x, y float64) (col, row int) {
		col = plateWide/2 + int(math.Round((x-(left+right)/2)*scale))
		return col, plateTall/2 - int(math.Round((y-(bottom+top)/2)*scale/letterShape))
	}
}

// least keeps a division by a width or height of nothing away, mm.
const least = 1e-9

// free finds the next free place for screws that lie closer than letters do.
func free(grid [][]byte) func(col, row int) (int, int) {
	return func(col, row int) (int, int) {
		for taken(grid, col, row) {
			if col += 4; col > plateWide-1-edge {
				col, row = edge, 1+row%(plateTall-2)
			}
		}
		return col, row
	}
}

// taken says whether a screw stands there, or so near that its arrow would lie on
// another one.
func taken(grid [][]byte, col, row int) bool {
	for _, line := range grid[row-1 : row+2] {
		if strings.ContainsAny(string(line[col-1:col+2]), "[]()") {
			return true
		}
	}
	return false
}

// put writes three letters whose middle is at col.
func put(row []byte, col int, words string) { copy(row[col-1:], words) }

// framed draws the plate's edge and the key.
func framed(grid [][]byte) []string {
	bar := "+" + strings.Repeat("-", plateWide+2) + "+"
	half := strings.Repeat("-", (plateWide-2)/2)
	lines := []string{"+" + half + " top " + strings.Repeat("-", plateWide+2-len(half)-5) + "+"}
	key := map[int]string{1: "[A]  screw to turn", 2: "(A)  leave alone", 3: ".->  clockwise", 4: "<-.  anticlockwise", 5: "+    middle of the mirror", 7: "arrow above: first, below: then back"}
	for i, row := range grid {
		lines = append(lines, "| "+string(row)+" |   "+key[i])
	}
	return append(lines, bar)
}
