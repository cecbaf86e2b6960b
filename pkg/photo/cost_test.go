package photo

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Sizes as exiftool reads them.
func TestPixelsAreTheFilesOwnWithoutDecoding(t *testing.T) {
	for file, want := range map[string]int64{"clean.jpg": 1632 * 1224, "full-size.jpg": 4000 * 3000, "truth.json": 0, "missing.jpg": 0} {
		assert.Equal(t, want, Pixels(filepath.Join("../../fixtures/photos", file), DefaultLimits()), file)
	}
	assert.Zero(t, Pixels("../../fixtures/photos/full-size.jpg", Limits{Bytes: 64 << 20, Pixels: 1e6}), "beyond the limit nothing is decoded")
}
