package spot

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawnMask is the set of cells that a picture marks with '#'.
func drawnMask(rows ...string) mask {
	m := newMask(len(rows))
	for j, row := range rows {
		for i, c := range row {
			m.in[j*m.n+i] = c == '#'
		}
	}
	return m
}

// where is the set of cells for which a condition holds.
func where(n int, in func(i, j int) bool) mask {
	m := newMask(n)
	for k := range m.in {
		m.in[k] = in(k%n, k/n)
	}
	return m
}

// discMask holds the cells within r of the middle.
func discMask(n int, r float64) mask {
	c := float64(n-1) / 2
	return where(n, func(i, j int) bool { return math.Hypot(float64(i)-c, float64(j)-c) <= r })
}

// Against the definition: the least distance to any cell of the set.
func TestDistanceAgreesWithBruteForce(t *testing.T) {
	const n, tolCells = 23, 1e-9
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 1))
		m := where(n, func(int, int) bool { return rng.IntN(40) == 0 })
		m.in[7*n+11] = true
		for k, d := range m.distance() {
			want := math.Inf(1)
			for c, in := range m.in {
				if in {
					want = min(want, math.Hypot(float64(k%n-c%n), float64(k/n-c/n)))
				}
			}
			require.InDelta(t, want, d, tolCells)
		}
	}
}

func TestGrownIsTheDiscRoundACell(t *testing.T) {
	m := newMask(21)
	m.in[10*21+10] = true
	assert.Equal(t, discMask(21, 4.2), m.grown(4.2))
	assert.Equal(t, m, m.grown(0))
}

func TestComplementTwiceIsTheSame(t *testing.T) {
	m := discMask(9, 3)
	assert.Equal(t, m, m.complement().complement())
	assert.Equal(t, 81-m.count(), m.complement().count())
}

// A disc with a thin tail: opening keeps the disc and drops the tail.
func TestOpenedDropsWhatIsThin(t *testing.T) {
	disc := discMask(41, 9)
	m := maskOf(41, nil)
	copy(m.in, disc.in)
	for i := range 41 {
		m.in[20*41+i] = true // a line across the whole picture, one cell wide
	}
	opened := m.opened(3)
	assert.False(t, opened.in[20*41+2])
	assert.False(t, opened.in[20*41+38])
	for k, in := range disc.grown(0).in {
		if in && math.Hypot(float64(k%41-20), float64(k/41-20)) < 7 {
			assert.True(t, opened.in[k])
		}
	}
	thin := where(41, func(_, j int) bool { return j == 20 })
	assert.Zero(t, thin.opened(3).count())
}

func TestFilledFillsHolesAndNotBays(t *testing.T) {
	ring := drawnMask(
		".......",
		".#####.",
		".#...#.",
		".#.#.#.",
		".#...#.",
		".#####.",
		".......")
	assert.Equal(t, 25, ring.filled().count())
	bay := drawnMask(
		".......",
		".#####.",
		".#...#.",
		".#...#.",
		".#...#.",
		".#.###.",
		".......")
	assert.Equal(t, bay, bay.filled())
}

// Holes are joined over sides, not over corners.
func TestFilledTakesACornerForClosed(t *testing.T) {
	m := drawnMask(
		".....",
		"..#..",
		".#.#.",
		"..#..",
		".....")
	assert.Equal(t, 5, m.filled().count())
}

func TestPartsAreJoinedOverSides(t *testing.T) {
	m := drawnMask(
		"##...",
		"#..#.",
		"..#..",
		".....",
		"###.#")
	parts := m.parts()
	assert.Equal(t, [][]int{{0, 1, 5}, {8}, {12}, {20, 21, 22}, {24}}, parts)
	for _, part := range parts {
		for _, k := range part {
			assert.True(t, maskOf(m.n, part).in[k])
		}
	}
}

// The largest circle in a disc is the disc; in a bar it is as wide as the bar.
func TestInscribedIsTheLargestCircle(t *testing.T) {
	const tolCells = 0.6 // a cell's half diagonal
	assert.InDelta(t, 9.2, discMask(41, 9.2).inscribed(), tolCells)
	bar := where(41, func(i, j int) bool { return i > 3 && i < 38 && j >= 15 && j < 26 })
	assert.InDelta(t, 5.5, bar.inscribed(), tolCells)
}

func TestEdgeCellsTouchTheOutside(t *testing.T) {
	m := where(9, func(i, j int) bool { return i > 1 && i < 7 && j > 1 && j < 7 })
	edge := 0
	for k, in := range m.in {
		if in && m.edge(k) {
			edge++
		}
	}
	assert.Equal(t, 16, edge) // the border of a square of five
}
