//go:build gocv_specific_modules

// Command decodeonly decodes one photo in full by OpenCV and ends. It is what
// scripts/accuracy holds the time of a whole measurement against: it calls OpenCV
// itself, so that nothing of ours is in that time.
package main

import (
	"fmt"
	"os"

	"gocv.io/x/gocv"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: decodeonly PHOTO")
		os.Exit(2)
	}
	picture := gocv.IMRead(os.Args[1], gocv.IMReadColor)
	empty := picture.Empty()
	picture.Close()
	if empty {
		fmt.Fprintln(os.Stderr, "error: cannot decode", os.Args[1])
		os.Exit(1)
	}
}
