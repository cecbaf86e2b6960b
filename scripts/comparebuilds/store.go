package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
)

// storeFormat rises when what a case does or gives changes.
const storeFormat = 1

// store keeps what a build gave for a case, as files that are named after the
// hashes of the programs and of what they were given. Nothing in it grows old: with
// other programs or photos the name is another.
type store struct{ folder string } // "": nothing is kept

func (s store) path(key string) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%d %s", storeFormat, key))
	return filepath.Join(s.folder, hex.EncodeToString(sum[:16])+".json")
}

// get gives what is kept; false when there is nothing.
func (s store) get(key string) ([]output, bool) {
	if s.folder == "" {
		return nil, false
	}
	data, err := os.ReadFile(s.path(key))
	if err != nil {
		return nil, false
	}
	var list []output
	return list, json.Unmarshal(data, &list) == nil
}

// put keeps a list. It is written whole or not at all: several comparisons may use
// one folder at a time.
func (s store) put(key string, list []output) error {
	if s.folder == "" {
		return nil
	}
	if err := os.MkdirAll(s.folder, 0o777); err != nil {
		return err
	}
	data, err := json.Marshal(list)
	if err != nil {
		return err
	}
	draft, err := os.CreateTemp(s.folder, ".draft-*")
	if err != nil {
		return err
	}
	defer os.Remove(draft.Name())
	_, err = draft.Write(data)
	if closed := draft.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	return os.Rename(draft.Name(), s.path(key))
}
