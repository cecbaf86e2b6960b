// Command faults shows what is known to go wrong: it changes photos of
// fixtures/photos by what a renderer draws in no set of its own, measures them, and
// prints the error beside what is stated.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"os"
	"os/exec"
	"path/filepath"

	"burngauge.dev/burngauge/pkg/photoset"
	"burngauge.dev/burngauge/pkg/report"
)

func main() {
	bin := flag.String("bin", "bin/burngauge", "burngauge to show them with")
	out := flag.String("o", "out/faults", "folder for the changed photos")
	flag.Parse()
	if err := run(*bin, "fixtures/photos", *out); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		fmt.Fprintln(os.Stderr, "hint: scripts/build bin && go run ./scripts/faults")
		os.Exit(1)
	}
}

// scene is a photo that is changed, with the burn's true place.
type scene struct {
	name, photo string
	change      func(photo *image.RGBA, t truth) image.Image
}

// truth is what fixtures/photos/truth.json says of one photo.
type truth struct {
	Photo string
	Spec  string
	Burn  *struct {
		RightMM float64 `json:"right_mm"`
		UpMM    float64 `json:"up_mm"`
		MajorMM float64 `json:"major_mm"`
	}
	CentrePx [2]float64 `json:"centre_px"`
	PxPerMM  float64    `json:"mm_px"`
}

// scenes are the known faults, one each.
var scenes = []scene{
	{"a pen's black dot beside a pale burn", "clean.jpg", penDot},
	{"a pen's stroke that touches the burn", "clean.jpg", penStroke},
	{"a gleam on the burn's edge", "clean.jpg", gleam},
	{"two targets in one photo", "clean.jpg", twoTargets},
}

func run(bin, folder, out string) error {
	truths, err := readTruth(folder)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	for i, s := range scenes {
		t := truths[s.photo]
		photo, err := readPhoto(filepath.Join(folder, s.photo))
		if err != nil {
			return err
		}
		path := filepath.Join(out, fmt.Sprintf("%d.jpg", i+1))
		if err := writePhoto(path, s.change(photo, t)); err != nil {
			return err
		}
		m, err := measure(bin, photoset.Target(folder, t.Spec), path)
		if err != nil {
			return err
		}
		fmt.Printf("%-40s %s: %s\n", s.name, path, outcome(m, t))
	}
	return nil
}

// outcome is how far off the measurement is, and what it states.
func outcome(m report.Measurement, t truth) string {
	if m.Offset == nil {
		return m.Status + ": " + m.Refusal.Code
	}
	miss := math.Hypot(m.Offset.RightMM-t.Burn.RightMM, m.Offset.UpMM-t.Burn.UpMM)
	return fmt.Sprintf("%.2f mm off, ± %.2f mm stated", miss, m.Uncertainty.RadiusMM)
}

func readTruth(folder string) (map[string]truth, error) {
	data, err := os.ReadFile(filepath.Join(folder, "truth.json"))
	if err != nil {
		return nil, err
	}
	var all struct{ Photos []truth }
	if err := json.Unmarshal(data, &all); err != nil {
		return nil, err
	}
	truths := map[string]truth{}
	for _, t := range all.Photos {
		truths[t.Photo] = t
	}
	return truths, nil
}

func readPhoto(path string) (*image.RGBA, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	decoded, err := jpeg.Decode(file)
	if err != nil {
		return nil, err
	}
	photo := image.NewRGBA(decoded.Bounds())
	draw.Draw(photo, photo.Bounds(), decoded, decoded.Bounds().Min, draw.Src)
	return photo, nil
}

func writePhoto(path string, photo image.Image) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	return errors.Join(jpeg.Encode(file, photo, &jpeg.Options{Quality: 92}), file.Close())
}

// measure runs the program on one photo. Its exit code 3 is for a refusal, which
// the JSON says too.
func measure(bin, spec, path string) (report.Measurement, error) {
	output, err := exec.Command(bin, "measure", "--json", "--target", spec, path).Output()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		return report.Measurement{}, err
	}
	var doc struct{ Measurements []report.Measurement }
	if err := json.Unmarshal(output, &doc); err != nil || len(doc.Measurements) == 0 {
		return report.Measurement{}, fmt.Errorf("%s measured nothing in %s: %v", bin, path, err)
	}
	return doc.Measurements[0], nil
}

// blend mixes a colour into the pixels within a radius of a place in px, fading over
// one pixel at the edge; share is how much of the colour.
func blend(photo *image.RGBA, x, y, radius, share float64, c color.RGBA) {
	for py := int(y - radius - 2); py <= int(y+radius+2); py++ {
		for px := int(x - radius - 2); px <= int(x+radius+2); px++ {
			a := share * min(1, max(0, radius+0.5-math.Hypot(float64(px)-x, float64(py)-y)))
			old := photo.RGBAAt(px, py)
			mix := func(from, to uint8) uint8 { return uint8(math.Round(float64(from)*(1-a) + float64(to)*a)) }
			photo.SetRGBA(px, py, color.RGBA{mix(old.R, c.R), mix(old.G, c.G), mix(old.B, c.B), 255})
		}
	}
}
