package main

import (
	"encoding/json"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"burngauge.dev/burngauge/pkg/terminal/scripted"
)

// fixtures is where the photos with known truth lie.
const fixtures = "../../fixtures/photos"

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"burngauge": main})
}

// TestCommand runs the real program as its users do; each script is one claim.
// Photos of the fixtures are in $GOOD (a burn on plain-4 that must be measured),
// $BOTH (burn and pointer) and $REFUSED (must be refused), all of them in $PHOTOS;
// $SURVEY is a folder with a round of stations.
func TestCommand(t *testing.T) {
	good, both, refused := photosByTruth(t)
	round, err := filepath.Abs("../../fixtures/survey")
	require.NoError(t, err)
	photos, err := filepath.Abs(fixtures)
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":    scripted.Exits,
			"truncate": truncate,
			"picture":  greyPicture,
			"cp-r":     copyFolder,
		},
		Setup: func(e *testscript.Env) error {
			e.Setenv("GOOD", good)
			e.Setenv("BOTH", both)
			e.Setenv("REFUSED", refused)
			e.Setenv("SURVEY", round)
			e.Setenv("PHOTOS", photos)
			return nil
		},
	})
}

// photosByTruth finds one photo of each kind by the fixtures' truth.json.
func photosByTruth(t *testing.T) (good, both, refused string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(fixtures, "truth.json"))
	require.NoError(t, err)
	var truth struct {
		Photos []struct{ Photo, Spec, Category, Expect, Mark string }
	}
	require.NoError(t, json.Unmarshal(data, &truth))
	find := func(category, expect, mark string) string {
		for _, p := range truth.Photos {
			if p.Spec == "plain-4.yaml" && p.Expect == expect && p.Mark == mark && (category == "" || p.Category == category) {
				path, err := filepath.Abs(filepath.Join(fixtures, p.Photo))
				require.NoError(t, err)
				return path
			}
		}
		require.Failf(t, "fixture missing", "no plain-4 photo with mark %s that must %s", mark, expect)
		return ""
	}
	return find("clean", "measure", "burn"), find("", "measure", "both"), find("", "refuse", "burn")
}

// cp-r FROM TO copies a folder.
func copyFolder(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(os.CopyFS(ts.MkAbs(args[1]), os.DirFS(args[0])))
}

// truncate FROM TO PERCENT: the first part of a file.
func truncate(ts *testscript.TestScript, _ bool, args []string) {
	data, err := os.ReadFile(ts.MkAbs(args[0]))
	ts.Check(err)
	percent, err := strconv.Atoi(args[2])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), data[:len(data)*percent/100], 0o666))
}

// picture FILE WIDTH HEIGHT: a grey PNG.
func greyPicture(ts *testscript.TestScript, _ bool, args []string) {
	width, err := strconv.Atoi(args[1])
	ts.Check(err)
	height, err := strconv.Atoi(args[2])
	ts.Check(err)
	grey := image.NewGray(image.Rect(0, 0, width, height))
	for i := range grey.Pix {
		grey.Pix[i] = 128
	}
	file, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	defer file.Close()
	ts.Check(png.Encode(file, grey))
}
