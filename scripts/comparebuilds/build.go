package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
)

// The programs of a build.
const (
	burngauge  = "burngauge"
	mirrorplan = "mirrorplan"
	rehearse   = "rehearse"
	fixtures   = "fixtures"
)

// build is one side of the comparison.
type build struct {
	side string // old or new
	path map[string]string
	hash map[string]string // of each program, hexadecimal
}

// newBuild takes the programs of a folder. Where it has no program that makes
// photos, the one given takes its place.
func newBuild(side, folder, otherFixtures string) (*build, error) {
	b := &build{side: side, path: map[string]string{}, hash: map[string]string{}}
	own := false // the folder holds any of them
	for _, name := range []string{burngauge, mirrorplan, rehearse, fixtures} {
		path := filepath.Join(folder, name)
		if _, err := os.Stat(path); err == nil {
			own = true
		} else if name == fixtures && otherFixtures != "" {
			path = otherFixtures
		}
		hash, err := hashOf(path)
		if errors.Is(err, os.ErrNotExist) {
			continue // it may not be needed
		} else if err != nil {
			return nil, err
		}
		b.path[name], b.hash[name] = path, hash
	}
	if !own {
		return nil, fmt.Errorf("%s holds none of the programs: scripts/build makes them", folder)
	}
	return b, nil
}

// hashes of some of the programs, for the cache; it says which one is missing.
func (b *build) hashes(names ...string) (string, error) {
	all := ""
	for _, name := range names {
		if b.path[name] == "" {
			return "", fmt.Errorf("the %s build has no %s", b.side, name)
		}
		all += b.hash[name] + " "
	}
	return all, nil
}

// call runs one of the programs in a folder. An exit code is part of what it gave;
// an error is only that it could not be run, or was killed.
func (b *build) call(ctx context.Context, folder, name string, args ...string) (output []byte, code int, err error) {
	cmd := exec.CommandContext(ctx, b.path[name], args...)
	var said bytes.Buffer
	cmd.Dir, cmd.Stderr = folder, &said
	output, err = cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() >= 0 {
		return output, exit.ExitCode(), nil
	}
	if err != nil {
		return nil, 0, fmt.Errorf("%s of the %s build, %q: %w: %s", name, b.side, args, err, said.Bytes())
	}
	return output, 0, nil
}

// hashOf is a file's SHA-256.
func hashOf(path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, file); err != nil {
		return "", fmt.Errorf("reading %s: %w", path, err)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
