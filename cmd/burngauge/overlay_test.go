package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOverlaysNeverShareAName(t *testing.T) {
	photos := []string{"a/x.jpg", "b/x.jpg", "b/X.PNG", "x-2.jpg", "y.jpeg", "a/x.jpg", ".jpg"}
	want := []string{"x", "x-2", "X-3", "x-2-2", "y", "x-4", ""}
	got := overlayPaths("out", photos)
	for i := range photos {
		assert.Equal(t, filepath.Join("out", want[i]+".overlay.jpg"), got[i], photos[i])
	}
}

func TestWithoutAFolderNoOverlayIsNamed(t *testing.T) {
	assert.Equal(t, []string{"", ""}, overlayPaths("", []string{"a.jpg", "b.jpg"}))
}
