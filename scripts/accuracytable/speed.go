package main

import (
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // sizes of photos
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"time"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/stat"
)

const (
	fullSizePixels = 12_000_000 // 4000 x 3000
	mostFullSize   = 3          // photos that are timed
	speedRuns      = 7          // of each program on each photo, in turn, so that a busy machine slows both
)

// fullSize lists the photos of 12 megapixels or more that must be measured.
func fullSize(folder string, photos []photoset.Photo) []photoset.Photo {
	var out []photoset.Photo
	for _, p := range photos {
		if p.Expect != photoset.Measure || len(out) == mostFullSize {
			continue
		}
		if pixels(filepath.Join(folder, p.File)) >= fullSizePixels {
			out = append(out, p)
		}
	}
	return out
}

// pixels of the picture at path by its header; 0 when it cannot be read.
func pixels(path string) int {
	f, err := os.Open(path)
	if err != nil {
		return 0
	}
	defer f.Close()
	config, _, err := image.DecodeConfig(f)
	if err != nil {
		return 0
	}
	return config.Width * config.Height
}

// speedRows times one whole measurement against a process that only decodes.
func speedRows(bin, decode, folder string, photos []photoset.Photo) ([]row, error) {
	timeRow := row{what: "12-megapixel photo: whole process / decoding only", bound: fmt.Sprintf("at most %.0f", mostTimesDecode), state: "-"}
	memoryRow := row{what: "peak memory of that process", bound: fmt.Sprintf("at most %.0f MB", mostMegabytes), state: "-"}
	chosen := fullSize(folder, photos)
	if len(chosen) == 0 {
		timeRow.got, memoryRow.got = "no 12-megapixel photo here", "no 12-megapixel photo here"
		return []row{timeRow, memoryRow}, nil
	}
	ratio, peak, text := 0.0, 0.0, ""
	for _, p := range chosen {
		whole, alone, megabytes, err := race(bin, decode, folder, p)
		if err != nil {
			return nil, fmt.Errorf("timing %s: %w", p.File, err)
		}
		if r := whole / alone; r > ratio {
			ratio = r
			text = fmt.Sprintf("%.2f (%.0f ms / %.0f ms, %s)", r, 1e3*whole, 1e3*alone, p.File)
		}
		peak = max(peak, megabytes)
	}
	timeRow.got, timeRow.state = text, check(ratio <= mostTimesDecode)
	memoryRow.got, memoryRow.state = fmt.Sprintf("%.0f MB", peak), check(peak <= mostMegabytes)
	return []row{timeRow, memoryRow}, nil
}

// race runs both programs in turn and returns their median wall times in
// seconds and the measuring program's peak memory in MB.
func race(bin, decode, folder string, p photoset.Photo) (whole, alone, megabytes float64, err error) {
	path := filepath.Join(folder, p.File)
	measure := []string{bin, "measure", "--json", "--target", photoset.Target(folder, p.Spec), "--mark", p.Mark, "--", path}
	var wholes, alones []float64
	for range speedRuns {
		seconds, _, err := clock(decode, path)
		if err != nil {
			return 0, 0, 0, err
		}
		alones = append(alones, seconds)
		seconds, mb, err := clock(measure[0], measure[1:]...)
		if err != nil {
			return 0, 0, 0, err
		}
		wholes, megabytes = append(wholes, seconds), max(megabytes, mb)
	}
	return stat.Quantile(wholes, 0.5), stat.Quantile(alones, 0.5), megabytes, nil
}

// clock runs a program: wall time in seconds, largest resident set in MB.
func clock(name string, args ...string) (seconds, megabytes float64, err error) {
	cmd := exec.Command(name, args...)
	start := time.Now()
	err = cmd.Run()
	seconds = time.Since(start).Seconds()
	var exit *exec.ExitError
	if err != nil && !(errors.As(err, &exit) && exit.ExitCode() == photoset.SomeNotMeasured) {
		return 0, 0, fmt.Errorf("running %s: %w", name, err)
	}
	usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		return seconds, 0, nil
	}
	return seconds, float64(usage.Maxrss) * 1024 / 1e6, nil // Linux counts in KiB
}
