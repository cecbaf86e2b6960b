package main

import (
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/terminal"
)

// findReports reads every report in the folder and below it, each once however
// many copies there are. changed are those whose digest does not fit; wrong are
// files that say they are reports and cannot be read as such, and folders that
// cannot be looked into.
func findReports(folder string) (list []*report.Report, changed []string, wrong []error) {
	seen := map[string]bool{}
	_ = filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			wrong = append(wrong, err)
			return nil
		case entry.IsDir() && strings.HasPrefix(entry.Name(), ".") && path != folder:
			return fs.SkipDir
		case entry.IsDir() || !strings.EqualFold(filepath.Ext(path), ".json") || strings.HasPrefix(entry.Name(), ".") || !saysReport(path):
			return nil
		}
		r, err := report.ReadFile(path)
		if err != nil {
			wrong = append(wrong, err)
			return nil
		}
		if digest, err := r.Digest(); err == nil && !seen[digest] {
			seen[digest] = true
			list = append(list, r)
			if !r.DigestOK() {
				changed = append(changed, path)
			}
		}
		return nil
	})
	return list, changed, wrong
}

// mostReport bounds what is read to see what a JSON file is. A report of 2,000
// photos has 10 MB.
const mostReport = 64 << 20

// saysReport reports by a JSON file's schema whether it is meant to be a report,
// of whatever version. A broken file is none.
func saysReport(path string) bool {
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer file.Close()
	var head struct {
		Schema string `json:"schema"`
	}
	if err := json.NewDecoder(io.LimitReader(file, mostReport)).Decode(&head); err != nil {
		return false
	}
	name, _, _ := strings.Cut(report.SchemaReport, "/")
	return strings.HasPrefix(head.Schema, name+"/")
}

// ofMachine are the reports of the one machine whose name holds this text, in
// capitals or not. No text means the only machine there is.
func ofMachine(all []*report.Report, part, folder string) ([]*report.Report, error) {
	if len(all) == 0 {
		return nil, terminal.Usagef("burngauge survey FOLDER -o FOLDER/report.json", "there is no report in %s", folder)
	}
	var machines []string
	var found []*report.Report
	for _, r := range all {
		if !strings.Contains(strings.ToLower(r.Job.Machine), strings.ToLower(part)) {
			continue
		}
		found = append(found, r)
		if !slices.Contains(machines, r.Job.Machine) {
			machines = append(machines, r.Job.Machine)
		}
	}
	if exact := named(found, part); len(exact) > 0 && part != "" {
		return exact, nil
	}
	switch len(machines) {
	case 0:
		return nil, terminal.Usagef("burngauge history "+folder, "no report in %s is of a machine called %q", folder, part)
	case 1:
		return found, nil
	}
	slices.Sort(machines)
	for i, name := range machines {
		machines[i] = fmt.Sprintf("%q", name)
	}
	return nil, terminal.Usagef("burngauge history --machine NAME "+folder, "the reports are of several machines, choose one: %s", strings.Join(machines, ", "))
}

// named are the reports whose machine is called exactly so.
func named(list []*report.Report, name string) (out []*report.Report) {
	for _, r := range list {
		if r.Job.Machine == name {
			out = append(out, r)
		}
	}
	return out
}
