package main

import (
	"fmt"
	"runtime"
	"strings"

	"gocv.io/x/gocv"

	"burngauge.dev/burngauge/pkg/photo"
)

// version of the programs; a release build sets it with
// -ldflags "-X main.version=...".
var version = "0.1.0-dev"

// versionText names what a result depends on: the program, the compiler and
// the libraries that were loaded.
func versionText() string {
	return fmt.Sprintf("burngauge %s (Go %s, OpenCV %s, libheif %s)",
		version, strings.TrimPrefix(runtime.Version(), "go"), gocv.OpenCVVersion(), photo.HEIFVersion())
}
