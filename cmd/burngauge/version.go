package main

import (
	"fmt"
	"runtime"
	"strings"

	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
)

// version of the programs; a release build sets it with
// -ldflags "-X main.version=...".
var version = "0.1.0-dev"

// versionText names what a result depends on: the program, the compiler and
// the libraries that were loaded.
func versionText() string {
	return fmt.Sprintf("burngauge %s (Go %s, OpenCV %s, libheif %s)",
		version, strings.TrimPrefix(runtime.Version(), "go"), photo.OpenCVVersion(), photo.HEIFVersion())
}

// tool names what measures here.
func tool() report.Tool {
	return report.Tool{Name: "burngauge", Version: version, OpenCV: photo.OpenCVVersion()}
}
