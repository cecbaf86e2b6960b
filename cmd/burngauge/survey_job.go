package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"burngauge.dev/burngauge/pkg/measure"
	"burngauge.dev/burngauge/pkg/report"
	"burngauge.dev/burngauge/pkg/survey"
	"burngauge.dev/burngauge/pkg/target"
	"burngauge.dev/burngauge/pkg/terminal"
)

// surveyHint is what to run after a wrong use of survey.
const surveyHint = "burngauge survey --help"

// surveyJob is a survey that may begin: its command line and job file are checked.
type surveyJob struct {
	*surveyOptions
	settings measure.Options
	setup    survey.Setup
	photos   []string // names in the folder, as found at first
}

// takeFolder checks the one argument.
func (o *surveyOptions) takeFolder(args []string) error {
	switch len(args) {
	case 0:
		return terminal.Usagef("burngauge survey FOLDER", "no folder given")
	case 1:
	default:
		return terminal.Usagef(surveyHint, "one folder at a time, %d were given", len(args))
	}
	o.folder = args[0]
	return checkFolder(o.folder)
}

// checkFolder wants a folder that is there.
func checkFolder(folder string) error {
	info, err := os.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return terminal.Usagef("check the name", "there is no folder %s", folder)
	case err != nil:
		return terminal.Usagef("check the name and who may read it", "the folder %s cannot be read: %w", folder, bareError(err))
	case !info.IsDir() && survey.IsPhoto(filepath.Base(folder)):
		return terminal.Usagef(fmt.Sprintf("burngauge measure %q", folder), "%s is a photo, not a folder", folder)
	case !info.IsDir():
		return terminal.Usagef(fmt.Sprintf("give the folder it lies in: %q", filepath.Dir(folder)), "%s is not a folder", folder)
	}
	return nil
}

// bareError is a file error's cause without the name, which the message has already.
func bareError(err error) error {
	if path := (*fs.PathError)(nil); errors.As(err, &path) {
		return path.Err
	}
	return err
}

// prepare checks the command line against the folder and its job file. The
// command line overrides the job file.
func (o *surveyOptions) prepare() (*surveyJob, error) {
	if o.watch && o.round > 0 {
		return nil, terminal.Usagef("keep each round in a folder of its own", "--watch and --round %d exclude each other", o.round)
	}
	if err := o.checkOutputs(); err != nil {
		return nil, err
	}
	file, err := survey.ReadJob(o.folder)
	if err != nil {
		return nil, terminal.Fail(terminal.ExitUsage, err, surveyHint)
	}
	if other := survey.MisnamedJob(o.folder); other != "" {
		o.streams.Note("%s is not read: a job file is called %s", filepath.Join(o.folder, other), survey.JobFileName)
	}
	o.fillIn(file)
	job := &surveyJob{surveyOptions: o}
	if job.settings, err = o.measuring.settings(); err != nil {
		return nil, err
	}
	if job.photos, err = survey.Photos(o.folder); err != nil {
		return nil, terminal.Usagef("check who may read it", "the folder %s cannot be read: %w", o.folder, bareError(err))
	}
	if len(job.photos) == 0 && !o.watch {
		return nil, terminal.Usagef("copy the photos there, or wait for them: burngauge survey --watch "+o.folder, "there is no photo in %s", o.folder)
	}
	job.setup, err = o.newSetup(job.settings, job.photos)
	return job, err
}

// fillIn takes from the job file what the command line leaves open.
func (o *surveyOptions) fillIn(file survey.JobFile) {
	from := jobFields(&file.Job)
	for i, field := range jobFields(&o.job) {
		if !o.given(field.name) {
			*field.to = *from[i].to
		}
	}
	if file.Target != "" && !o.given("target") {
		o.target = file.Target
		if _, builtin := target.Builtin(file.Target); !builtin && !filepath.IsAbs(file.Target) {
			o.target = filepath.Join(o.folder, file.Target)
		}
	}
	if file.LimitMM > 0 && !o.given("limit") {
		o.limitMM = file.LimitMM
	}
	if len(file.Stations) > 0 && !o.given("stations") {
		o.stations = file.Stations
	}
}

const stationsHint = "burngauge survey --stations rear-left,middle FOLDER"

