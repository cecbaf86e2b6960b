package search

import "slices"

// A mirror's plate rests on three screws: the screws of mirror m are 3m, 3m+1, 3m+2.
const perMirror = 3

// tryAllUpTo is the number of mirrors up to which every way to choose pairs is tried:
// 3³ = 27 searches for three mirrors, 81 for four would take longer than a person waits.
const tryAllUpTo = 3

// PairsOf are the three ways to give one mirror two of its three screws.
func PairsOf(mirror int) (list [][]int) {
	for left := range perMirror {
		a, b := perMirror*mirror+(left+1)%perMirror, perMirror*mirror+(left+2)%perMirror
		list = append(list, []int{min(a, b), max(a, b)})
	}
	return list
}

// Pairs are ways to give each mirror two of its three screws: all three together only shift
// the plate, and a tilt of a plane has two directions, so that two screws reach every tilt
// and the third would only undo what they do. There are 3^m ways for m mirrors. Up to three
// mirrors they are all tried; beyond, each mirror has the two screws that are not its pivot,
// 0, 1 or 2.
func Pairs(mirrors int, pivots []int) [][]int {
	if mirrors > tryAllUpTo {
		return [][]int{withoutPivots(mirrors, pivots)}
	}
	list := [][]int{nil}
	for m := range mirrors {
		var next [][]int
		for _, screws := range list {
			for _, pair := range PairsOf(m) {
				next = append(next, append(slices.Clone(screws), pair...))
			}
		}
		list = next
	}
	return list
}

func withoutPivots(mirrors int, pivots []int) (screws []int) {
	for m := range mirrors {
		for s := range perMirror {
			if s != pivots[m] {
				screws = append(screws, perMirror*m+s)
			}
		}
	}
	return screws
}
