package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPhotosOfTheSameNameKeepTheirFolders(t *testing.T) {
	for _, c := range []struct{ paths, want []string }{
		{[]string{"x/a.jpg", "x/b.jpg"}, []string{"a.jpg", "b.jpg"}},
		{[]string{"x/a.jpg", "y/a.jpg", "y/b.jpg"}, []string{"x/a.jpg", "y/a.jpg", "b.jpg"}},
		{[]string{"p/x/a.jpg", "q/x/a.jpg", "q/y/a.jpg"}, []string{"p/x/a.jpg", "q/x/a.jpg", "y/a.jpg"}},
		{[]string{"a.jpg", "x/a.jpg"}, []string{"a.jpg", "x/a.jpg"}},
		{[]string{"/a.jpg", "/x/a.jpg"}, []string{"/a.jpg", "x/a.jpg"}},
		{[]string{"x/a.jpg", "./x/a.jpg"}, []string{"a.jpg", "a.jpg"}}, // the same file twice
	} {
		assert.Equal(t, c.want, shortNames(c.paths), "%v", c.paths)
	}
}