// newSetup is what the report is assembled with.
func (o *surveyOptions) newSetup(settings measure.Options, photos []string) (survey.Setup, error) {
	if o.given("stations") && len(o.stations) == 0 {
		return survey.Setup{}, terminal.Usagef(stationsHint, "--stations names no station")
	}
	stations, err := survey.NewStations(o.stations...)
	if err != nil {
		return survey.Setup{}, terminal.Fail(terminal.ExitUsage, err, stationsHint)
	}
	if o.watch {
		photos = nil // they may come later
	}
	assigned, err := assignments(o.assign, stations, photos)
	if err != nil {
		return survey.Setup{}, err
	}
	limit := settings.LimitMM
	if limit == 0 {
		limit = settings.Target.InnerRadius()
	}
	return survey.Setup{Stations: stations, Assigned: assigned, Round: o.round, Report: report.Report{
		Tool: tool(), Job: o.job, Target: settings.Target, LimitMM: limit, Rule: measure.Rule,
	}}, nil
}

// assignments reads --assign. photos are those there are, nil when any name will
// do.
func assignments(list []string, stations *survey.Stations, photos []string) (map[string]string, error) {
	there := map[string]bool{}
	for _, name := range photos {
		there[name] = true
	}
	out := map[string]string{}
	for _, text := range list {
		station, photo, found := strings.Cut(text, "=")
		if !found || photo == "" {
			return nil, terminal.Usagef("burngauge survey --assign middle=IMG_0042.jpg FOLDER", "--assign %q is not STATION=PHOTO", text)
		}
		name, known := stations.Named(station)
		if !known {
			return nil, terminal.Usagef("name it in --stations, or choose one of: "+strings.Join(stations.Known(), ", "),
				"--assign %q: there is no station %q", text, station)
		}
		photo = filepath.Base(photo)
		if photos != nil && !there[photo] {
			return nil, terminal.Usagef("check the photo's name", "--assign %q: there is no photo %q in the folder", text, photo)
		}
		if before, twice := out[photo]; twice && before != name {
			return nil, terminal.Usagef(surveyHint, "--assign gives %q two stations, %s and %s", photo, before, name)
		}
		out[photo] = name
	}
	return out, nil
}

// checkOutputs finds a place that cannot be written to before the measuring and
// not after it, and saves photos from being written over.
func (o *surveyOptions) checkOutputs() error {
	if o.ndjson && o.output == "-" {
		return terminal.Usagef(surveyHint, "--ndjson and -o - exclude each other")
	}
	if o.watch && o.output == "-" {
		return terminal.Usagef("burngauge survey --watch FOLDER -o report.json", "--watch and -o - exclude each other")
	}
	if o.output != "" && o.output == o.csv {
		return terminal.Usagef(surveyHint, "the report and the CSV cannot be one file")
	}
	for _, path := range []string{o.output, o.csv} {
		if path == "" || path == "-" {
			continue
		}
		if survey.IsPhoto(filepath.Base(path)) {
			return terminal.Usagef("burngauge survey FOLDER -o report.json", "%s ends as a photo does: give the file another name", path)
		}
		if err := checkOutput(path); err != nil {
			return err
		}
	}
	return nil
}

// checkOutput wants a place that a file can be put in.
func checkOutput(path string) error {
	info, err := os.Stat(path)
	if err == nil && info.IsDir() {
		return terminal.Usagef("give a file in it: "+strconv.Quote(filepath.Join(path, "report.json")), "%s is a folder", path)
	}
	folder := filepath.Dir(path)
	if info, err = os.Stat(folder); err != nil {
		return terminal.NotWritten(fmt.Errorf("writing %s: %w", path, bareError(err)))
	}
	if !info.IsDir() {
		return terminal.NotWritten(fmt.Errorf("writing %s: %s is not a folder", path, folder))
	}
	return nil
}

// now is the time that files are dated with, in whole seconds.
// SOURCE_DATE_EPOCH stands in for the clock where files must come out the same
// each time (reproducible-builds.org).
func now() time.Time {
	if seconds, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64); err == nil {
		return time.Unix(seconds, 0).UTC()
	}
	return time.Now().Truncate(time.Second)
}
