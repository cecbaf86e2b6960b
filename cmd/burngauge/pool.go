package main

import (
	"context"
	"os"
	"runtime"
	"runtime/debug"

	"golang.org/x/sync/semaphore"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/photo"
	"burngauge.dev/burngauge/pkg/report"
)

// Bounds that keep the memory under 400 MB, measured as survey's peak resident set
// over 2,000 photos (scripts/throughput).
const (
	// pixelsAtOnce bounds the photos in work: 12 megapixels take about 36 MB
	// while they are looked at and twice that while they are decoded.
	pixelsAtOnce = 33e6
	// mostAtOnce bounds the photos in work where there are many cores: with more,
	// small photos would wait in memory for each other rather than be done sooner.
	mostAtOnce = 8
	// goMemory is when the garbage collector takes pains: pictures are large and
	// few, so it would otherwise let twice the memory in use pile up.
	goMemory = 150 << 20
)

// pool is where many photos are measured at the same time: one on a core, and
// together within a bound of memory.
type pool struct {
	workers  int
	settings measure.Options
	units    report.Units // of the overlays
	pixels   *semaphore.Weighted
}

// newPool is for workers photos at a time, 0: one for each core. It sets the
// whole process to that many cores, so that a photo keeps to its own.
func newPool(workers int, settings measure.Options, units report.Units) *pool {
	cores := runtime.GOMAXPROCS(0)
	if workers == 0 {
		workers = min(cores, mostAtOnce)
	}
	if workers < cores {
		runtime.GOMAXPROCS(workers)
	}
	photo.ManyAtOnce()
	if os.Getenv("GOMEMLIMIT") == "" { // who sets it knows better
		debug.SetMemoryLimit(goMemory)
	}
	return &pool{workers, settings, units, semaphore.NewWeighted(pixelsAtOnce)}
}

// measure measures one photo as measureOne does, when there is room for it.
func (p *pool) measure(path, overlay string) measured {
	room := min(photo.Pixels(path, p.settings.Limits), pixelsAtOnce)
	_ = p.pixels.Acquire(context.Background(), room) // never fails: room is within the bound
	defer p.pixels.Release(room)
	return measureOne(path, overlay, p.settings, p.units)
}
