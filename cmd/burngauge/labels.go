package main

import (
	"path/filepath"
	"strings"
)

// shortNames names each photo by its file's name, and by as much of its path as it
// takes where files of the same name lie in several folders.
func shortNames(paths []string) []string {
	alike := map[string][]string{} // clean paths by base name, each once
	known := map[string]bool{}
	for _, path := range paths {
		path = filepath.Clean(path)
		if !known[path] {
			known[path] = true
			alike[filepath.Base(path)] = append(alike[filepath.Base(path)], path)
		}
	}
	labels := make([]string, len(paths))
	for i, path := range paths {
		path = filepath.Clean(path)
		labels[i] = shortest(path, alike[filepath.Base(path)])
	}
	return labels
}

// shortest is the end of the path that no other of them has: whole names only.
func shortest(path string, others []string) string {
	for n := 1; ; n++ {
		end := lastParts(path, n)
		if end == path || !shared(end, n, path, others) {
			return end
		}
	}
}

func shared(end string, n int, path string, others []string) bool {
	for _, other := range others {
		if other != path && lastParts(other, n) == end {
			return true
		}
	}
	return false
}

// lastParts are the last n names of a path, or all of it.
func lastParts(path string, n int) string {
	at := len(path)
	for range n {
		if at <= 0 {
			return path
		}
		if at = strings.LastIndexByte(path[:at], filepath.Separator); at < 0 {
			return path
		}
	}
	return path[at+1:]
}
