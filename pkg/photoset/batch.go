package photoset

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// SomeNotMeasured is burngauge's exit code when some photos were refused.
const SomeNotMeasured = 3

// Batch is photos of one folder that one call of burngauge can measure.
type Batch struct {
	Folder string
	Spec   string // the target, as truth.json has it
	Mark   string
	Photos []Photo
}

// Batches groups photos by spec and mark, in the order of their first photo.
func Batches(folder string, photos []Photo) []Batch {
	var out []Batch
	place := map[[2]string]int{}
	for _, p := range photos {
		key := [2]string{p.Spec, p.Mark}
		i, known := place[key]
		if !known {
			i = len(out)
			place[key] = i
			out = append(out, Batch{Folder: folder, Spec: p.Spec, Mark: p.Mark})
		}
		out[i].Photos = append(out[i].Photos, p)
	}
	return out
}

// Split cuts batches into ones of at most so many photos.
func Split(batches []Batch, most int) []Batch {
	var out []Batch
	for _, b := range batches {
		for from := 0; from < len(b.Photos); from += most {
			part := b
			part.Photos = b.Photos[from:min(from+most, len(b.Photos))]
			out = append(out, part)
		}
	}
	return out
}

// Paths of the batch's photos.
func (b Batch) Paths() []string {
	paths := make([]string, len(b.Photos))
	for i, p := range b.Photos {
		paths[i] = filepath.Join(b.Folder, p.File)
	}
	return paths
}

// Target is the --target to measure the batch with.
func (b Batch) Target() string { return Target(b.Folder, b.Spec) }

// Measure calls the program bin on the batch and gives what it wrote and its exit
// code, which is 0 or SomeNotMeasured. Further flags go before the photos.
func (b Batch) Measure(ctx context.Context, bin string, flags ...string) (output []byte, code int, err error) {
	args := append([]string{"measure", "--json", "--target", b.Target(), "--mark", b.Mark}, flags...)
	args = append(append(args, "--"), b.Paths()...)
	output, err = exec.CommandContext(ctx, bin, args...).Output()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return output, 0, nil
	case errors.As(err, &exit) && exit.ExitCode() == SomeNotMeasured:
		return output, SomeNotMeasured, nil
	case exit != nil:
		err = fmt.Errorf("%w: %s", err, exit.Stderr)
	}
	return nil, 0, fmt.Errorf("measuring %s on %s: %w", b.Mark, b.Spec, err)
}

// Target is the --target of a spec: the YAML file of that name in the folder when
// there is one, else the built-in name.
func Target(folder, spec string) string {
	for _, name := range []string{spec, spec + ".yaml", spec + ".yml"} {
		if !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".yml") {
			continue
		}
		path := filepath.Join(folder, name)
		if _, err := os.Stat(path); err == nil {
			return path
		}
	}
	return spec
}
